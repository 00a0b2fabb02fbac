using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Echoes;

/// <summary>How much of a sound path is free.</summary>
/// <remarks>
/// A path is a spheroid, not a line: the first Fresnel zone of radius <c>√(λ d₁d₂/(d₁+d₂))</c>. Bent rays through equal areas of that
/// zone are tested, in a pattern that is its own mirror image; the amplitude is the share that is free. A straight screen up to the
/// axis leaves one half (−6 dB, as Fresnel's theory has it), a blocker narrower than the zone attenuates and never blanks, and a
/// blocker that covers the whole zone blanks: what bends round it, 16 dB down and less, is not counted.
/// </remarks>
public static class Occlusion
{
    /// <summary>Fractions of the leg at which the bent rays turn.</summary>
    private static readonly double[] Stations = [0.15, 0.5, 0.85];

    private const int Rings = 4;
    private const int RaysPerRing = 8;
    private const int BentRays = Rings * RaysPerRing;
    private const double BorderRadians = 0.05;

    // More than any rounding of rays and boxes.
    private const double BoxSlackMetres = 1e-5;

    /// <summary>The far end of each leg that is not looked at: the target's own surface. [m]</summary>
    private const double TargetGapMetres = 0.02;

    /// <summary>Returns the free share of the first Fresnel zone between two points, 0 to 1: the amplitude that gets through.</summary>
    /// <param name="scene">What may be in the way.</param>
    /// <param name="fromMetres">Start. [m]</param>
    /// <param name="toMetres">End. [m]</param>
    /// <param name="wavelengthMetres">The wavelength, above 0. [m]</param>
    /// <param name="nearGapMetres">Distance from the start within which nothing is looked at. [m]</param>
    /// <param name="farGapMetres">Distance from the end within which nothing is looked at. [m]</param>
    public static double FreeShare(
        IRayScene scene, Vec3 fromMetres, Vec3 toMetres, double wavelengthMetres, double nearGapMetres = 0, double farGapMetres = TargetGapMetres)
    {
        ArgumentNullException.ThrowIfNull(scene);
        Vec3 leg = toMetres - fromMetres;
        double length = leg.Length;
        if (!(length > nearGapMetres + farGapMetres))
        {
            return 1;
        }

        if (IsSurelyFree(scene, fromMetres, leg / length, length, wavelengthMetres, nearGapMetres, farGapMetres))
        {
            return 1;
        }

        // Cross axes: level to the left, and up; the pattern is symmetric in both, so mirrored scenes give mirrored results.
        Vec3 along = leg / length;
        Vec3 left = Vec3.UnitZ.Cross(along);
        left = left.LengthSquared > 1e-12 ? left.Normalized() : Vec3.UnitY;
        Vec3 up = along.Cross(left);
        Span<Vec3> across = stackalloc Vec3[BentRays];
        Span<bool> isFree = stackalloc bool[BentRays];
        for (int ring = 0; ring < Rings; ring++)
        {
            // Three rings of equal area, and a light one on the border, close to the axes: what leaves any border free never blanks.
            bool isBorder = ring == Rings - 1;
            double radius = isBorder ? 1 : Math.Sqrt(((2 * ring) + 1) / 6.0);
            for (int i = 0; i < RaysPerRing; i++)
            {
                double angle = isBorder ? ((i >> 1) * Math.PI / 2) + ((i & 1) == 0 ? BorderRadians : -BorderRadians) : (i + 0.5) * Math.PI / 4;
                var (s, c) = Math.SinCos(angle);
                across[(ring * RaysPerRing) + i] = radius * ((c * left) + (s * up));
            }
        }

        KeepFree(scene, fromMetres, along, length, across, isFree, wavelengthMetres, nearGapMetres, farGapMetres);
        double free = 0;
        double all = 0;
        for (int i = 0; i < BentRays; i++)
        {
            double weight = i / RaysPerRing == Rings - 1 ? 0.25 : 1;
            all += weight;
            free += isFree[i] ? weight : 0;
        }

        return free / all;
    }

    /// <summary>Returns the loss of an echo out to a glint and back, 0 or negative; −300 when blanked. [dB]</summary>
    /// <param name="scene">What may be in the way, or null for nothing.</param>
    /// <param name="sensor">The sensor.</param>
    /// <param name="glintMetres">The point that answers. [m]</param>
    /// <param name="nearGapMetres">Distance from the transducers within which nothing is looked at. [m]</param>
    public static double EchoLossDecibels(IRayScene? scene, SensorAtPose sensor, Vec3 glintMetres, double nearGapMetres = 0)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        if (scene is null)
        {
            return 0;
        }

