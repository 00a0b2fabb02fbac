using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A flat outline of any number of corners, at any attitude.</summary>
/// <param name="Name">What it is.</param>
/// <param name="CornersMetres">
/// Corners in one plane, counter-clockwise seen from the front; the outline must not cross itself. [m]
/// </param>
/// <param name="IsTwoSided">Whether the back answers as well as the front.</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record PolygonPart(string Name, ImmutableArray<Vec3> CornersMetres, bool IsTwoSided = true, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    private readonly Vec3 _normal = NormalOf(CornersMetres);

    /// <summary>Gets the corners. [m]</summary>
    public ImmutableArray<Vec3> CornersMetres { get; } = CornersMetres;

    /// <summary>Gets the unit normal towards the front.</summary>
    public Vec3 Normal => _normal;

    /// <inheritdoc/>
    public override Vec3 Middle
    {
        get
        {
            Vec3 sum = Vec3.Zero;
            foreach (Vec3 corner in CornersMetres)
            {
                sum += corner;
            }

            return sum / CornersMetres.Length;
        }
    }

    /// <summary>Returns a rectangle.</summary>
    /// <param name="name">What it is.</param>
    /// <param name="middleMetres">Its middle. [m]</param>
    /// <param name="halfAcross">From the middle to the middle of one edge. [m]</param>
    /// <param name="halfUp">
    /// From the middle to the middle of the next edge; <c>halfAcross × halfUp</c> points to the front. [m]
    /// </param>
    /// <param name="isTwoSided">Whether the back answers as well as the front.</param>
    /// <param name="reflectionLossDecibels">Material loss. [dB]</param>
    public static PolygonPart Rectangle(
        string name, Vec3 middleMetres, Vec3 halfAcross, Vec3 halfUp, bool isTwoSided = true, double reflectionLossDecibels = 0) =>
        new(
            name,
            [
                middleMetres - halfAcross - halfUp, middleMetres + halfAcross - halfUp,
                middleMetres + halfAcross + halfUp, middleMetres - halfAcross + halfUp,
            ],
            isTwoSided,
            reflectionLossDecibels);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) =>
        new PolygonPart(Name, [.. CornersMetres.Select(targetFromSource.ApplyToPoint)], IsTwoSided, ReflectionLossDecibels)
        { RoughnessRmsMetres = RoughnessRmsMetres, CountsAsDetection = CountsAsDetection };

    private static Vec3 NormalOf(ImmutableArray<Vec3> corners)
    {
        if (corners.IsDefault || corners.Length < 3)
        {
            throw new ArgumentException("A flat outline needs at least three corners.", nameof(corners));
        }

        Vec3 twiceArea = Vec3.Zero;
        double extent = 0;
        for (int i = 0; i < corners.Length; i++)
        {
            Point(corners[i], nameof(CornersMetres));
            twiceArea += (corners[i] - corners[0]).Cross(corners[(i + 1) % corners.Length] - corners[0]);
            extent = Math.Max(extent, corners[i].DistanceTo(corners[0]));
        }

        if (!(twiceArea.Length > 1e-12))
        {
            throw new ArgumentException("The corners enclose no area.", nameof(corners));
        }

        Vec3 normal = twiceArea.Normalized();
        foreach (Vec3 corner in corners)
        {
            double off = Math.Abs((corner - corners[0]).Dot(normal));
            if (off > 1e-6 * extent + 1e-9)
            {
                throw new ArgumentException($"The corners do not lie in one plane: one is {off} m off it.", nameof(corners));
            }
        }

        return normal;
    }
}
