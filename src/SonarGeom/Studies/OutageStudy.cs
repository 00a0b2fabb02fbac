using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;

namespace SonarGeom.Studies;

/// <summary>Takes each sensor away in turn, dead or covered by a coat, scarf or hair.</summary>
public static class OutageStudy
{
    /// <summary>
    /// Two-way loss assumed for a sensor under cloth or hair. An assumption: no trustworthy figure at 40 kHz was found; thin woven
    /// cloth may be almost transparent, thick wool or wet cloth nearly opaque. [dB]
    /// </summary>
    public const double CoverLossDecibels = 12;

    /// <summary>Returns what is left with each sensor dead, then with each sensor covered.</summary>
    /// <param name="board">The verdicts of the whole layout.</param>
    public static ImmutableArray<SensorOutage> Of(VerdictBoard board)
    {
        ArgumentNullException.ThrowIfNull(board);
        ImmutableArray<bool> before = board.WarnedInTime();
        ImmutableArray<SensorPlacement> sensors = board.Layout.Layout.Sensors;
        var outages = ImmutableArray.CreateBuilder<SensorOutage>();
        for (int s = 0; s < sensors.Length; s++)
        {
            outages.Add(Compare(sensors[s].Name, false, double.PositiveInfinity, before, board.WithLoss(s, double.PositiveInfinity)));
            outages.Add(Compare(sensors[s].Name, true, CoverLossDecibels, before, board.WithLoss(s, CoverLossDecibels)));
        }

        return outages.ToImmutable();
    }

    private static SensorOutage Compare(string sensor, bool covered, double loss, ImmutableArray<bool> before, VerdictBoard board)
    {
        ImmutableArray<bool> after = board.WarnedInTime();
        return new(
            sensor, covered, loss,
            [.. Enumerable.Range(0, after.Length).Where(i => before[i] && !after[i]).Select(i => board.ObstacleAt(i).Id)],
            after.Count(isWarned => isWarned));
    }
}
