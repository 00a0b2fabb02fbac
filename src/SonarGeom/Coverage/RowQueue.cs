using System.Collections.Concurrent;

namespace SonarGeom.Coverage;

/// <summary>Hands out rows to threads one by one, so that none is left with many while others have done. Rows differ in work by far.</summary>
internal static class RowQueue
{
    /// <summary>Works on all rows, each once; which thread works on which changes from time to time.</summary>
    /// <param name="rows">Number of rows.</param>
    /// <param name="work">Works on one row.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static void ForEach(int rows, Action<int> work, CancellationToken cancellation) => Parallel.ForEach(
        Partitioner.Create(Enumerable.Range(0, rows), EnumerablePartitionerOptions.NoBuffering),
        new ParallelOptions { CancellationToken = cancellation },
        work);
}
