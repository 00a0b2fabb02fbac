using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>Times in which a device does something else and does not look.</summary>
/// <param name="Reason">What it does then: "spoken message", "other mode", "sleep".</param>
/// <param name="ShareFraction">The share of the time, from 0 to 0.95. [unitless]</param>
/// <param name="MeanSeconds">How long one such time lasts on average, from 0.05 to 600; lengths are drawn exponentially. [s]</param>
public sealed record AwayTime(string Reason, double ShareFraction, double MeanSeconds)
{
    /// <summary>Gets the share of the time. [unitless]</summary>
    public double ShareFraction { get; } = Finite.Within(ShareFraction, 0, 0.95, "Share of time in which the device does not look", "(no unit)");

    /// <summary>Gets how long one such time lasts on average. [s]</summary>
    public double MeanSeconds { get; } = Finite.Within(MeanSeconds, 0.05, 600, "Mean time in which the device does not look", "s");
}
