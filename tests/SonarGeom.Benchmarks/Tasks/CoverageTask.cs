using System.Runtime.InteropServices;
using SonarGeom.Coverage.Kernels;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>T2: coverage of 1,000,000 cells by 4 sensors at 16 stride phases.</summary>
internal static class CoverageTask
{
    private const string Case = "4x16x1e6";
    private const double EvaluationsEach = 64;
    private const float FloorDecibels = -60;

    /// <summary>Runs the task on one thread and on all processors.</summary>
    internal static void Run(string folder, TextWriter writer)
    {
        FieldLattice lattice = FieldFiles.Lattice(160, 125, 50, 0.03125, 0.032, 0.044);
        var field = new CoverageField(lattice, FieldFiles.Tracks(Path.Combine(folder, "t2_poses.csv")));
        var counts = new byte[lattice.Cells];
        var margins = new float[lattice.Cells];
        for (int threads = 1; threads <= Environment.ProcessorCount; threads++)
        {
            int count = threads;
            long evaluations = 0;
            Timing timing = Timing.Of(() => evaluations = field.Evaluate(counts, margins, count));
            string check = Check(counts, margins) + Difference(folder, counts, margins)
                + $" evaluated={evaluations / (EvaluationsEach * lattice.Cells):F3}";
            new TaskLine("T2", Case, threads, "Mevals/s", check).WriteRate(writer, timing, EvaluationsEach * lattice.Cells / 1e6);
        }
    }

    private static string Check(byte[] counts, float[] margins)
    {
        long sum = counts.Sum(count => (long)count);
        int covered = counts.Count(count => count > 0);
        double levels = margins.Sum(margin => (double)Math.Max(margin + (float)FieldFiles.ThresholdDecibels, FloorDecibels));
        return $"sumcov={sum} covered={covered} sumL={levels:F1}";
    }

    /// <summary>Compares cell by cell with a reference in double precision, where its files are in the folder.</summary>
    private static string Difference(string folder, byte[] counts, float[] margins)
    {
        string countsPath = Path.Combine(folder, "t2_ref_cov.bin");
        string levelsPath = Path.Combine(folder, "t2_ref_lmax.bin");
        if (!File.Exists(countsPath) || !File.Exists(levelsPath))
        {
            return string.Empty;
        }

        byte[] referenceCounts = File.ReadAllBytes(countsPath);
        ReadOnlySpan<float> referenceLevels = MemoryMarshal.Cast<byte, float>(File.ReadAllBytes(levelsPath));
        int different = 0;
        double largest = 0;
        for (int i = 0; i < counts.Length; i++)
        {
            different += counts[i] != referenceCounts[i] ? 1 : 0;
            if (referenceLevels[i] > FloorDecibels)
            {
                largest = Math.Max(largest, Math.Abs(margins[i] + (float)FieldFiles.ThresholdDecibels - referenceLevels[i]));
            }
        }

        return $" covdiff={different} maxdB={largest:g2}";
    }
}
