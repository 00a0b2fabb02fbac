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
}
