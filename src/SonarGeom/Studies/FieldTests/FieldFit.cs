using System.Collections.Immutable;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>One row of a filled sheet.</summary>
/// <param name="Id">Number of the row.</param>
/// <param name="Position">Where the target stood.</param>
/// <param name="Trials">Trials done, from 0.</param>
/// <param name="Reports">Trials that ended in a report of the target.</param>
/// <param name="Exclusion">Why the row is left out of the fit; empty when it is not.</param>
/// <param name="Note">What the testers noted.</param>
public sealed record FieldObservation(int Id, FieldPosition Position, int Trials, int Reports, string Exclusion = "", string Note = "")
{
    /// <summary>Gets whether the row is left out of the fit.</summary>
    public bool IsExcluded => Exclusion.Length > 0;

    /// <summary>Gets whether there is anything to compare.</summary>
    public bool IsDone => Trials > 0;
}

/// <summary>A fitted number with its interval.</summary>
/// <param name="Value">The most likely value. [as its owner says]</param>
/// <param name="Low">The lower end. [same]</param>
/// <param name="High">The upper end. [same]</param>
/// <param name="IsDecided">Whether the data bound it on both sides.</param>
public readonly record struct FittedNumber(double Value, double Low, double High, bool IsDecided);

/// <summary>What a field test says about a transducer: its level over threshold and its effective radius.</summary>
/// <param name="FigureOfMeritDecibels">The figure of merit at the end of the listening window. [dB]</param>
/// <param name="RadiusMetres">The effective radius of both faces. [m]</param>
/// <param name="DevianceUnitless">How far the counts are from the fit: about the degrees of freedom where the model holds. [unitless]</param>
/// <param name="DegreesOfFreedom">Rows less fitted numbers.</param>
/// <param name="AgreementProbability">How often counts as far off or farther come about by chance. [unitless]</param>
/// <param name="Rows">Rows that were fitted.</param>
/// <param name="Trials">Trials that were fitted.</param>
public sealed record FieldFit(
    FittedNumber FigureOfMeritDecibels, FittedNumber RadiusMetres, double DevianceUnitless, int DegreesOfFreedom, double AgreementProbability, int Rows, int Trials)
{
    /// <summary>Gets whether both numbers are bounded by the data.</summary>
    public bool IsDecided => FigureOfMeritDecibels.IsDecided && RadiusMetres.IsDecided;

    /// <summary>Fits the rows that are done and not excluded, by maximum likelihood.</summary>
    /// <param name="transducer">The transducer as it was before; the shape of its threshold over time is kept.</param>
    /// <param name="settings">How the test was done.</param>
    /// <param name="observations">The rows.</param>
    /// <param name="withExcluded">Whether excluded rows that are done are fitted too.</param>
    /// <exception cref="ArgumentException">No row is left to fit.</exception>
    /// <remarks>Counts are binomial with the chances of the trial model. Intervals are those of the profile likelihood, each so wide that both
    /// together hold with the confidence of the settings (the risk is halved between them), with the quantile of the F distribution for few
    /// rows, and wider by the deviance over its degrees of freedom where the counts scatter more than the model says (common practice).</remarks>
    public static FieldFit Of(Transducer transducer, FieldSettings settings, ImmutableArray<FieldObservation> observations, bool withExcluded = false)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        ArgumentNullException.ThrowIfNull(settings);
        FieldObservation[] rows = [.. observations.Where(o => o.IsDone && (withExcluded || !o.IsExcluded))];
        return rows.Length == 0
            ? throw new ArgumentException("No row of the sheet has trials that count; there is nothing to fit.", nameof(observations))
            : new FieldFitter(transducer, settings, rows).Fit();
    }

    /// <summary>Returns the transducer with the fitted numbers.</summary>
    /// <param name="transducer">The transducer as it was before.</param>
    /// <param name="source">Where the data come from, in a few words.</param>
    public Transducer Calibrated(Transducer transducer, string source)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        double gain = FigureOfMeritDecibels.Value - transducer.LateFigureOfMeritDecibels;
        double uncertainty = Math.Max(FigureOfMeritDecibels.High - FigureOfMeritDecibels.Value, FigureOfMeritDecibels.Value - FigureOfMeritDecibels.Low);
        Transducer beam = RadiusMetres.IsDecided ? FieldModel.WithRadius(transducer, RadiusMetres.Value) : transducer;
        return FieldModel.WithMerit(beam, gain) with
        {
            Name = transducer.Name.Length <= 48 ? $"{transducer.Name} calibrated" : transducer.Name,
            Evidence = new TransducerEvidence(
                "The targets of the field test, on a stand in the open.",
                $"Fitted to {Trials} trials in {Rows} rows: figure of merit {FigureOfMeritDecibels.Value:0.0} ({FigureOfMeritDecibels.Low:0.0} to {FigureOfMeritDecibels.High:0.0}) dB, "
                + (RadiusMetres.IsDecided
                    ? $"effective radius {RadiusMetres.Value * 1000:0.00} ({RadiusMetres.Low * 1000:0.00} to {RadiusMetres.High * 1000:0.00}) mm. "
                    : "beam not decided by the data and left as it was. ")
                + "Threshold and noise were moved; the level sent was not measured, and the shape of the threshold over time was taken over.",
                Math.Round(uncertainty, 2), source),
        };
    }
}
