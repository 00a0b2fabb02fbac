namespace SonarGeom.Coverage;

/// <summary>Hands out rows to threads one by one, so that none is left with many while others have done. Rows differ in work by far.</summary>
internal static class RowQueue
{
    /// <summary>Works on all rows, each once; which thread works on which changes from time to time.</summary>
    /// <param name="rows">Number of rows.</param>
    /// <param name="work">Works on one row.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static void ForEach(int rows, Action<int> work, CancellationToken cancellation)
    {
        int next = -1;
        Parallel.For(0, Math.Min(rows, Environment.ProcessorCount), new ParallelOptions { CancellationToken = cancellation }, _ =>
        {
            for (int row = Interlocked.Increment(ref next); row < rows; row = Interlocked.Increment(ref next))
            {
                cancellation.ThrowIfCancellationRequested();
                work(row);
            }
        });
    }
}
