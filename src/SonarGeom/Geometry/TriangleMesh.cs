using System.Collections.Immutable;

namespace SonarGeom.Geometry;

/// <summary>One facet: three vertex indices, counter-clockwise seen from outside.</summary>
/// <param name="A">First vertex index.</param>
/// <param name="B">Second vertex index.</param>
/// <param name="C">Third vertex index.</param>
public readonly record struct Facet(int A, int B, int C);

/// <summary>An indexed triangle mesh. Facets are counter-clockwise seen from outside.</summary>
/// <param name="Vertices">Vertex positions. [m]</param>
/// <param name="Facets">Triangles.</param>
public sealed record TriangleMesh(ImmutableArray<Vec3> Vertices, ImmutableArray<Facet> Facets)
{
    /// <summary>Returns the mesh moved by a rigid transform.</summary>
    public TriangleMesh Transformed(RigidTransform targetFromSource) =>
        this with { Vertices = [.. Vertices.Select(targetFromSource.ApplyToPoint)] };
}
