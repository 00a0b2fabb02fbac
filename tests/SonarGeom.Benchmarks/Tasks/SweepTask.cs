using System.Collections.Immutable;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Studies;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>T4: 1000 layouts of 4 of 480 candidate mountings, 16 stride phases, 50,000 cells.</summary>
internal static class SweepTask
{
    private const string Case = "1000 layouts";
    private const int RequiredPhases = 12;

    /// <summary>Runs the task on one thread and on all processors: everything from the poses to the scores.</summary>
    internal static void Run(string folder, TextWriter writer)
    {
        FieldLattice lattice = FieldFiles.Lattice(80, 25, 25, 0.0625, 0.16, 0.088);
        ImmutableArray<FieldTrack> mountings = FieldFiles.Tracks(Path.Combine(folder, "t4_pool.csv"));
        ImmutableArray<ImmutableArray<int>> layouts = FieldFiles.Layouts(Path.Combine(folder, "t4_layouts.csv"));
        for (int threads = 1; threads <= Environment.ProcessorCount; threads++)
        {
            int count = threads;
            ImmutableArray<int> scores = [];
            LayoutSweep? sweep = null;
            Timing timing = Timing.Of(() =>
            {
                sweep = new LayoutSweep(lattice, mountings, RequiredPhases, count);
                scores = sweep.CoveredCells(layouts, count);
            });
            int best = scores.IndexOf(scores.Max());
            double share = sweep!.Masks.Sum(masks => (double)masks.Evaluations) / ((double)mountings.Length * mountings[0].Phases.Length * lattice.Cells);
            string check = $"sumscore={scores.Sum(score => (long)score)} best={best} bestscore={scores[best]} evaluated={share:F3}";
            new TaskLine("T4", Case, threads, "s", check).WriteSeconds(writer, timing);
        }
    }
}
