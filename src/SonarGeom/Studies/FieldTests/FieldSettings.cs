using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.FieldTests;

/// <summary>How a field test is done and judged.</summary>
/// <param name="Air">The air.</param>
/// <param name="RequiredHits">Pings of a trial in which the target must be reported, from 1.</param>
/// <param name="WindowPings">Pings of a trial, up to 32.</param>
/// <param name="SpreadDecibels">How much the level differs from trial to trial by placing the target anew: a standard deviation, 0 to 6. [dB]</param>
/// <param name="ConfidenceFraction">The confidence of bands and intervals, 0.5 to 0.999. [unitless]</param>
public sealed record FieldSettings(
    AirState Air, int RequiredHits = 2, int WindowPings = 3, double SpreadDecibels = 1.5, double ConfidenceFraction = 0.95)
{
    /// <summary>The share of trials that come out wrong whatever the level, by a slip of hand or pen (a usual allowance for such fits). [unitless]</summary>
    public const double SlipFraction = 0.005;

    /// <summary>Gets the pings of a trial.</summary>
    public int WindowPings { get; init; } = (int)Finite.Within(WindowPings, 1, 32, "Pings of a trial", "pings");

    /// <summary>Gets the pings in which the target must be reported.</summary>
    public int RequiredHits { get; init; } = (int)Finite.Within(RequiredHits, 1, WindowPings, "Required hits", "hits");

    /// <summary>Gets the spread from trial to trial. [dB]</summary>
    public double SpreadDecibels { get; init; } = Finite.Within(SpreadDecibels, 0, 6, "Spread from trial to trial", "dB");

    /// <summary>Gets the confidence. [unitless]</summary>
    public double ConfidenceFraction { get; init; } = Finite.Within(ConfidenceFraction, 0.5, 0.999, "Confidence", "(no unit)");
}
