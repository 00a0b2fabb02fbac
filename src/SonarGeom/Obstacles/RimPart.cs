using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>The sharp circular rim between the flat end and the side of a round post.</summary>
/// <param name="Name">What it is.</param>
/// <param name="CentreMetres">Centre of the rim. [m]</param>
/// <param name="Axis">Outward direction of the flat end.</param>
/// <param name="RadiusMetres">Radius of the rim, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record RimPart(string Name, Vec3 CentreMetres, Vec3 Axis, double RadiusMetres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the unit outward direction of the flat end.</summary>
    public Vec3 Axis { get; init; } = Unit(Axis, nameof(Axis));

    /// <summary>Gets the radius of the rim. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <inheritdoc/>
    public override Vec3 Middle => CentreMetres;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with
    {
        CentreMetres = targetFromSource.ApplyToPoint(CentreMetres),
        Axis = targetFromSource.ApplyToDirection(Axis),
    };
}
