using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Cli.Results;

/// <summary>The tables of a field test.</summary>
internal static class FieldTestTables
{
    /// <summary>Gets the rows of a plan.</summary>
    internal static ResultTable<FieldRow> Plan { get; } = new(
        new("row_count", "row", r => Cell.Of(r.Id)),
        new("target", "target", r => Cell.Of(r.Position.Target.Name)),
        new("range_m", "range [m]", r => Cell.Of(r.Position.RangeMetres, 2)),
        new("off_axis_deg", "off axis [°]", r => Cell.Of(r.Position.OffAxis.Degrees, 0)),
        new("turn_deg", "turn [°]", r => Cell.Of(r.Position.Turn.Degrees, 0)),
        new("margin_db", "margin [dB]", r => Cell.Of(r.Echo.MarginDecibels, 1)),
        new("margin_uncertainty_db", null, r => Cell.Of(r.Echo.UncertaintyDecibels, 1)),
        new("trials_count", "trials", r => Cell.Of(r.Trials)),
        new("predicted_percent", "predicted [%]", r => Cell.Of(100 * r.PredictedProbability, 0)),
        new("predicted_low_percent", "from", r => Cell.Of(100 * r.Band.LowProbability, 0)),
        new("predicted_high_percent", "to", r => Cell.Of(100 * r.Band.HighProbability, 0)),
        new("least_reports_count", "reports from", r => Cell.Of(r.LeastReports)),
        new("most_reports_count", "to", r => Cell.Of(r.MostReports)),
        new("purpose", "purpose", r => Cell.Of(r.Purpose)));

    /// <summary>Gets the rows of a filled sheet.</summary>
    internal static ResultTable<ComparedRow> Compared { get; } = new(
        new("row_count", "row", r => Cell.Of(r.Observation.Id)),
        new("target", "target", r => Cell.Of(r.Observation.Position.Target.Name)),
        new("range_m", "range [m]", r => Cell.Of(r.Observation.Position.RangeMetres, 2)),
        new("off_axis_deg", "off axis [°]", r => Cell.Of(r.Observation.Position.OffAxis.Degrees, 0)),
        new("turn_deg", "turn [°]", r => Cell.Of(r.Observation.Position.Turn.Degrees, 0)),
        new("trials_count", "trials", r => Cell.Of(r.Observation.Trials)),
        new("reports_count", "reports", r => Cell.Of(r.Observation.Reports)),
        new("observed_percent", "observed [%]", r => Cell.Of(100 * r.ObservedShare, 0)),
        new("observed_low_percent", "from", r => Cell.Of(100 * r.Observed?.LowProbability, 0)),
        new("observed_high_percent", "to", r => Cell.Of(100 * r.Observed?.HighProbability, 0)),
        new("predicted_percent", "predicted [%]", r => Cell.Of(100 * r.Predicted.PredictedProbability, 0)),
        new("predicted_low_percent", null, r => Cell.Of(100 * r.Predicted.Band.LowProbability, 0)),
        new("predicted_high_percent", null, r => Cell.Of(100 * r.Predicted.Band.HighProbability, 0)),
        new("fitted_percent", "fitted [%]", r => Cell.Of(100 * r.FittedProbability, 0)),
        new("standing", "standing", r => Cell.Of(Standing(r))),
        new("exclusion", "why excluded", r => Cell.Of(r.Observation.Exclusion)),
        new("note", null, r => Cell.Of(r.Observation.Note)));

    /// <summary>Gets the observed shares by predicted chance.</summary>
    internal static ResultTable<ReliabilityBin> Bins { get; } = new(
        new("excluded", "excluded", b => Cell.Of(b.IsExcluded)),
        new("predicted_percent", "predicted [%]", b => Cell.Of(100 * b.MeanPredictedProbability, 0)),
        new("trials_count", "trials", b => Cell.Of(b.Trials)),
        new("reports_count", "reports", b => Cell.Of(b.Reports)),
        new("observed_percent", "observed [%]", b => Cell.Of(100 * b.ObservedShare, 0)),
        new("observed_low_percent", "from", b => Cell.Of(100 * b.Observed.LowProbability, 0)),
        new("observed_high_percent", "to", b => Cell.Of(100 * b.Observed.HighProbability, 0)));

    /// <summary>Gets a fit.</summary>
    internal static ResultTable<FieldFit> Fit { get; } = new(
        new("figure_of_merit_db", "figure of merit [dB]", f => Cell.Of(f.FigureOfMeritDecibels.Value, 2)),
        new("figure_of_merit_low_db", "from", f => Cell.Of(f.FigureOfMeritDecibels.Low, 2)),
        new("figure_of_merit_high_db", "to", f => Cell.Of(f.FigureOfMeritDecibels.High, 2)),
        new("figure_of_merit_decided", "decided", f => Cell.Of(f.FigureOfMeritDecibels.IsDecided)),
        new("radius_mm", "radius [mm]", f => Cell.Of(f.RadiusMetres.Value * 1000, 2)),
        new("radius_low_mm", "from", f => Cell.Of(f.RadiusMetres.Low * 1000, 2)),
        new("radius_high_mm", "to", f => Cell.Of(f.RadiusMetres.High * 1000, 2)),
        new("radius_decided", "decided", f => Cell.Of(f.RadiusMetres.IsDecided)),
        new("deviance_unitless", "deviance", f => Cell.Of(f.DevianceUnitless, 1)),
        new("degrees_of_freedom_count", "degrees of freedom", f => Cell.Of(f.DegreesOfFreedom)),
        new("agreement_percent", "by chance as far off [%]", f => Cell.Of(100 * f.AgreementProbability, 1)),
        new("rows_count", "rows", f => Cell.Of(f.Rows)),
        new("trials_count", "trials", f => Cell.Of(f.Trials)));

    private static string Standing(ComparedRow row) =>
        row.Observation.IsExcluded ? "excluded" : !row.Observation.IsDone ? "not done" : row.Agrees ? "as predicted" : row.Observation.Reports < row.Predicted.LeastReports ? "FEWER than predicted" : "more than predicted";
}
