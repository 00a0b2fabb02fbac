using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

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

/// <summary>A round rope or chain along a line of points; its straight pieces are summed with their phases.</summary>
/// <param name="Name">What it is.</param>
/// <param name="PointsMetres">At least two points, each apart from the next. [m]</param>
/// <param name="RadiusMetres">Its radius, above 0. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record RopePart(string Name, ImmutableArray<Vec3> PointsMetres, double RadiusMetres, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the points. [m]</summary>
    public ImmutableArray<Vec3> PointsMetres { get; init; } = Checked(PointsMetres);

    /// <summary>Gets the radius. [m]</summary>
    public double RadiusMetres { get; init; } = Size(RadiusMetres, nameof(RadiusMetres));

    /// <inheritdoc/>
    public override Vec3 Middle => PointsMetres[PointsMetres.Length / 2];

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) =>
        this with { PointsMetres = [.. PointsMetres.Select(targetFromSource.ApplyToPoint)] };

    private static ImmutableArray<Vec3> Checked(ImmutableArray<Vec3> points)
    {
        if (points.IsDefault || points.Length < 2)
        {
            throw new ArgumentException("A rope needs at least two points.", nameof(points));
        }

        for (int i = 1; i < points.Length; i++)
        {
            Apart(points[i], points[i - 1], nameof(PointsMetres));
        }

        return points;
    }
}

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
