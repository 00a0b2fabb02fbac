using System.Diagnostics;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>Times of repeated runs of the same work.</summary>
/// <param name="MedianSeconds">Median wall time of one run. [s]</param>
/// <param name="BestSeconds">Shortest wall time of one run. [s]</param>
/// <param name="ProcessorSeconds">Mean processor time of the whole process, all its threads, for one run. [s]</param>
public readonly record struct Timing(double MedianSeconds, double BestSeconds, double ProcessorSeconds)
{
    /// <summary>Runs work until it is compiled at full optimisation, then measures it.</summary>
    /// <param name="work">The work.</param>
    /// <param name="repetitions">Number of measured runs.</param>
    /// <param name="warmUpSeconds">Least time spent warming up. [s]</param>
    public static Timing Of(Action work, int repetitions = 9, double warmUpSeconds = 1.0)
    {
        var clock = Stopwatch.StartNew();
        int warmUps = 0;
        do
        {
            work();
            warmUps++;
        }
        while (clock.Elapsed.TotalSeconds < warmUpSeconds || warmUps < 2);

        // Lets the compiler's background thread finish, so that none of its time is counted.
        Thread.Sleep(250);
        work();

        var seconds = new double[repetitions];
        GC.Collect();
        TimeSpan processorBefore = Environment.CpuUsage.TotalTime;
        for (int i = 0; i < repetitions; i++)
        {
            long start = Stopwatch.GetTimestamp();
            work();
            seconds[i] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        double processor = (Environment.CpuUsage.TotalTime - processorBefore).TotalSeconds / repetitions;
        Array.Sort(seconds);
        return new Timing(seconds[repetitions / 2], seconds[0], processor);
    }
}
