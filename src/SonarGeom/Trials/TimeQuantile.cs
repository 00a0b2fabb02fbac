namespace SonarGeom.Trials;

/// <summary>A quantile of warning times with its 95 % interval; not a number without alerts.</summary>
/// <param name="Seconds">The quantile. [s]</param>
/// <param name="LowSeconds">Lower end. [s]</param>
/// <param name="HighSeconds">Upper end. [s]</param>
public readonly record struct TimeQuantile(double Seconds, double LowSeconds, double HighSeconds)
{
    private const double Quantile = 1.959964;

    /// <summary>Works out a quantile.</summary>
    /// <param name="bins">Number of a bin of warning times, and how many fell into it, in order.</param>
    /// <param name="binSeconds">Width of a bin. [s]</param>
    /// <param name="share">The quantile, above 0 and below 1. [unitless]</param>
    /// <param name="designEffect">By how much the alerts count less than independent ones, at least 1. [unitless]</param>
    /// <remarks>Distribution-free: the quantiles at <c>p ± 1.96·√(p(1 − p)/n)</c>, n the number of alerts over the design effect.</remarks>
    public static TimeQuantile Of(IReadOnlyList<(int Bin, int Count)> bins, double binSeconds, double share, double designEffect)
    {
        ArgumentNullException.ThrowIfNull(bins);
        long total = bins.Sum(b => (long)b.Count);
        if (total == 0)
        {
            return new TimeQuantile(double.NaN, double.NaN, double.NaN);
        }

        double half = Quantile * Math.Sqrt(share * (1 - share) * designEffect / total);
        return new TimeQuantile(At(share), At(Math.Max(0, share - half)), At(Math.Min(1, share + half)));

        double At(double p)
        {
            double rank = p * total;
            long below = 0;
            foreach ((int bin, int count) in bins)
            {
                if (below + count >= rank)
                {
                    return (bin + Math.Clamp((rank - below) / count, 0, 1)) * binSeconds;
                }

                below += count;
            }

            return (bins[^1].Bin + 1) * binSeconds;
        }
    }
}
