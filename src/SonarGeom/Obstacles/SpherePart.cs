using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A sphere.</summary>
/// <param name="Name">What it is.</param>
/// <param name="CentreMetres">Its centre. [m]</param>
/// <param name="RadiusMetres">Its radius, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record SpherePart(string Name, Vec3 CentreMetres, double RadiusMetres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the radius. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <inheritdoc/>
    public override Vec3 Middle => CentreMetres;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) =>
        this with { CentreMetres = targetFromSource.ApplyToPoint(CentreMetres) };
}