        double wavelength = 2 * Math.PI / sensor.Prepared.WavenumberRadiansPerMetre;
        double share = FreeShare(scene, sensor.TransmitterMetres, glintMetres, wavelength, nearGapMetres);
        if (share > 0)
        {
            share *= sensor.TransmitterMetres == sensor.ReceiverMetres
                ? share
                : FreeShare(scene, sensor.ReceiverMetres, glintMetres, wavelength, nearGapMetres);
        }

        return share > 0 ? 20 * Math.Log10(share) : PartEcho.SilentDecibels;
    }

    // Looks at boxes round all bent rays, piece by piece, before any ray.
    private static bool IsSurelyFree(IRayScene scene, Vec3 from, Vec3 along, double length, double wavelength, double nearGap, double farGap)
    {
        ReadOnlySpan<double> ends = [0, 0.25 * Stations[0], 0.5 * Stations[0], Stations[0], Stations[1], Stations[2], 1];

        // No ray leans against the leg by more than the first and the last piece do.
        double lean = Stations[0] * length / Math.Sqrt((Stations[0] * Stations[0] * length * length) + ZoneRadius2(wavelength, length, Stations[0]));
        double first = Math.Min(nearGap * lean, Stations[0] * length), last = length - Math.Min(farGap * lean, (1 - Stations[^1]) * length);
        for (int i = ends.Length - 2; i >= 0; i--)
        {
            double begin = Math.Max(ends[i] * length, first), end = Math.Min(ends[i + 1] * length, last);
            if (!(begin < end))
            {
                continue;
            }

            double radius = Math.Sqrt(Math.Max(BentRadius2(wavelength, length, begin / length), BentRadius2(wavelength, length, end / length))) + BoxSlackMetres;
            var round = new Vec3(Across(radius, along.X), Across(radius, along.Y), Across(radius, along.Z));
            Vec3 a = from + (begin * along), b = from + (end * along);
            var low = new Vec3(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Min(a.Z, b.Z));
            var high = new Vec3(Math.Max(a.X, b.X), Math.Max(a.Y, b.Y), Math.Max(a.Z, b.Z));
            if (!scene.IsClear(low - round, high + round))
            {
                return false;
            }
        }

        return true;
    }

    private static double ZoneRadius2(double wavelength, double length, double fraction) => wavelength * fraction * (1 - fraction) * length;

    // How far the bent rays are from the leg, squared: straight from station to station.
    private static double BentRadius2(double wavelength, double length, double fraction)
    {
        double before = 0, radius = 0;
        foreach (double station in Stations)
        {
            double there = Math.Sqrt(ZoneRadius2(wavelength, length, station));
            if (fraction <= station)
            {
                double here = radius + ((there - radius) * (fraction - before) / (station - before));
                return here * here;
            }

            (before, radius) = (station, there);
        }

        double left = radius * (1 - fraction) / (1 - before);
        return left * left;
    }

    // Half the extent of a disc along an axis that its normal has this component along.
    private static double Across(double radius, double component) => (radius * Math.Sqrt(Math.Max(0, 1 - (component * component)))) + BoxSlackMetres;

    // Follows all bent rays from station to station, those that are still free.
    private static void KeepFree(
        IRayScene scene, Vec3 from, Vec3 along, double length, ReadOnlySpan<Vec3> across, Span<bool> isFree, double wavelength, double nearGap, double farGap)
    {
        Span<Vec3> here = stackalloc Vec3[BentRays];
        Span<Ray> rays = stackalloc Ray[BentRays];
        Span<int> numbers = stackalloc int[BentRays];
        Span<bool> hits = stackalloc bool[BentRays];
        isFree.Fill(true);
        here.Fill(from);
        for (int station = 0; station <= Stations.Length; station++)
        {
            int count = 0;
            for (int i = 0; i < BentRays; i++)
            {
                if (!isFree[i])
                {
                    continue;
                }

                Vec3 next;
                if (station == Stations.Length)
                {
                    next = from + (length * along);
                }
                else
                {
                    double f = Stations[station];
                    next = from + (f * length * along) + (Math.Sqrt(ZoneRadius2(wavelength, length, f)) * across[i]);
                }

                Vec3 step = next - here[i];
                double size = step.Length;
                double start = station == 0 ? nearGap : 0;
                double end = station == Stations.Length ? size - farGap : size;
                if (end > start)
                {
                    rays[count] = new Ray(here[i], step / size, start, end);
                    numbers[count++] = i;
                }

                here[i] = next;
            }

            scene.AnyHits(rays[..count], hits);
            for (int i = 0; i < count; i++)
            {
                isFree[numbers[i]] = !hits[i];
            }
        }
    }
}
