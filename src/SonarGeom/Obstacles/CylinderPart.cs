using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>The curved side of a round rod between two ends.</summary>
/// <param name="Name">What it is.</param>
/// <param name="End1Metres">Middle of one end. [m]</param>
/// <param name="End2Metres">Middle of the other end. [m]</param>
/// <param name="RadiusMetres">Its radius, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record CylinderPart(string Name, Vec3 End1Metres, Vec3 End2Metres, double RadiusMetres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the middle of the other end. [m]</summary>
    public Vec3 End2Metres { get; init; } = Apart(End2Metres, End1Metres, nameof(End2Metres));

    /// <summary>Gets the radius. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <inheritdoc/>
    public override Vec3 Middle => 0.5 * (End1Metres + End2Metres);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => new CylinderPart(
        Name, targetFromSource.ApplyToPoint(End1Metres), targetFromSource.ApplyToPoint(End2Metres), RadiusMetres, ReflectionLossDecibels)
    { RoughnessRmsMetres = RoughnessRmsMetres, CountsAsDetection = CountsAsDetection };
}
