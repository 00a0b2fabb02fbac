using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>The curved side of a truncated cone, as of a chamfer.</summary>
/// <param name="Name">What it is.</param>
/// <param name="End1Metres">Middle of the first rim. [m]</param>
/// <param name="Radius1Metres">Radius of the first rim, above 0. [m]</param>
/// <param name="End2Metres">Middle of the second rim. [m]</param>
/// <param name="Radius2Metres">Radius of the second rim, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record ConePart(
    string Name, Vec3 End1Metres, double Radius1Metres, Vec3 End2Metres, double Radius2Metres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the radius of the first rim. [m]</summary>
    public double Radius1Metres { get; init; } = Size(Radius1Metres, nameof(Radius1Metres));

    /// <summary>Gets the middle of the second rim. [m]</summary>
    public Vec3 End2Metres { get; init; } = Apart(End2Metres, End1Metres, nameof(End2Metres));

    /// <summary>Gets the radius of the second rim. [m]</summary>
    public double Radius2Metres { get; init; } = Size(Radius2Metres, nameof(Radius2Metres));

    /// <inheritdoc/>
    public override Vec3 Middle => 0.5 * (End1Metres + End2Metres);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => new ConePart(
        Name, targetFromSource.ApplyToPoint(End1Metres), Radius1Metres, targetFromSource.ApplyToPoint(End2Metres), Radius2Metres, ReflectionLossDecibels)
    { RoughnessRmsMetres = RoughnessRmsMetres, CountsAsDetection = CountsAsDetection };
}
