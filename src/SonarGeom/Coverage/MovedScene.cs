using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <summary>Surfaces displaced without turning: obstacles as the wearer sees them part way along the path.</summary>
/// <param name="scene">The surfaces where they stand.</param>
/// <param name="offsetMetres">The displacement. [m]</param>
internal sealed class MovedScene(IRayScene scene, Vec3 offsetMetres) : IRayScene
{
    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.AnyHit(origin - offsetMetres, unitDirection, nearMetres, farMetres);

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        scene.ClosestHit(origin - offsetMetres, unitDirection, nearMetres, farMetres);
}
