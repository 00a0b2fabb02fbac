using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>The corner that a round upright makes with the smooth ground it stands on.</summary>
/// <param name="Name">What it is.</param>
/// <param name="FootMetres">Where the axis meets the ground. [m]</param>
/// <param name="Axis">Direction of the axis, up, square to the ground.</param>
/// <param name="HeightMetres">Height of the upright, above 0. [m]</param>
/// <param name="RadiusMetres">Its radius, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss of the upright; the floor is taken as hard. [dB]</param>
public sealed record PoleFootPart(
    string Name, Vec3 FootMetres, Vec3 Axis, double HeightMetres, double RadiusMetres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the unit direction of the axis.</summary>
    public Vec3 Axis { get; init; } = Unit(Axis, nameof(Axis));

    /// <summary>Gets the height. [m]</summary>
    public double HeightMetres { get; init; } = Size(HeightMetres, nameof(HeightMetres));

    /// <summary>Gets the radius. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <summary>Gets the root-mean-square height of the floor; <see cref="TargetPart.RoughnessRmsMetres"/> is that of the upright. [m]</summary>
    public double FloorRoughnessRmsMetres { get; init; }

    /// <inheritdoc/>
    public override Vec3 Middle => FootMetres;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with
    {
        FootMetres = targetFromSource.ApplyToPoint(FootMetres),
        Axis = targetFromSource.ApplyToDirection(Axis),
    };
}
