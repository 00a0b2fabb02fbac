using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>Turns of closed surfaces.</summary>
internal static class MeshShaping
{
    /// <summary>Returns the surface moved so that a point becomes the origin.</summary>
    internal static TriangleMesh From(this TriangleMesh mesh, Vec3 origin) =>
        mesh with { Vertices = [.. mesh.Vertices.Select(v => v - origin)] };

    /// <summary>Returns the surface with left and right swapped, its facets still facing outwards.</summary>
    internal static TriangleMesh MirroredLeftRight(this TriangleMesh mesh) => new(
        [.. mesh.Vertices.Select(v => v.MirroredLeftRight())],
        [.. mesh.Facets.Select(f => new Facet(f.A, f.C, f.B))]);

    /// <summary>Returns a surface lofted upwards laid down, so that its axis runs ahead, its front faces up and its left right.</summary>
    internal static TriangleMesh LaidAhead(this TriangleMesh mesh) =>
        mesh with { Vertices = [.. mesh.Vertices.Select(v => new Vec3(v.Z, -v.Y, v.X))] };

    /// <summary>Returns several surfaces as one.</summary>
    internal static TriangleMesh Together(params ReadOnlySpan<TriangleMesh> meshes)
    {
        List<Vec3> vertices = [];
        List<Facet> facets = [];
        foreach (TriangleMesh mesh in meshes)
        {
            int first = vertices.Count;
            vertices.AddRange(mesh.Vertices);
            facets.AddRange(mesh.Facets.Select(f => new Facet(f.A + first, f.B + first, f.C + first)));
        }

        return new TriangleMesh([.. vertices], [.. facets]);
    }
}
