using System.Runtime.ExceptionServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A few threads that build one tree together: ranges are cut into pieces, and whoever is free takes the next piece. Helpers
/// go on looking for a while before they fall asleep, since ranges of tenths of milliseconds follow one another. One thread
/// hands the work out and takes part; it never waits for a helper that has not begun.
/// </summary>
internal sealed class WorkCrew : IDisposable
{
    private const int LooksBeforeSleep = 400;

    private readonly object _sleep = new();
    private volatile Job? _job;
    private volatile bool _isOver;
    private int _sleepers;

    /// <summary>Starts the helpers.</summary>
    /// <param name="threads">The number of threads, the caller's included.</param>
    public WorkCrew(int threads)
    {
        Threads = threads;
        for (int i = 1; i < threads; i++)
        {
            _ = Task.Run(Help);
        }
    }

    /// <summary>Gets the number of threads that start without delay: one for each processor, unless set otherwise.</summary>
    public static int ThreadsAtHand
    {
        get
        {
            ThreadPool.GetMinThreads(out int threads, out _);
            return threads;
        }
    }

    /// <summary>Gets the number of threads, the caller's included.</summary>
    public int Threads { get; }

    /// <summary>Works on a range piece by piece, and returns when all of it is done.</summary>
    /// <param name="count">The length of the range.</param>
    /// <param name="size">The length of a piece.</param>
    /// <param name="work">Takes the start of a piece and its end.</param>
    public void ForEach(int count, int size, Action<int, int> work)
    {
        if (Threads == 1 || count <= size)
        {
            for (int first = 0; first < count; first += size)
            {
                work(first, Math.Min(count, first + size));
            }

            return;
        }

        Job job = new(count, size, work);
        _job = job;
        WakeAll();
        job.TakePieces();
        job.WaitUntilDone();
    }

    /// <summary>Lets the helpers go.</summary>
    public void Dispose()
    {
        _isOver = true;
        WakeAll();
    }

    private void WakeAll()
    {
        Interlocked.MemoryBarrier();
        if (_sleepers > 0)
        {
            lock (_sleep)
            {
                Monitor.PulseAll(_sleep);
            }
        }
    }

    private void Help()
    {
        Job? done = null;
        while (WaitForOtherThan(done) is Job job)
        {
            job.TakePieces();
            done = job;
        }
    }

    private Job? WaitForOtherThan(Job? done)
    {
        SpinWait spin = default;
        for (int looks = 0; _job == done && !_isOver; looks++)
        {
            if (looks < LooksBeforeSleep)
            {
                spin.SpinOnce(sleep1Threshold: -1);
                continue;
            }

            lock (_sleep)
            {
                _ = Interlocked.Increment(ref _sleepers);
                while (_job == done && !_isOver)
                {
                    _ = Monitor.Wait(_sleep);
                }

                _ = Interlocked.Decrement(ref _sleepers);
            }
        }

        return _isOver ? null : _job;
    }

    private sealed class Job(int count, int size, Action<int, int> work)
    {
        private readonly int _pieces = ((count - 1) / size) + 1;
        private int _taken;
        private int _done;
        private ExceptionDispatchInfo? _fault;

        public void TakePieces()
        {
            while (true)
            {
                int piece = Interlocked.Increment(ref _taken) - 1;
                if (piece >= _pieces)
                {
                    return;
                }

                try
                {
                    work(piece * size, Math.Min(count, (piece + 1) * size));
                }
                catch (Exception fault) when (Keep(fault))
                {
                }

                _ = Interlocked.Increment(ref _done);
            }
        }

        public void WaitUntilDone()
        {
            SpinWait spin = default;
            while (Volatile.Read(ref _done) < _pieces)
            {
                spin.SpinOnce(sleep1Threshold: -1);
            }

            _fault?.Throw();
        }

        // Told by the thread that hands the work out.
        private bool Keep(Exception fault)
        {
            _ = Interlocked.CompareExchange(ref _fault, ExceptionDispatchInfo.Capture(fault), null);
            return true;
        }
    }
}
