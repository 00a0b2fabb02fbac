using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>One tilt of one sensor over one floor.</summary>
internal readonly record struct FloorRow(FloorRisk Risk, FloorAtTilt At);

/// <summary>A part of the wearer before one sensor.</summary>
/// <param name="Risk">The risk.</param>
/// <param name="Phases">Number of stride phases looked at.</param>
internal readonly record struct OwnRow(OwnRisk Risk, int Phases);

/// <summary>The tables of false alerts.</summary>
internal static class FalseAlertTables
{
    /// <summary>Gets each sensor over each floor, as mounted, with the tilts at which it changes.</summary>
    internal static ResultTable<FloorRisk> Floors { get; } = new(
        new("sensor", "sensor", r => Cell.Of(r.Sensor)),
        new("ground", "floor", r => Cell.Of(r.Ground.Name)),
        new("tilt_deg", "tilt [°]", r => Cell.Of(r.Now.TiltDegrees, 1)),
        new("margin_db", "margin [dB]", r => Cell.Of(Heard(r.Now.MarginDecibels), 1)),
        new("level_db_re_20upa", "level [dB]", r => Cell.Of(Heard(r.Now.LevelDecibels), 1)),
        new("range_m", "at [m]", r => Cell.Of(Heard(r.Now.MarginDecibels) is null ? null : r.Now.RangeMetres, 2)),
        new("arrival_ms", "after [ms]", r => Cell.Of(Heard(r.Now.MarginDecibels) is null ? null : r.Now.ArrivalSeconds * 1e3, 2)),
        new("is_false_alert", "false alert", r => Cell.Of(r.IsFalseAlert)),
        new("first_reported_m", null, r => Cell.Of(r.Now.FirstCrossingMetres, 3)),
        new("threshold_rise_db", "threshold up by [dB]", r => Cell.Of(r.IsFalseAlert ? r.ThresholdRiseDecibels : null, 1)),
        new("false_alert_up_to_tilt_deg", "alert up to tilt [°]", r => Cell.Of(r.AlertTiltDegrees, 1)),
        new("kerb_margin_db", null, r => Cell.Of(Heard(r.Now.KerbMarginDecibels), 1)),
        new("is_kerb_masked", null, r => Cell.Of(r.Now.MasksKerb)),
        new("kerb_masked_up_to_tilt_deg", "kerb masked up to [°]", r => Cell.Of(r.MaskTiltDegrees, 1)),
        new("ground_confidence", null, r => Cell.Of(r.Ground.Confidence)));

    /// <summary>Gets the floor echo against tilt.</summary>
    internal static ResultTable<FloorRow> Curve { get; } = new(
        new("sensor", null, r => Cell.Of(r.Risk.Sensor)),
        new("ground", null, r => Cell.Of(r.Risk.Ground.Name)),
        new("tilt_deg", null, r => Cell.Of(r.At.TiltDegrees, 1)),
        new("margin_db", null, r => Cell.Of(Heard(r.At.MarginDecibels), 2)),
        new("level_db_re_20upa", null, r => Cell.Of(Heard(r.At.LevelDecibels), 2)),
        new("range_m", null, r => Cell.Of(Heard(r.At.MarginDecibels) is null ? null : r.At.RangeMetres, 3)),
        new("arrival_ms", null, r => Cell.Of(Heard(r.At.MarginDecibels) is null ? null : r.At.ArrivalSeconds * 1e3, 3)),
        new("first_reported_m", null, r => Cell.Of(r.At.FirstCrossingMetres, 3)),
        new("kerb_margin_db", null, r => Cell.Of(Heard(r.At.KerbMarginDecibels), 2)),
        new("is_kerb_masked", null, r => Cell.Of(r.At.MasksKerb)));

    /// <summary>Gets the wearer's own parts, each in its worst stride phase.</summary>
    internal static ResultTable<OwnRow> Own { get; } = new(
        new("sensor", "sensor", r => Cell.Of(r.Risk.Sensor)),
        new("part", "part", r => Cell.Of(r.Risk.Echo.Label)),
        new("worst_posture", "worst at", r => Cell.Of(r.Risk.Echo.WorstPosture)),
        new("range_m", "range [m]", r => Cell.Of(r.Risk.Echo.RangeMetres, 2)),
        new("peak_level_db_re_20upa", "level [dB]", r => Cell.Of(Heard(r.Risk.Echo.LevelDecibels), 1)),
        new("margin_db", "margin [dB]", r => Cell.Of(Heard(r.Risk.Echo.MarginDecibels), 1)),
        new("is_false_alert", "false alert", r => Cell.Of(r.Risk.Echo.IsFalseAlert)),
        new("reported_phases_percent", "of the stride [%]", r => Cell.Of(100.0 * r.Risk.Echo.PosturesHeard / r.Phases, 1)),
        new("threshold_rise_db", "threshold up by [dB]", r => Cell.Of(r.Risk.Echo.IsFalseAlert ? r.Risk.Echo.ThresholdRiseDecibels : null, 1)),
        new("silent_at_tilt_deg", "silent at tilt [°]", r => Cell.Of(r.Risk.SilentTiltDegrees, 1)));

    /// <summary>Returns the floor echo against tilt, row by row.</summary>
    internal static IEnumerable<FloorRow> CurveRows(FalseAlerts alerts) =>
        alerts.Floors.SelectMany(f => f.Curve.Select(at => new FloorRow(f, at)));

    private static double? Heard(double decibels) => decibels <= -200 ? null : decibels;
}
