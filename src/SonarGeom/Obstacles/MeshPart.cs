using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A mesh at a pose, whose facets answer together: what the surface integral evaluates.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Shape">The mesh, whose materials have losses of their own.</param>
/// <param name="WorldFromMesh">Its pose.</param>
public sealed record MeshPart(string Name, MeshShape Shape, RigidTransform WorldFromMesh) : TargetPart(Name, 0)
{
    /// <summary>
    /// Gets the root-mean-square height of the level ground that it stands on, at height 0, with which its sides make corners; null
    /// when it hangs or there is no ground. [m]
    /// </summary>
    public double? FloorRoughnessRmsMetres { get; init; }

    /// <inheritdoc/>
    public override Vec3 Middle => WorldFromMesh.ApplyToPoint(0.5 * (Shape.Bounds.LowMetres + Shape.Bounds.HighMetres));

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with { WorldFromMesh = targetFromSource * WorldFromMesh };
}
