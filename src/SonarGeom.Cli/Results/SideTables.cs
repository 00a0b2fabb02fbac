using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>A share of one band on one wearer.</summary>
internal readonly record struct WearerRow(WearerShare Wearer, BandShare Share);

/// <summary>One cell of one pole strip.</summary>
internal readonly record struct StripRow(ApproachStrip Strip, int Index);

/// <summary>One tilt of one sensor.</summary>
internal readonly record struct TiltRow(TiltCurve Curve, TiltPoint Point);

/// <summary>A share of one band for one direction.</summary>
internal readonly record struct AzimuthRow(AzimuthShare Azimuth, BandShare Share);

/// <summary>The tables of the studies beside the main maps.</summary>
internal static class SideTables
{
    /// <summary>Gets the shares on every wearer.</summary>
    internal static ResultTable<WearerRow> Wearers { get; } = new(
        new("wearer", "wearer", r => Cell.Of(r.Wearer.Wearer)),
        new("stature_m", "stature [m]", r => Cell.Of(r.Wearer.StatureMetres, 3)),
        new("crown_height_m", null, r => Cell.Of(r.Wearer.TopMetres, 3)),
        new("probe", null, r => Cell.Of(r.Wearer.ProbeName)),
        new("band", "band", r => Cell.Of(Words.Of(r.Share.Band))),
        new("cells", null, r => Cell.Of(r.Share.Cells)),
        new("warned_in_time_percent", "warned in time [%]", r => Cell.Of(r.Share.WarnedFraction * 100, 1)),
        new("warned_without_break_percent", null, r => Cell.Of(r.Share.UnbrokenFraction * 100, 1)),
        new("warned_even_if_lost_later_percent", null, r => Cell.Of(r.Share.HeldFraction * 100, 1)),
        new("least_warning_s", "worst cell [s]", r => Cell.Of(r.Share.LeastWarningSeconds, 2)));

    /// <summary>Gets the tilt curves.</summary>
    internal static ResultTable<TiltRow> Tilts { get; } = new(
        new("sensor", "sensor", r => Cell.Of(r.Curve.Sensor)),
        new("probe", null, r => Cell.Of(r.Curve.ProbeName)),
        new("tilt_deg", "tilt [°]", r => Cell.Of(r.Point.TiltDegrees, 1)),
        new("is_current", "now", r => Cell.Of(Math.Abs(r.Point.TiltDegrees - r.Curve.CurrentTiltDegrees) < 1e-6)),
        new("head_share_percent", "head warned [%]", r => Cell.Of(r.Point.HeadShareFraction * 100, 1)),
        new("chest_share_percent", null, r => Cell.Of(100 * r.Point.ShareOf(HeightBand.Chest), 1)),
        new("waist_share_percent", null, r => Cell.Of(100 * r.Point.ShareOf(HeightBand.Waist), 1)),
        new("knee_share_percent", null, r => Cell.Of(100 * r.Point.ShareOf(HeightBand.Knee), 1)),
        new("lost_obstacles", "loses", r => Cell.Of(r.Point.Lost)),
        new("gained_obstacles", "gains", r => Cell.Of(r.Point.Gained)),
        new("head_share_alone_percent", "by it alone [%]", r => Cell.Of(r.Point.SensorAloneHeadShareFraction * 100, 1)),
        new("floor_margin_db", "floor margin [dB]", r => Cell.Of(Heard(r.Point.FloorMarginDecibels), 1)),
        new("window_low_deg", null, r => Cell.Of(r.Curve.WindowLowDegrees, 1)),
        new("window_high_deg", null, r => Cell.Of(r.Curve.WindowHighDegrees, 1)));

    /// <summary>Gets the shares by direction.</summary>
    internal static ResultTable<AzimuthRow> Azimuths { get; } = new(
        new("azimuth_deg", "from [°]", r => Cell.Of(r.Azimuth.AzimuthDegrees, 0)),
        new("band", "band", r => Cell.Of(Words.Of(r.Share.Band))),
        new("cells", null, r => Cell.Of(r.Share.Cells)),
        new("warned_in_time_percent", "warned in time [%]", r => Cell.Of(r.Share.WarnedFraction * 100, 1)),
        new("least_warning_s", null, r => Cell.Of(r.Share.LeastWarningSeconds, 2)));

    /// <summary>Gets what is heard while turning on the spot.</summary>
    internal static ResultTable<TurningSector> Turning { get; } = new(
        new("band", "band", s => Cell.Of(Words.Of(s.Band))),
        new("height_m", "height [m]", s => Cell.Of(s.HeightMetres, 2)),
        new("distance_m", "distance [m]", s => Cell.Of(s.DistanceMetres, 2)),
        new("heard_percent", "heard [%]", s => Cell.Of(s.HeardFraction * 100, 1)),
        new("sectors_deg", "sectors [°]", s => Cell.Of(string.Join("; ", s.SectorsDegrees.Select(d => $"{d.FromDegrees:0} to {d.ToDegrees:0}")))));

