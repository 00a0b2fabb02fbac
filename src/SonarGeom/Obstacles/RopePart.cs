using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

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
