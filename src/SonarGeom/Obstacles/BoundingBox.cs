using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A box along the world axes.</summary>
/// <param name="LowMetres">The corner of smallest coordinates. [m]</param>
/// <param name="HighMetres">The corner of largest coordinates. [m]</param>
public readonly record struct BoundingBox(Vec3 LowMetres, Vec3 HighMetres)
{
    /// <summary>Returns the smallest box that holds all points.</summary>
    /// <param name="pointsMetres">At least one point. [m]</param>
    /// <exception cref="ArgumentException">There is no point.</exception>
    public static BoundingBox Of(IReadOnlyCollection<Vec3> pointsMetres)
    {
        if (pointsMetres.Count == 0)
        {
            throw new ArgumentException("A bounding box needs at least one point.", nameof(pointsMetres));
        }

        return new(
            new Vec3(pointsMetres.Min(p => p.X), pointsMetres.Min(p => p.Y), pointsMetres.Min(p => p.Z)),
            new Vec3(pointsMetres.Max(p => p.X), pointsMetres.Max(p => p.Y), pointsMetres.Max(p => p.Z)));
    }
}
