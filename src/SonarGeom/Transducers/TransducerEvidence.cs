using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>Where the figures of a transducer come from and how sure they are.</summary>
/// <param name="RangeTarget">The target, range and air for which the stated range holds: a range without a target means nothing.</param>
/// <param name="Confidence">How sure the figures are, in words.</param>
/// <param name="FigureOfMeritUncertaintyDecibels">The figure of merit is known to ± this much, 0 or above. [dB]</param>
/// <param name="Source">The source of the figures.</param>
public sealed record TransducerEvidence(
    string RangeTarget, string Confidence, double FigureOfMeritUncertaintyDecibels, string Source)
{
    /// <summary>Gets the uncertainty of the figure of merit, ±, from 0 to 40. [dB]</summary>
    public double FigureOfMeritUncertaintyDecibels
    {
        get;
        init => field = Finite.Within(value, 0, 40, nameof(FigureOfMeritUncertaintyDecibels), "dB");
    } = Finite.Within(FigureOfMeritUncertaintyDecibels, 0, 40, nameof(FigureOfMeritUncertaintyDecibels), "dB");
}
