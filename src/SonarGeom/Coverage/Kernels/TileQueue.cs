namespace SonarGeom.Coverage.Kernels;

/// <summary>Hands out runs of tiles to threads. Which thread works on which tile changes from run to run; what is written for a
/// tile does not depend on it.</summary>
internal static class TileQueue
{
    /// <summary>Asks for the next run of tiles.</summary>
    internal delegate bool Next(out int first, out int end);

    /// <summary>Runs a worker on each thread.</summary>
    /// <param name="tiles">Number of tiles.</param>
    /// <param name="atATime">Tiles in a run.</param>
    /// <param name="threads">Number of threads; 0 for one on each processor.</param>
    /// <param name="worker">Asks for runs until there are no more.</param>
    internal static void Run(int tiles, int atATime, int threads, Action<Next> worker)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        int handedOut = 0;
        int workers = Math.Min(threads == 0 ? Environment.ProcessorCount : threads, Math.Max(1, (tiles + atATime - 1) / atATime));
        if (workers == 1)
        {
            worker(NextRun);
            return;
        }

        Parallel.For(0, workers, new ParallelOptions { MaxDegreeOfParallelism = workers }, _ => worker(NextRun));

        bool NextRun(out int first, out int end)
        {
            first = Interlocked.Add(ref handedOut, atATime) - atATime;
            end = Math.Min(first + atATime, tiles);
            return first < tiles;
        }
    }
}
