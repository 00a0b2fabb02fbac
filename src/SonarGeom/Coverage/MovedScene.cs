using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Coverage;

/// <summary>Surfaces displaced without turning: obstacles as the wearer sees them part way along the path.</summary>
/// <param name="scene">The surfaces where they stand.</param>
/// <param name="offsetMetres">The displacement. [m]</param>
internal sealed class MovedScene(IRayScene scene, Vec3 offsetMetres) : IRayScene
{
    private const int RaysAtATime = 64;

    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.AnyHit(origin - offsetMetres, unitDirection, nearMetres, farMetres);

    /// <inheritdoc/>
    public bool IsClear(Vec3 lowMetres, Vec3 highMetres) => scene.IsClear(lowMetres - offsetMetres, highMetres - offsetMetres);

    /// <inheritdoc/>
    public void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        Span<Ray> moved = stackalloc Ray[RaysAtATime];
        for (int start = 0; start < rays.Length; start += RaysAtATime)
        {
            int count = Math.Min(RaysAtATime, rays.Length - start);
            for (int i = 0; i < count; i++)
            {
                moved[i] = rays[start + i] with { Origin = rays[start + i].Origin - offsetMetres };
            }

            scene.AnyHits(moved[..count], hits[start..]);
        }
    }

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.ClosestHit(origin - offsetMetres, unitDirection, nearMetres, farMetres);
}
