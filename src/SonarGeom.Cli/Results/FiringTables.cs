using SonarGeom.Layouts;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>The tables of a firing schedule.</summary>
internal static class FiringTables
{
    /// <summary>Gets the false reports that a schedule allows, the worst first.</summary>
    internal static ResultTable<FalseReport> FalseReports { get; } = new(
        new("listener", "listens", r => Cell.Of(r.Listener)),
        new("sender", "sends", r => Cell.Of(r.Sender)),
        new("kind", "what", r => Cell.Of(FiringStudy.InWords(r.Kind))),
        new("sent_before_ms", "sent before [ms]", r => Cell.Of(r.Margin.ElapsedSeconds * 1000, 2)),
        new("true_range_m", "true range [m]", r => Cell.Of(r.Margin.TrueRangeMetres, 3)),
        new("apparent_range_m", "seems at [m]", r => Cell.Of(r.Margin.ApparentRangeMetres, 3)),
        new("margin_db", "below threshold [dB]", r => Cell.Of(r.Margin.MarginDecibels, 1)));

    /// <summary>Returns the groups in words: a; b and c; d.</summary>
    internal static string OrderInWords(SensorLayout layout, FiringSchedule schedule) =>
        string.Join("; ", schedule.Groups.Select(g => string.Join(" and ", g.Select(i => layout.Sensors[i].Name))));
}
