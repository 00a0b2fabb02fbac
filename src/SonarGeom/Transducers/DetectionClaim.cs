using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A claim such as "just detects a 75 mm pole at 3.0 m on the boresight, and at 2.0 m 15° off it".</summary>
/// <param name="Target">What is detected, square to the line of sight and centred on it.</param>
/// <param name="RangeMetres">The largest range at which it is detected, 0.05 to 50, to its nearest point. [m]</param>
/// <param name="OffAxis">How far the line of sight lies off the boresight, from −85° to 85°; its sign does not matter.</param>
/// <param name="Air">The air of the trial; null when the claim does not say.</param>
public sealed record DetectionClaim(ClaimTarget Target, double RangeMetres, Angle OffAxis, AirState? Air = null)
{
    /// <summary>Gets what is detected.</summary>
    public ClaimTarget Target { get; init => field = NotNull(value); } = NotNull(Target);

    /// <summary>Gets the largest range at which it is detected. [m]</summary>
    public double RangeMetres { get; init => field = Reach(value); } = Reach(RangeMetres);

    /// <summary>Gets how far the line of sight lies off the boresight.</summary>
    public Angle OffAxis { get; init => field = InFront(value); } = InFront(OffAxis);

    /// <summary>Gets the claim in words.</summary>
    public string Description =>
        $"{Target.Description} at {RangeMetres:0.##} m, {(OffAxis.Radians == 0 ? "on the boresight" : $"{OffAxis} off the boresight")}"
        + (Air is null ? ", air not stated" : $", {Air}");

    private static ClaimTarget NotNull(ClaimTarget target) => target ?? throw new ArgumentNullException(nameof(target));

    private static double Reach(double metres) => Finite.Within(metres, 0.05, 50, nameof(RangeMetres), "m");

    private static Angle InFront(Angle angle)
    {
        Finite.Within(angle.Degrees, -85, 85, nameof(OffAxis), "°");
        return angle;
    }
}
