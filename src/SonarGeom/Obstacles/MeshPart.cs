using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A mesh at a pose, whose facets answer together: what the surface integral evaluates.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Shape">The mesh, whose materials have losses of their own.</param>
/// <param name="WorldFromMesh">Its pose.</param>
public sealed record MeshPart(string Name, MeshShape Shape, RigidTransform WorldFromMesh) : TargetPart(Name, 0)
{
    /// <summary>
    /// Gets the root-mean-square height of the level ground that it stands on, with which its sides make corners; null
    /// when it hangs or there is no ground. [m]
    /// </summary>
    public double? FloorRoughnessRmsMetres { get; init; }

    /// <summary>Gets the height of that ground. [m]</summary>
    public double FloorHeightMetres { get; init; }

    /// <summary>Gets whether only the paths with one bounce on the ground count: a corner, whose face answers as another part.</summary>
    public bool IsCornerOnly { get; init; }

    /// <inheritdoc/>
    public override Vec3 Middle => WorldFromMesh.ApplyToPoint(0.5 * (Shape.Bounds.LowMetres + Shape.Bounds.HighMetres));

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with { WorldFromMesh = targetFromSource * WorldFromMesh };
}
