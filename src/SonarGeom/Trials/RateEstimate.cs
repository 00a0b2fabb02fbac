namespace SonarGeom.Trials;

/// <summary>How often something happens in a minute, with its 95 % interval.</summary>
/// <param name="Count">How often it happened.</param>
/// <param name="Seconds">In what time. [s]</param>
/// <param name="PerMinute">How often in a minute. [1/min]</param>
/// <param name="LowPerMinute">Lower end. [1/min]</param>
/// <param name="HighPerMinute">Upper end. [1/min]</param>
public readonly record struct RateEstimate(int Count, double Seconds, double PerMinute, double LowPerMinute, double HighPerMinute)
{
    /// <summary>Works out the rate from outings that are independent of each other.</summary>
    /// <param name="clusters">Count and time of each outing.</param>
    /// <remarks>Interval of Student's t over outings with the larger of the variance between outings and that of a Poisson count; without any
    /// event the upper end is 3.69 events, the exact two-sided bound. A single outing has the normal interval of its count, which tells
    /// nothing of other outings.</remarks>
    public static RateEstimate Of(IEnumerable<(int Count, double Seconds)> clusters)
    {
        const double Normal = 1.959964, NoneButPossible = 3.689;
        (int Count, double Seconds)[] all = [.. clusters];
        int count = all.Sum(c => c.Count);
        double seconds = all.Sum(c => c.Seconds);
        if (!(seconds > 0))
        {
            return new RateEstimate(0, 0, 0, 0, double.PositiveInfinity);
        }

        double rate = count / seconds;
        double variance = count;
        if (all.Length > 1)
        {
            variance = Math.Max(variance, all.Sum(c => Math.Pow(c.Count - (rate * c.Seconds), 2)) * all.Length / (all.Length - 1));
        }

        double half = (all.Length > 1 ? OutingQuantile.Of(all.Length) : Normal) * Math.Sqrt(variance);
        double high = Math.Max(count + half, NoneButPossible);
        return new RateEstimate(count, seconds, 60 * rate, 60 * Math.Max(0, count - half) / seconds, 60 * high / seconds);
    }
}
