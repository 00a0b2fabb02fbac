using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;

namespace SonarGeom.Studies;

/// <summary>What of an earlier burst, or of a neighbour's, a sensor can take for an echo of its own.</summary>
public enum FalseReportKind
{
    /// <summary>The echo of an earlier burst of the same sensor.</summary>
    Ghost,

    /// <summary>A neighbour's burst that comes back from a wall.</summary>
    CrosstalkByWall,

    /// <summary>A neighbour's burst that comes straight across.</summary>
    CrosstalkDirect,
}

/// <summary>One way to a false report under a firing schedule.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Listener">The sensor that would report it.</param>
/// <param name="Sender">The sensor whose burst it is.</param>
/// <param name="Margin">Where it seems to be, and how far it stays below the threshold.</param>
public sealed record FalseReport(FalseReportKind Kind, string Listener, string Sender, FiringMargin Margin);

/// <summary>A layout's firing schedule and the false reports that it allows.</summary>
/// <param name="Schedule">The schedule.</param>
/// <param name="FalseReports">The nearest things to a false report, the worst first; none where nothing can be heard.</param>
/// <param name="Sentence">What follows from them.</param>
public sealed record FiringReading(FiringSchedule Schedule, ImmutableArray<FalseReport> FalseReports, string Sentence)
{
    /// <summary>Gets the smallest margin: below 0 a large wall at the worst place causes false reports; infinite when nothing can be heard. [dB]</summary>
    public double SmallestMarginDecibels => FalseReports.IsEmpty ? double.PositiveInfinity : FalseReports[0].Margin.MarginDecibels;
}

/// <summary>Judges the firing plan of a layout: ghosts of earlier bursts and crosstalk between neighbours.</summary>
public static class FiringStudy
{
    /// <summary>Judges a layout.</summary>
    /// <param name="posed">The layout on its wearer.</param>
    /// <exception cref="ArgumentException">The cycle is too short for the listening windows.</exception>
    public static FiringReading Of(PosedLayout posed)
    {
        ArgumentNullException.ThrowIfNull(posed);
        var schedule = FiringSchedule.Of(posed.Layout);
        return Of(posed.Layout, schedule, new FiringMargins(FiringCoupling.Of(posed), posed.Medium.SoundSpeedMetresPerSecond));
    }

    /// <summary>Judges a schedule by margins that are prepared.</summary>
    /// <param name="layout">The layout.</param>
    /// <param name="schedule">Its schedule.</param>
    /// <param name="margins">How its sensors hear each other.</param>
    public static FiringReading Of(SensorLayout layout, FiringSchedule schedule, FiringMargins margins)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(schedule);
        ArgumentNullException.ThrowIfNull(margins);
        ImmutableArray<FalseReport> all =
        [
            .. margins.ByWalls(schedule).Select(m => Told(m.Listener == m.Sender ? FalseReportKind.Ghost : FalseReportKind.CrosstalkByWall, m))
                .Concat(margins.Direct(schedule).Select(m => Told(FalseReportKind.CrosstalkDirect, m)))
                .Where(r => double.IsFinite(r.Margin.MarginDecibels)).OrderBy(r => r.Margin.MarginDecibels),
        ];
        return new FiringReading(schedule, all, Sentence(all));

        FalseReport Told(FalseReportKind kind, FiringMargin m) => new(kind, layout.Sensors[m.Listener].Name, layout.Sensors[m.Sender].Name, m);
    }

    /// <summary>Returns a kind of false report in words.</summary>
    /// <param name="kind">The kind.</param>
    public static string InWords(FalseReportKind kind) => kind switch
    {
        FalseReportKind.Ghost => "ghost of an earlier burst",
        FalseReportKind.CrosstalkByWall => "crosstalk by a wall",
        _ => "crosstalk straight across",
    };

    private static string Sentence(ImmutableArray<FalseReport> all)
    {
        if (all.IsEmpty)
        {
            return "No earlier burst and no neighbour's can be heard while a sensor listens.";
        }

        FalseReport worst = all[0];
        string what = worst.Kind switch
        {
            FalseReportKind.Ghost => $"{worst.Listener} takes a large wall at {worst.Margin.TrueRangeMetres:0.0} m for one at {worst.Margin.ApparentRangeMetres:0.0} m",
            FalseReportKind.CrosstalkByWall => $"{worst.Listener} takes what a large wall at {worst.Margin.TrueRangeMetres:0.0} m sends back of {worst.Sender} for an echo at {worst.Margin.ApparentRangeMetres:0.0} m",
            _ => $"{worst.Listener} hears {worst.Sender} straight across and reports {worst.Margin.ApparentRangeMetres:0.0} m",
        };
        return worst.Margin.MarginDecibels < 0
            ? $"False reports are possible: {what}, {-worst.Margin.MarginDecibels:0.0} dB over the threshold."
            : $"No ghost and no crosstalk reaches a threshold; the nearest to it stays {worst.Margin.MarginDecibels:0.0} dB below ({InWords(worst.Kind)}, {worst.Listener}).";
    }
}
