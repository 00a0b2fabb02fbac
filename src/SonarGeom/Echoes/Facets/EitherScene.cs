using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Echoes.Facets;

/// <summary>Two sets of surfaces as one; hits keep the numbers of their own set.</summary>
/// <param name="one">One set.</param>
/// <param name="other">The other.</param>
internal sealed class EitherScene(IRayScene one, IRayScene other) : IRayScene
{
    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        one.AnyHit(origin, unitDirection, nearMetres, farMetres) || other.AnyHit(origin, unitDirection, nearMetres, farMetres);

    /// <inheritdoc/>
    public bool IsClear(Vec3 lowMetres, Vec3 highMetres) => one.IsClear(lowMetres, highMetres) && other.IsClear(lowMetres, highMetres);

    /// <inheritdoc/>
    public void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        one.AnyHits(rays, hits);
        RemainingRays.AnyHits(other, rays, hits);
    }

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres)
    {
        RayHit? here = one.ClosestHit(origin, unitDirection, nearMetres, farMetres);
        RayHit? there = other.ClosestHit(origin, unitDirection, nearMetres, here?.DistanceMetres ?? farMetres);
        return there ?? here;
    }
}
