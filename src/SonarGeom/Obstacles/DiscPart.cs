using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A flat disc.</summary>
/// <param name="Name">What it is.</param>
/// <param name="CentreMetres">Its centre. [m]</param>
/// <param name="Normal">Direction of its front.</param>
/// <param name="RadiusMetres">Its radius, above 0. [m]</param>
/// <param name="IsTwoSided">Whether the back answers as well as the front.</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record DiscPart(
    string Name, Vec3 CentreMetres, Vec3 Normal, double RadiusMetres, bool IsTwoSided = true, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the unit normal towards the front.</summary>
    public Vec3 Normal { get; init; } = Unit(Normal, nameof(Normal));

    /// <summary>Gets the radius. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <inheritdoc/>
    public override Vec3 Middle => CentreMetres;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with
    {
        CentreMetres = targetFromSource.ApplyToPoint(CentreMetres),
        Normal = targetFromSource.ApplyToDirection(Normal),
    };
}
