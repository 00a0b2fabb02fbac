using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>One row of a filled sheet against what was predicted.</summary>
/// <param name="Observation">What was seen.</param>
/// <param name="Predicted">What was predicted, for the trials that were done.</param>
/// <param name="Observed">The exact interval of the observed share; null when no trial was done.</param>
/// <param name="FittedProbability">The chance by the fitted transducer; null without a fit. [unitless]</param>
public sealed record ComparedRow(FieldObservation Observation, FieldRow Predicted, ExactInterval? Observed, double? FittedProbability)
{
    /// <summary>Gets the observed share; null when no trial was done. [unitless]</summary>
    public double? ObservedShare => Observation.IsDone ? (double)Observation.Reports / Observation.Trials : null;

    /// <summary>Gets whether the count is one that the predicted band allows.</summary>
    public bool Agrees => Observation.IsDone && Observation.Reports >= Predicted.LeastReports && Observation.Reports <= Predicted.MostReports;
}

/// <summary>All rows whose predicted chance falls into a range, together.</summary>
/// <param name="MeanPredictedProbability">The mean predicted chance of their trials. [unitless]</param>
/// <param name="Reports">Reports.</param>
/// <param name="Trials">Trials.</param>
/// <param name="Observed">The exact interval of the share.</param>
/// <param name="IsExcluded">Whether these are excluded rows.</param>
public readonly record struct ReliabilityBin(double MeanPredictedProbability, int Reports, int Trials, ExactInterval Observed, bool IsExcluded)
{
    /// <summary>Gets the observed share. [unitless]</summary>
    public double ObservedShare => (double)Reports / Trials;
}

/// <summary>A filled sheet, compared and fitted.</summary>
/// <param name="Transducer">The transducer as it was before.</param>
/// <param name="Settings">How the test was done.</param>
/// <param name="Rows">Every row of the sheet: done, not done and excluded.</param>
/// <param name="Bins">Observed shares by predicted chance, excluded rows apart.</param>
/// <param name="Fit">The fit without excluded rows; null when nothing is left.</param>
/// <param name="FitWithExcluded">The fit with them; null when there are none that were done.</param>
public sealed record FieldComparison(
    Transducer Transducer, FieldSettings Settings, ImmutableArray<ComparedRow> Rows, ImmutableArray<ReliabilityBin> Bins, FieldFit? Fit, FieldFit? FitWithExcluded)
{
    private static readonly double[] Edges = [0.05, 0.25, 0.5, 0.75, 0.95];

    /// <summary>Gets the number of rows that were done and are not excluded.</summary>
    public int CountedRows => Rows.Count(r => r.Observation.IsDone && !r.Observation.IsExcluded);

    /// <summary>Gets the number of those whose count the prediction allows.</summary>
    public int AgreeingRows => Rows.Count(r => r.Agrees && !r.Observation.IsExcluded);

    /// <summary>Compares and fits.</summary>
    /// <param name="transducer">The transducer that the test was planned for.</param>
    /// <param name="settings">How the test was done.</param>
    /// <param name="observations">Every row of the sheet.</param>
    public static FieldComparison Of(Transducer transducer, FieldSettings settings, ImmutableArray<FieldObservation> observations)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        ArgumentNullException.ThrowIfNull(settings);
        FieldFit? fit = observations.Any(o => o.IsDone && !o.IsExcluded) ? FieldFit.Of(transducer, settings, observations) : null;
        FieldFit? all = observations.Any(o => o.IsDone && o.IsExcluded) ? FieldFit.Of(transducer, settings, observations, withExcluded: true) : null;
        var medium = new EchoMedium(settings.Air);
        var before = new PreparedTransducer(transducer, medium);
        PreparedTransducer? after = fit is null ? null : new PreparedTransducer(fit.Calibrated(transducer, "this sheet"), medium);
        FieldEcho[] echoes = [.. observations.Select(o => FieldModel.EchoOf(before, o.Position))];
        FieldEcho[]? fitted = after is null ? null : [.. observations.Select(o => FieldModel.EchoOf(after, o.Position))];
        var model = new TrialModel(settings, echoes.Concat(fitted ?? []).Select(e => e.ClearanceDecibels));
        ImmutableArray<ComparedRow> rows =
        [
            .. observations.Select((o, i) => new ComparedRow(
                o, FieldPlan.Row(o.Id, o.Position, echoes[i], string.Empty, o.Trials, model, settings),
                o.IsDone ? ExactInterval.Of(o.Reports, o.Trials, settings.ConfidenceFraction) : null,
                fitted is null ? null : model.Chance(fitted[i].MarginDecibels, fitted[i].ClearanceDecibels))),
        ];
        return new FieldComparison(transducer, settings, rows, [.. BinsOf(rows, settings)], fit, all);
    }

    private static IEnumerable<ReliabilityBin> BinsOf(ImmutableArray<ComparedRow> rows, FieldSettings settings) => rows
        .Where(r => r.Observation.IsDone)
        .GroupBy(r => (r.Observation.IsExcluded, Bin: Edges.Count(e => r.Predicted.PredictedProbability >= e)))
        .OrderBy(g => g.Key.IsExcluded).ThenBy(g => g.Key.Bin)
        .Select(g =>
        {
            int trials = g.Sum(r => r.Observation.Trials), reports = g.Sum(r => r.Observation.Reports);
            double mean = g.Sum(r => r.Predicted.PredictedProbability * r.Observation.Trials) / trials;
            return new ReliabilityBin(mean, reports, trials, ExactInterval.Of(reports, trials, settings.ConfidenceFraction), g.Key.IsExcluded);
        });
}