    /// <summary>Gets what is left with each sensor dead or covered.</summary>
    internal static ResultTable<SensorOutage> Outages { get; } = new(
        new("sensor", "sensor", o => Cell.Of(o.Sensor)),
        new("state", "state", o => Cell.Of(o.IsCovered ? "covered" : "dead")),
        new("loss_db", "loss [dB]", o => Cell.Of(o.LossDecibels, 1)),
        new("no_longer_warned", "no longer warned of", o => Cell.Of(o.NoLongerWarned)),
        new("still_warned_count", "still warned of", o => Cell.Of(o.StillWarnedCount)));

    /// <summary>Gets the cells of the pole strips.</summary>
    internal static ResultTable<StripRow> Strips { get; } = new(
        new("pole", null, r => Cell.Of(r.Strip.Name)),
        new("y_m", null, r => Cell.Of(r.Strip.YMetres(r.Index), 3)),
        new("is_in_silhouette", null, r => Cell.Of(r.Strip.InSilhouette[r.Index])),
        new("warning_s", null, r => Cell.Of(r.Strip.WarningSeconds[r.Index], 2)),
        new("held_warning_s", null, r => Cell.Of(r.Strip.HeldWarningSeconds[r.Index], 2)),
        new("cause", null, r => Cell.Of(Words.Code(r.Strip.Causes[r.Index]))),
        new("first_sensor", null, r => Cell.Of(r.Strip.FirstSensor[r.Index] >= 0 ? r.Strip.SensorNames[r.Strip.FirstSensor[r.Index]] : string.Empty)));

    /// <summary>Gets the shares of the pole strips.</summary>
    internal static ResultTable<ApproachStrip> StripShares { get; } = new(
        new("pole", "pole", s => Cell.Of(s.Name)),
        new("warned_in_time_percent", "warned in time [%]", s => Cell.Of(s.WarnedFraction * 100, 1)),
        new("warned_even_if_lost_later_percent", "even if lost later [%]", s => Cell.Of(s.HeldFraction * 100, 1)),
        new("worst_cause", "why not", s => Cell.Of(s.WarnedFraction >= 1 ? "–" : Findings.InWords(WorstCause(s)))));

    /// <summary>Gets each sensor's floor and limb echoes.</summary>
    internal static ResultTable<SelfEcho> SelfEchoes { get; } = new(
        new("sensor", "sensor", e => Cell.Of(e.Sensor)),
        new("floor_margin_db", "floor margin [dB]", e => Cell.Of(Heard(e.FloorMarginDecibels), 1)),
        new("floor_range_m", "floor from [m]", e => Cell.Of(e.FloorRangeMetres, 2)),
        new("floor_phases_percent", "of the stride [%]", e => Cell.Of(e.FloorPhasesFraction * 100, 1)),
        new("limb_range_m", "limb from [m]", e => Cell.Of(e.LimbRangeMetres, 2)),
        new("limb", "limb", e => Cell.Of(e.LimbName)));

    /// <summary>Returns the rows of the wearers' shares.</summary>
    internal static IEnumerable<WearerRow> WearerRows(StudyReport report) =>
        report.Wearers.SelectMany(w => w.Shares.Select(s => new WearerRow(w, s)));

    /// <summary>Returns the rows of the tilt curves.</summary>
    internal static IEnumerable<TiltRow> TiltRows(StudyReport report) =>
        report.TiltCurves.SelectMany(c => c.Points.Select(p => new TiltRow(c, p)));

    /// <summary>Returns the cells of the pole strips.</summary>
    internal static IEnumerable<StripRow> StripRows(StudyReport report) =>
        report.PoleStrips.SelectMany(s => Enumerable.Range(0, s.Count).Select(i => new StripRow(s, i)));

    /// <summary>Returns the cause that limits most of a strip's cells.</summary>
    internal static LimitingCause WorstCause(ApproachStrip strip) =>
        Enumerable.Range(0, strip.Count).Where(i => strip.InSilhouette[i] && strip.Causes[i] != LimitingCause.None)
            .GroupBy(i => strip.Causes[i]).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.Key).FirstOrDefault();

    /// <summary>Returns the rows of the directions.</summary>
    internal static IEnumerable<AzimuthRow> AzimuthRows(StudyReport report) =>
        report.Azimuths.SelectMany(a => a.Shares.Select(s => new AzimuthRow(a, s)));

    // Levels that stand for silence are told as nothing.
    private static double? Heard(double decibels) => decibels <= -200 ? null : decibels;
}
