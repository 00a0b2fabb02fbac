using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Collects triangles; counter-clockwise seen from outside.</summary>
internal sealed class MeshBuilder
{
    private readonly ImmutableArray<Vec3>.Builder _vertices = ImmutableArray.CreateBuilder<Vec3>();
    private readonly ImmutableArray<Facet>.Builder _facets = ImmutableArray.CreateBuilder<Facet>();

    public void AddTriangle(Vec3 a, Vec3 b, Vec3 c)
    {
        if (a == b || b == c || c == a)
        {
            return;
        }

        int first = _vertices.Count;
        _vertices.Add(a);
        _vertices.Add(b);
        _vertices.Add(c);
        _facets.Add(new(first, first + 1, first + 2));
    }

    public void AddQuad(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
    {
        AddTriangle(a, b, c);
        AddTriangle(a, c, d);
    }

    public void AddBox(Vec3 p, Vec3 q)
    {
        AddQuad(new(p.X, p.Y, p.Z), new(p.X, q.Y, p.Z), new(q.X, q.Y, p.Z), new(q.X, p.Y, p.Z));
        AddQuad(new(p.X, p.Y, q.Z), new(q.X, p.Y, q.Z), new(q.X, q.Y, q.Z), new(p.X, q.Y, q.Z));
        AddQuad(new(p.X, p.Y, p.Z), new(q.X, p.Y, p.Z), new(q.X, p.Y, q.Z), new(p.X, p.Y, q.Z));
        AddQuad(new(p.X, q.Y, p.Z), new(p.X, q.Y, q.Z), new(q.X, q.Y, q.Z), new(q.X, q.Y, p.Z));
        AddQuad(new(p.X, p.Y, p.Z), new(p.X, p.Y, q.Z), new(p.X, q.Y, q.Z), new(p.X, q.Y, p.Z));
        AddQuad(new(q.X, p.Y, p.Z), new(q.X, q.Y, p.Z), new(q.X, q.Y, q.Z), new(q.X, p.Y, q.Z));
    }

    public TriangleMesh ToMesh() => new(_vertices.ToImmutable(), _facets.ToImmutable());
}
