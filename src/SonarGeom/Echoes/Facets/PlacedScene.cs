using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Surfaces seen from another frame.</summary>
/// <param name="scene">The surfaces in their own frame.</param>
/// <param name="sceneFromHere">Their frame from this one.</param>
internal sealed class PlacedScene(IRayScene scene, RigidTransform sceneFromHere) : IRayScene
{
    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.AnyHit(sceneFromHere.ApplyToPoint(origin), sceneFromHere.Rotation.Apply(unitDirection), nearMetres, farMetres);

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.ClosestHit(sceneFromHere.ApplyToPoint(origin), sceneFromHere.Rotation.Apply(unitDirection), nearMetres, farMetres);
}
