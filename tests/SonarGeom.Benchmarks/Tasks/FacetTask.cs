using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>
/// The echo of a finely divided pole: 200 000 facets, 64 frequencies, four sensors, facets that face away included. Reads
/// <c>t3_facets.bin</c> (seven 32-bit numbers for each facet: centre, outward normal, area) and phase 0 of <c>t2_poses.csv</c>, and
/// compares with <c>t3_ref.csv</c> when it is there.
/// </summary>
public static class FacetTask
{
    private const double SoundSpeed = 343.2;

    /// <summary>Runs the task on one thread and on two and writes a line for each.</summary>
    /// <param name="dataFolder">The folder of the inputs.</param>
    /// <param name="output">Takes the lines.</param>
    public static void Run(string dataFolder, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(output);
        byte[] bytes = File.ReadAllBytes(Path.Combine(dataFolder, "t3_facets.bin"));
        FacetCloud cloud = FacetCloud.FromRecords(MemoryMarshal.Cast<byte, float>(bytes));
        var band = new FrequencyBand(35_000, 156.25, 64);
        FacetMedium medium = FacetMedium.Uniform(SoundSpeed, 1.3);
        FacetSensor[] sensors = ReadSensors(Path.Combine(dataFolder, "t2_poses.csv"), medium);
        FacetBandPlan[][] plans = [.. sensors.Select(_ => FacetBandPlan.All(band, medium))];
        var sums = new Complex[sensors.Length * band.Count];
        double work = (double)sums.Length * cloud.Count * 1e-6;
        foreach (int threads in new[] { 1, 2 })
        {
            Timing timing = Timing.Of(() => FacetSum.Sum(cloud, sensors, plans, band.Count, threads, sums), repetitions: 25);
            string check = Check(sums, band, Path.Combine(dataFolder, "t3_ref.csv"));
            new TaskLine("T3", "4x64x200k", threads, "Mfacet-freq/s", check).WriteRate(output, timing, work);
        }
    }

    private static FacetSensor[] ReadSensors(string path, FacetMedium medium)
    {
        var sensors = new List<FacetSensor>();
        foreach (string line in File.ReadLines(path).Skip(1))
        {
            double[] v = [.. line.Split(',').Select(text => double.Parse(text, CultureInfo.InvariantCulture))];
            if (v[1] == 0)
            {
                var axis = new Vec3(v[8], v[9], v[10]);
                Vec3 left = new Vec3(-axis.Y, axis.X, 0).Normalized();
                sensors.Add(new FacetSensor(
                    new Vec3(v[2], v[3], v[4]),
                    new Vec3(v[5], v[6], v[7]),
                    new Rotation(axis, left, axis.Cross(left)),
                    new CircularPiston(0.007),
                    new CircularPiston(0.006),
                    medium));
            }
        }

        return [.. sensors];
    }

    private static string Check(Complex[] sums, FrequencyBand band, string referencePath)
    {
        // The other programs count time the other way round: their phases are the conjugates.
        Complex[] echoes = [.. sums.Select((sum, i) => Complex.Conjugate(sum) * band.Hertz(i % band.Count) / SoundSpeed)];
        double energy = echoes.Sum(echo => (echo.Real * echo.Real) + (echo.Imaginary * echo.Imaginary));
        Complex first = echoes[0];
        Complex last = echoes[^1];
        string check = string.Create(
            CultureInfo.InvariantCulture,
            $"energy={energy:G6} H0_0={first.Real:G6}{first.Imaginary:+0.######;-0.######}i H3_63={last.Real:G6}{last.Imaginary:+0.######;-0.######}i");
        if (!File.Exists(referencePath))
        {
            return check;
        }

        Complex[] reference =
        [
            .. File.ReadLines(referencePath).Skip(1).Select(line => line.Split(',')).Select(v => new Complex(
                double.Parse(v[2], CultureInfo.InvariantCulture), double.Parse(v[3], CultureInfo.InvariantCulture))),
        ];
        double worst = 0.0;
        for (int s = 0; s < echoes.Length / band.Count; s++)
        {
            var range = Enumerable.Range(s * band.Count, band.Count);
            worst = Math.Max(worst, range.Max(i => (echoes[i] - reference[i]).Magnitude) / range.Max(i => reference[i].Magnitude));
        }

        return string.Create(CultureInfo.InvariantCulture, $"{check} err={worst:0.0e+0}");
    }
}
