using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Files;
using SonarGeom.Quantities;
using SonarGeom.Studies.FieldTests;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies.FieldTests;

public class FieldFitTests
{
    private static readonly Transducer Part = InputFiles.ReadTransducer("heron-strong-40").Transducer;

    private static readonly FieldSettings Settings = new(AirState.Standard);

    private static readonly Lazy<FieldPlan> Plan = new(() => FieldPlan.Of(Part, Settings));

    // Intervals hold both numbers together with 95 % confidence. Every other repeat has the first truth, the rest the second; the seeds are
    // taken as they come, 1 to 100. Measured over 900 other seeds: 97 % within.
    [Fact]
    public void Known_figures_are_recovered_in_93_of_100_repeats()
    {
        Transducer[] truths = [FieldTrials.Truth(Part, 2.5, 0.85), FieldTrials.Truth(Part, -3, 1.2)];
        var within = new bool[100];
        var widths = new double[100];
        Parallel.For(0, 100, i =>
        {
            Transducer truth = truths[i % 2];
            double merit = truth.LateFigureOfMeritDecibels, radius = ((CircularPiston)truth.Transmit).RadiusMetres;
            FieldFit fit = FieldFit.Of(Part, Settings, FieldTrials.Draw(Plan.Value, truth, i + 1));
            Assert.True(fit.IsDecided);
            within[i] = fit.FigureOfMeritDecibels.Low <= merit && merit <= fit.FigureOfMeritDecibels.High
                && fit.RadiusMetres.Low <= radius && radius <= fit.RadiusMetres.High;
            widths[i] = fit.FigureOfMeritDecibels.High - fit.FigureOfMeritDecibels.Low;
        });

        Assert.InRange(within.Count(w => w), 93, 100);

        // Intervals that hold because they say nothing would not do.
        Assert.All(widths, w => Assert.InRange(w, 0.2, 3));
    }

    // The transducer that is written answers as the truth does: its margins at the positions of the plan.
    [Fact]
    public void The_calibrated_transducer_is_the_fitted_one()
    {
        Transducer truth = FieldTrials.Truth(Part, 2.5, 0.85);
        FieldFit fit = FieldFit.Of(Part, Settings, FieldTrials.Draw(Plan.Value, truth, 7));
        Transducer calibrated = fit.Calibrated(Part, "a drawn sheet");
        Assert.Equal(fit.FigureOfMeritDecibels.Value, calibrated.LateFigureOfMeritDecibels, 1e-9);
        Assert.Equal(fit.RadiusMetres.Value, ((CircularPiston)calibrated.Receive).RadiusMetres, 1e-12);
        Assert.Equal(Part.SourceLevelDecibels, calibrated.SourceLevelDecibels);
        Assert.InRange(calibrated.Evidence.FigureOfMeritUncertaintyDecibels, 0.1, 1.5);
        Assert.Contains("Fitted to", calibrated.Evidence.Confidence, StringComparison.Ordinal);
        Assert.True(fit.AgreementProbability > 0.001);
    }

    [Fact]
    public void What_the_data_do_not_decide_is_said()
    {
        ImmutableArray<FieldObservation> drawn = FieldTrials.Draw(Plan.Value, Part, 3);
        FieldFit onAxis = FieldFit.Of(Part, Settings, [.. drawn.Where(o => o.Position.OffAxis == Angle.Zero && o.Position.Turn == Angle.Zero && o.Position.Target.Kind != FieldTargetKind.Board)]);
        Assert.True(onAxis.FigureOfMeritDecibels.IsDecided);
        Assert.False(onAxis.RadiusMetres.IsDecided);
        Assert.Equal(Part.Transmit, onAxis.Calibrated(Part, "drawn").Transmit);

        // Reported every time, everywhere: only a lower bound is left.
        FieldFit all = FieldFit.Of(Part, Settings, [.. drawn.Select(o => o with { Reports = o.Trials })]);
        Assert.False(all.IsDecided);
        Assert.Throws<ArgumentException>(() => FieldFit.Of(Part, Settings, [.. drawn.Select(o => o with { Trials = 0, Reports = 0 })]));
    }

    [Fact]
    public void Excluded_rows_are_kept_in_sight_and_out_of_the_fit()
    {
        ImmutableArray<FieldObservation> drawn = FieldTrials.Draw(Plan.Value, Part, 11);
        ImmutableArray<FieldObservation> spoilt = drawn.SetItem(0, drawn[0] with { Reports = 0, Exclusion = "gust of wind" });
        FieldComparison compared = FieldComparison.Of(Part, Settings, spoilt);
        Assert.Equal(drawn.Length, compared.Rows.Length);
        Assert.Equal(drawn.Length - 1, compared.CountedRows);
        Assert.Equal(FieldFit.Of(Part, Settings, drawn.RemoveAt(0)), compared.Fit);
        Assert.NotNull(compared.FitWithExcluded);
        Assert.NotEqual(compared.Fit, compared.FitWithExcluded);
        Assert.Equal(0, Assert.Single(compared.Bins, b => b.IsExcluded).Reports);
        Assert.Equal(drawn.Sum(o => o.Trials), compared.Bins.Sum(b => b.Trials));

        // Drawn from the part itself, nearly all counts are within the band of its prediction.
        Assert.True(compared.AgreeingRows >= compared.CountedRows - 1);
        Assert.All(compared.Rows, r => Assert.InRange(r.Predicted.PredictedProbability, r.Predicted.Band.LowProbability, r.Predicted.Band.HighProbability));
    }
}
