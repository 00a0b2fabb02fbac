using System.Collections.Immutable;
using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>Predicted trials: many walks of a wearer through a set of obstacles, outing by outing, on all processors.</summary>
/// <remarks>Every outing follows from the seed and its number alone: the result is the same for any number of threads, and after any
/// interruption.</remarks>
public static class TrialEngine
{
    /// <summary>Walks.</summary>
    /// <param name="course">What is walked, by whom.</param>
    /// <param name="layouts">One layout, or several that are compared walk by walk.</param>
    /// <param name="done">Outings that were finished before, of the same course and layouts; they are not walked again.</param>
    /// <param name="workers">How many outings are walked at a time, at least 1; each takes some tens of megabytes.</param>
    /// <param name="finished">Told of each outing as it ends, from any thread, one at a time; or null.</param>
    /// <param name="cancellation">Stops the work between two walks.</param>
    /// <exception cref="ArgumentException">There is no layout, or a mount is impossible.</exception>
    public static TrialReport Run(
        TrialCourse course, ImmutableArray<SensorLayout> layouts, IEnumerable<OutingTally>? done = null,
        Action<OutingTally>? finished = null, int workers = 2, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentOutOfRangeException.ThrowIfLessThan(workers, 1);
        if (layouts.IsDefaultOrEmpty)
        {
            throw new ArgumentException("Trials need a layout.", nameof(layouts));
        }

        var tallies = new OutingTally?[course.Settings.Outings];
        foreach (OutingTally tally in done ?? [])
        {
            if (tally.Outing >= 0 && tally.Outing < tallies.Length)
            {
                tallies[tally.Outing] = tally;
            }
        }

        int[] left = [.. Enumerable.Range(0, tallies.Length).Where(i => tallies[i] is null)];
        var gate = new Lock();
        int next = -1;
        var options = new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = workers };

        // Each worker takes the next outing: those of a low number are done first, and no more than that are open at a time.
        Parallel.For(0, left.Length, options, _ =>
        {
            int number = left[Interlocked.Increment(ref next)];
            OutingTally tally = OutingRunner.Run(course, layouts, number, cancellation);
            lock (gate)
            {
                tallies[number] = tally;
                finished?.Invoke(tally);
            }

            // An outing leaves tens of megabytes of surfaces behind, which the collector would let pile up over the run.
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Forced, blocking: true);
        });
        return TrialReport.Of(course, layouts, [.. tallies.Select(t => t!)]);
    }
}
