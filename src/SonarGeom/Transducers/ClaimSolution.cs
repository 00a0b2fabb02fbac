using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How well one claim fits the solution.</summary>
/// <param name="Claim">The claim.</param>
/// <param name="ResidualDecibels">The detection margin that the solution gives at the claimed range: above 0 it would reach
/// farther than claimed, below 0 it falls short. [dB]</param>
/// <param name="Contradicts">Whether the residual is larger than the tolerance.</param>
public sealed record ClaimResidual(DetectionClaim Claim, double ResidualDecibels, bool Contradicts);

/// <summary>What a set of detection claims says about a transducer, and whether it says one thing.</summary>
/// <param name="Frequency">The frequency of the transducer.</param>
/// <param name="ToleranceDecibels">The largest residual that still counts as agreement. [dB]</param>
/// <param name="EffectiveRadiusMetres">The radius of the piston with the beam that the claims imply; null when they do not
/// decide a beam because all are at one angle. [m]</param>
/// <param name="LeastRadiusMetres">The smallest radius over the absorption that the air may have; null with the radius. [m]</param>
/// <param name="MostRadiusMetres">The largest radius over the absorption that the air may have; null with the radius. [m]</param>
/// <param name="FigureOfMeritDecibels">Source level and burst build-up over the threshold on the boresight. [dB]</param>
/// <param name="LeastFigureOfMeritDecibels">The smallest figure of merit over the absorption that the air may have. [dB]</param>
/// <param name="MostFigureOfMeritDecibels">The largest figure of merit over the absorption that the air may have. [dB]</param>
/// <param name="Residuals">Each claim with its residual, in the order given.</param>
/// <param name="Contradictions">Sentences on the claims that cannot hold together; empty when all agree.</param>
/// <param name="Notes">What was assumed.</param>
public sealed record ClaimSolution(
    Frequency Frequency,
    double ToleranceDecibels,
    double? EffectiveRadiusMetres,
    double? LeastRadiusMetres,
    double? MostRadiusMetres,
    double FigureOfMeritDecibels,
    double LeastFigureOfMeritDecibels,
    double MostFigureOfMeritDecibels,
    ImmutableArray<ClaimResidual> Residuals,
    ImmutableArray<string> Contradictions,
    ImmutableArray<string> Notes)
{
    /// <summary>Gets whether the claims agree within the tolerance.</summary>
    public bool IsConsistent => Contradictions.IsEmpty;

    /// <summary>Gets the root mean square of the residuals. [dB]</summary>
    public double RmsResidualDecibels =>
        Math.Sqrt(Residuals.Sum(residual => residual.ResidualDecibels * residual.ResidualDecibels) / Residuals.Length);

    /// <summary>Returns a transducer that fulfils the claims: the template with the beam and the threshold that they imply.</summary>
    /// <param name="template">Gives everything that claims do not say: source level, burst, positions, window. Its beams stay
    /// when the claims do not decide one.</param>
    /// <exception cref="InvalidOperationException">The claims contradict one another, or are all at one angle off the boresight:
    /// there is no such transducer, or no way to tell which.</exception>
    /// <exception cref="ArgumentException">The template has another frequency, or does not listen at a claimed range.</exception>
    /// <remarks>The threshold is the same at all times, as the solution assumed. Noise above it would deny the claims, so that
    /// the template's noise is lowered to the threshold where it is higher.</remarks>
    public Transducer ApplyTo(Transducer template)
    {
        ArgumentNullException.ThrowIfNull(template);
        if (!IsConsistent)
        {
            throw new InvalidOperationException($"The claims contradict one another: {string.Join(" ", Contradictions)}");
        }

        if (EffectiveRadiusMetres is null && Residuals[0].Claim.OffAxis.Radians != 0)
        {
            throw new InvalidOperationException(
                $"All claims are at {Residuals[0].Claim.OffAxis} off the boresight: one at another angle is needed.");
        }

        if (template.NominalFrequency != Frequency)
        {
            throw new ArgumentException(
                $"The claims were solved for {Frequency}; {template.Name} works at {template.NominalFrequency}.", nameof(template));
        }

        foreach (ClaimResidual residual in Residuals)
        {
            double speed = ClaimSolver.PropertiesOf(residual.Claim, Frequency).SoundSpeedMetresPerSecond;
            double range = residual.Claim.RangeMetres;
            if (range < template.DeadZoneMetres(speed) || range > template.WindowRangeMetres(speed))
            {
                throw new ArgumentException(
                    $"{template.Name} listens from {template.DeadZoneMetres(speed):0.00} to {template.WindowRangeMetres(speed):0.00} m; "
                    + $"a claim is for {range:0.##} m.",
                    nameof(template));
            }
        }

        double threshold = template.SourceLevelDecibels + template.BuildUpDecibels - FigureOfMeritDecibels;
        Directivity? beam = EffectiveRadiusMetres is { } radius ? new CircularPiston(radius) : null;
        return template with
        {
            Transmit = beam ?? template.Transmit,
            Receive = beam ?? template.Receive,
            Threshold = ThresholdProfile.Constant(threshold),
            NoiseLevelDecibels = Math.Min(template.NoiseLevelDecibels, threshold),
            Evidence = new TransducerEvidence(
                Residuals[0].Claim.Description,
                $"Solved from {Residuals.Length} detection claims, root mean square residual {RmsResidualDecibels:0.0} dB.",
                Math.Max(
                    RmsResidualDecibels, 0.5 * (MostFigureOfMeritDecibels - LeastFigureOfMeritDecibels)),
                "Detection claims: " + string.Join("; ", Residuals.Select(residual => residual.Claim.Description)) + "."),
        };
    }
}
