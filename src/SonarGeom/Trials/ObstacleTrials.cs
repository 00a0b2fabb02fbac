using System.Collections.Immutable;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>What trials predict of one obstacle.</summary>
/// <param name="Obstacle">The obstacle.</param>
/// <param name="Warned">Of the walks that would run into it, the share with an alert in time on the right side.</param>
/// <param name="Alerted">The share with any alert.</param>
/// <param name="WrongSide">Of the alerts that tell a side of what is clearly to one side, the share that tells the other.</param>
/// <param name="MedianWarning">Half of the alerts come longer before the touch.</param>
/// <param name="LeastWarning">95 % of the alerts come longer before the touch.</param>
/// <param name="MostWarning">5 % of the alerts come longer before the touch.</param>
/// <param name="Misses">Walks without a warning, for each cause that occurred, most frequent first.</param>
public sealed record ObstacleTrials(
    Obstacle Obstacle,
    ShareEstimate Warned,
    ShareEstimate Alerted,
    ShareEstimate WrongSide,
    TimeQuantile MedianWarning,
    TimeQuantile LeastWarning,
    TimeQuantile MostWarning,
    ImmutableArray<MissCount> Misses)
{
    internal static ObstacleTrials Of(Obstacle obstacle, ImmutableArray<ObstacleTally> outings)
    {
        var bins = new SortedDictionary<int, int>();
        foreach (ObstacleTally tally in outings)
        {
            for (int i = 0; i + 1 < tally.WarningTimes.Length; i += 2)
            {
                bins[tally.WarningTimes[i]] = bins.GetValueOrDefault(tally.WarningTimes[i]) + tally.WarningTimes[i + 1];
            }
        }

        (int, int)[] all = [.. bins.Select(b => (b.Key, b.Value))];
        double median = TimeQuantile.Of(all, TallyCounter.BinSeconds, 0.5, 1).Seconds;
        double effect = Effect(outings, median);
        return new ObstacleTrials(
            obstacle,
            ShareEstimate.Of(outings.Select(o => (o.Warned, o.Touched))),
            ShareEstimate.Of(outings.Select(o => (o.Alerted, o.Touched))),
            ShareEstimate.Of(outings.Select(o => (o.WrongSide, o.Sided))),
            TimeQuantile.Of(all, TallyCounter.BinSeconds, 0.5, effect),
            TimeQuantile.Of(all, TallyCounter.BinSeconds, 0.05, effect),
            TimeQuantile.Of(all, TallyCounter.BinSeconds, 0.95, effect),
            [
                .. Enum.GetValues<MissCause>().Select(c => new MissCount(c, outings.Sum(o => o.Misses[(int)c])))
                    .Where(m => m.Walks > 0).OrderByDescending(m => m.Walks).ThenBy(m => m.Cause),
            ]);
    }

    // By how much alerts of one outing resemble each other: from the share that comes later than the median.
    private static double Effect(ImmutableArray<ObstacleTally> outings, double median)
    {
        if (double.IsNaN(median))
        {
            return 1;
        }

        (int Late, int All)[] clusters = [.. outings.Where(o => o.Alerted > 0).Select(o => (Late(o), o.Alerted))];
        int late = clusters.Sum(c => c.Late), cases = clusters.Sum(c => c.All);
        double share = (double)late / cases, independent = share * (1 - share) * cases;

        // One outing tells nothing of what differs between outings: it counts as one alert.
        if (clusters.Length == 1)
        {
            return cases;
        }

        double between = clusters.Sum(c => (c.Late - (share * c.All)) * (c.Late - (share * c.All))) * clusters.Length / (clusters.Length - 1);
        return (independent > 0 ? Math.Max(1, between / independent) : 1) / OutingQuantile.Discount(cases, clusters.Length);

        int Late(ObstacleTally tally)
        {
            int count = 0;
            for (int i = 0; i + 1 < tally.WarningTimes.Length; i += 2)
            {
                count += tally.WarningTimes[i] * TallyCounter.BinSeconds < median ? tally.WarningTimes[i + 1] : 0;
            }

            return count;
        }
    }
}

/// <summary>How often a cause left an obstacle without a warning.</summary>
/// <param name="Cause">The cause.</param>
/// <param name="Walks">In how many walks.</param>
public sealed record MissCount(MissCause Cause, int Walks);
