using SonarGeom.Geometry.Rays;

namespace SonarGeom.Geometry;

/// <summary>A hit of a ray on a surface.</summary>
/// <param name="DistanceMetres">Distance from the origin along the unit direction. [m]</param>
/// <param name="ObjectId">The caller's number for the object hit.</param>
/// <param name="PrimitiveId">The number of the triangle or primitive in that object.</param>
public readonly record struct RayHit(double DistanceMetres, int ObjectId, int PrimitiveId);

/// <summary>Surfaces that rays can be tested against. Implementations are immutable and safe to share between threads.</summary>
public interface IRayScene
{
    /// <summary>Returns whether anything lies on the segment of a ray.</summary>
    /// <param name="origin">Start of the ray. [m]</param>
    /// <param name="unitDirection">Unit direction.</param>
    /// <param name="nearMetres">Hits nearer than this are ignored. [m]</param>
    /// <param name="farMetres">Hits farther than this are ignored. [m]</param>
    bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres);

    /// <summary>Returns the nearest hit on the segment of a ray, or null.</summary>
    /// <param name="origin">Start of the ray. [m]</param>
    /// <param name="unitDirection">Unit direction.</param>
    /// <param name="nearMetres">Hits nearer than this are ignored. [m]</param>
    /// <param name="farMetres">Hits farther than this are ignored. [m]</param>
    RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres);

    /// <summary>Returns whether there is surely nothing in a box; false tells nothing.</summary>
    /// <param name="lowMetres">Its least corner. [m]</param>
    /// <param name="highMetres">Its largest corner. [m]</param>
    bool IsClear(Vec3 lowMetres, Vec3 highMetres) => false;

    /// <summary>Finds for each ray whether anything lies on it; the same answers as one by one.</summary>
    /// <param name="rays">The rays.</param>
    /// <param name="hits">Receives one entry for each ray.</param>
    void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        for (int i = 0; i < rays.Length; i++)
        {
            hits[i] = AnyHit(rays[i].Origin, rays[i].UnitDirection, rays[i].NearMetres, rays[i].FarMetres);
        }
    }

    /// <summary>Finds the nearest hit of each ray, or null; the same answers as one by one.</summary>
    /// <param name="rays">The rays.</param>
    /// <param name="hits">Receives one entry for each ray.</param>
    void ClosestHits(ReadOnlySpan<Ray> rays, Span<RayHit?> hits)
    {
        for (int i = 0; i < rays.Length; i++)
        {
            hits[i] = ClosestHit(rays[i].Origin, rays[i].UnitDirection, rays[i].NearMetres, rays[i].FarMetres);
        }
    }
}
