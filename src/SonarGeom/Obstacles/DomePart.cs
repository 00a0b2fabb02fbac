using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Obstacles;

/// <summary>A piece of a sphere whose outward normals lie within a cone: the top of a domed bollard.</summary>
/// <param name="Name">What it is.</param>
/// <param name="CentreMetres">Centre of the sphere. [m]</param>
/// <param name="RadiusMetres">Radius of the sphere, above 0. [m]</param>
/// <param name="Axis">Direction of the middle of the dome.</param>
/// <param name="HalfAngle">Half angle of the cone of normals, above 0 and at most 180°.</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record DomePart(
    string Name, Vec3 CentreMetres, double RadiusMetres, Vec3 Axis, Angle HalfAngle, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the radius of the sphere. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <summary>Gets the unit direction of the middle of the dome.</summary>
    public Vec3 Axis { get; init; } = Unit(Axis, nameof(Axis));

    /// <summary>Gets the half angle of the cone of normals.</summary>
    public Angle HalfAngle { get; init; } = HalfAngle.Radians is > 0 and <= Math.PI
        ? HalfAngle
        : throw new ArgumentOutOfRangeException(nameof(HalfAngle), $"HalfAngle is {HalfAngle}; it must be above 0° and at most 180°.");

    /// <inheritdoc/>
    public override Vec3 Middle => CentreMetres + (RadiusMetres * Axis);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with
    {
        CentreMetres = targetFromSource.ApplyToPoint(CentreMetres),
        Axis = targetFromSource.ApplyToDirection(Axis),
    };
}
