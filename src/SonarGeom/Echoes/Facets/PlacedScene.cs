using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Echoes.Facets;

/// <summary>Surfaces seen from another frame.</summary>
/// <param name="scene">The surfaces in their own frame.</param>
/// <param name="sceneFromHere">Their frame from this one.</param>
internal sealed class PlacedScene(IRayScene scene, RigidTransform sceneFromHere) : IRayScene
{
    private const int RaysAtATime = 64;

    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.AnyHit(sceneFromHere.ApplyToPoint(origin), sceneFromHere.Rotation.Apply(unitDirection), nearMetres, farMetres);

    /// <inheritdoc/>
    public void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        Span<Ray> placed = stackalloc Ray[RaysAtATime];
        for (int start = 0; start < rays.Length; start += RaysAtATime)
        {
            int count = Math.Min(RaysAtATime, rays.Length - start);
            for (int i = 0; i < count; i++)
            {
                Ray ray = rays[start + i];
                placed[i] = ray with { Origin = sceneFromHere.ApplyToPoint(ray.Origin), UnitDirection = sceneFromHere.Rotation.Apply(ray.UnitDirection) };
            }

            scene.AnyHits(placed[..count], hits[start..]);
        }
    }

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.ClosestHit(sceneFromHere.ApplyToPoint(origin), sceneFromHere.Rotation.Apply(unitDirection), nearMetres, farMetres);
}
