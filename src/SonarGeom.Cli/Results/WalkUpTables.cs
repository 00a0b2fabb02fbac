using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>One distance of one track.</summary>
internal readonly record struct WalkUpRow(WalkUpTrack Track, WalkUpPoint Point);

/// <summary>One track in short.</summary>
/// <param name="Track">The track.</param>
/// <param name="ReliableShare">Share of stride phases that counts as reliable. [unitless]</param>
internal readonly record struct WalkUpSummary(WalkUpTrack Track, double ReliableShare);

/// <summary>The tables of a walk up to an obstacle.</summary>
internal static class WalkUpTables
{
    /// <summary>Gets the tracks in short.</summary>
    internal static ResultTable<WalkUpSummary> Tracks { get; } = new(
        new("object", "object", s => Cell.Of(s.Track.Name)),
        new("object_kind", null, s => Cell.Of(Words.Code(s.Track.Kind))),
        new("crosses_from_m", "crosses from [m]", s => Cell.Of(s.Track.FirstHeardMetres, 2)),
        new("reported_from_m", "reported from [m]", s => Cell.Of(s.Track.FirstReportedMetres(1e-6), 2)),
        new("reliably_from_m", "reliably from [m]", s => Cell.Of(s.Track.FirstReportedMetres(s.ReliableShare), 2)),
        new("best_margin_db", "best margin [dB]", s => Cell.Of(Audible(s.Track.LargestMarginDecibels), 1)));

    /// <summary>Gets the tracks point by point.</summary>
    internal static ResultTable<WalkUpRow> Points { get; } = new(
        new("object", null, r => Cell.Of(r.Track.Name)),
        new("object_kind", null, r => Cell.Of(Words.Code(r.Track.Kind))),
        new("distance_m", null, r => Cell.Of(r.Point.DistanceMetres, 3)),
        new("crosses_phases_percent", null, r => Cell.Of(r.Point.HeardFraction * 100, 1)),
        new("reported_phases_percent", null, r => Cell.Of(r.Point.ReportedFraction * 100, 1)),
        new("range_m", null, r => Cell.Of(Audible(r.Point.LargestMarginDecibels) is null ? null : r.Point.RangeMetres, 3)),
        new("peak_level_db_re_20upa", null, r => Cell.Of(Audible(r.Point.LevelDecibels), 1)),
        new("largest_margin_db", null, r => Cell.Of(Audible(r.Point.LargestMarginDecibels), 1)),
        new("least_margin_db", null, r => Cell.Of(Audible(r.Point.LeastMarginDecibels), 1)));

    /// <summary>Returns the rows of all tracks that are heard at all, point by point.</summary>
    internal static IEnumerable<WalkUpRow> Rows(WalkUp walk) =>
        Told(walk).SelectMany(t => t.Points.Select(p => new WalkUpRow(t, p)));

    /// <summary>Returns the tracks of what sends anything back, and of the obstacle walked up to in any case.</summary>
    internal static IEnumerable<WalkUpTrack> Told(WalkUp walk) =>
        walk.Tracks.Where(t => t.Name == walk.ObstacleId || Audible(t.LargestMarginDecibels) is not null);

    private static double? Audible(double decibels) => decibels <= -250 ? null : decibels;
}
