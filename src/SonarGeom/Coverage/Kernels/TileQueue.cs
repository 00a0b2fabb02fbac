namespace SonarGeom.Coverage.Kernels;

/// <summary>Hands out runs of tiles to threads. Which thread works on which tile changes from time to time; what is written for
/// a tile does not depend on it.</summary>
internal static class TileQueue
{
    /// <summary>Works on all tiles.</summary>
    /// <param name="tiles">Number of tiles.</param>
    /// <param name="atATime">Tiles in a run.</param>
    /// <param name="threads">Number of threads; 0 for as many as the processors.</param>
    /// <param name="begin">Makes the memory of a thread.</param>
    /// <param name="work">Works on the tiles from the first up to but without the second.</param>
    /// <param name="end">Takes back the memory of a thread; called by one thread at a time.</param>
    internal static void Run<TMemory>(
        int tiles, int atATime, int threads, Func<TMemory> begin, Action<int, int, TMemory> work, Action<TMemory> end)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        if (threads == 1 || tiles <= atATime)
        {
            TMemory memory = begin();
            work(0, tiles, memory);
            end(memory);
            return;
        }

        var gate = new object();
        Parallel.For(
            0,
            (tiles + atATime - 1) / atATime,
            new ParallelOptions { MaxDegreeOfParallelism = threads == 0 ? -1 : threads },
            begin,
            (run, _, memory) =>
            {
                work(run * atATime, Math.Min((run + 1) * atATime, tiles), memory);
                return memory;
            },
            memory =>
            {
                lock (gate)
                {
                    end(memory);
                }
            });
    }
}
