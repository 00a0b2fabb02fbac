using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Cli.Reports;

/// <summary>The reliability plot of a field test: observed share against predicted chance, with exact intervals.</summary>
internal static class FieldTestFigures
{
    /// <summary>Returns the plot.</summary>
    internal static LineFigure Reliability(FieldComparison compared)
    {
        var series = ImmutableArray.CreateBuilder<LineSeries>();
        series.Add(new LineSeries("as predicted", [new(0, 0), new(100, 100)]) { Style = LineStyle.Plain with { Dash = DashPattern.Dashed }, Marker = MarkerShape.None });
        Add(series, compared.Bins.Where(b => !b.IsExcluded), "observed", LineStyle.At(0));
        Add(series, compared.Bins.Where(b => b.IsExcluded), "excluded rows", LineStyle.At(1));
        int excluded = compared.Rows.Count(r => r.Observation.IsExcluded), notDone = compared.Rows.Count(r => !r.Observation.IsDone && !r.Observation.IsExcluded);
        return new LineFigure(
            series.ToImmutable(), new("Predicted chance of a report", "%") { From = 0, To = 100 }, new("Observed share of reports", "%") { From = 0, To = 100 })
        {
            Title = $"Predicted and observed: {compared.Transducer.Name}",
            Finding = Finding(compared),
            Footnotes =
            [
                $"Trials pooled by predicted chance; upright lines are exact intervals (Clopper and Pearson) at {100 * compared.Settings.ConfidenceFraction:0.#} % confidence.",
                $"{compared.Rows.Length} rows: {compared.CountedRows} counted, {excluded} excluded{(excluded > 0 ? ", shown apart" : string.Empty)}, {notDone} not done.",
            ],
            WidthPixels = 1000,
        };
    }

    /// <summary>Says how many rows agree.</summary>
    internal static string Finding(FieldComparison compared)
    {
        int fewer = compared.Rows.Count(r => !r.Observation.IsExcluded && r.Observation.IsDone && r.Observation.Reports < r.Predicted.LeastReports);
        return compared.CountedRows == 0
            ? "No row counts: all that were done are excluded."
            : $"{compared.AgreeingRows} of {compared.CountedRows} rows agree with the prediction; {fewer} have fewer reports than it allows.";
    }

    private static void Add(ImmutableArray<LineSeries>.Builder series, IEnumerable<ReliabilityBin> bins, string name, LineStyle style)
    {
        ReliabilityBin[] all = [.. bins];
        if (all.Length == 0)
        {
            return;
        }

        // One upright line for each interval, broken between them.
        ImmutableArray<PlotPoint> bars =
        [
            .. all.SelectMany(b => new PlotPoint[]
            {
                new(100 * b.MeanPredictedProbability, 100 * b.Observed.LowProbability), new(100 * b.MeanPredictedProbability, 100 * b.Observed.HighProbability), new(double.NaN, double.NaN),
            }),
        ];
        series.Add(new LineSeries($"interval, {name}", bars) { Style = style with { Dash = DashPattern.Full, WidthPixels = 1.5 }, Marker = MarkerShape.None });
        series.Add(new LineSeries(name, [.. all.Select(b => new PlotPoint(100 * b.MeanPredictedProbability, 100 * b.ObservedShare))]) { Style = style, HasNoLine = true, Marker = name == "observed" ? MarkerShape.Circle : MarkerShape.Cross });
    }
}
