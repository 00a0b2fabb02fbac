using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>An edge of a mesh.</summary>
/// <param name="StartMetres">One end; the left facet runs from here to the other end. [m]</param>
/// <param name="EndMetres">The other end. [m]</param>
/// <param name="LeftNormal">Outward normal of the facet on the left.</param>
/// <param name="RightNormal">Outward normal of the facet on the right; zero on a border.</param>
/// <param name="LeftHeightMetres">Height of the left facet over the edge. [m]</param>
/// <param name="RightHeightMetres">Height of the right facet over the edge; 0 on a border. [m]</param>
/// <param name="TurnRadians">Angle between the normals, positive where the surface is convex; 0 on a border. [rad]</param>
public readonly record struct MeshEdge(
    Vec3 StartMetres,
    Vec3 EndMetres,
    Vec3 LeftNormal,
    Vec3 RightNormal,
    double LeftHeightMetres,
    double RightHeightMetres,
    double TurnRadians)
{
    /// <summary>Gets whether only one facet has this edge.</summary>
    public bool IsBorder => RightNormal == Vec3.Zero;
}

/// <summary>The edges of a mesh, found by the positions of their ends.</summary>
/// <param name="Shared">Edges between two facets.</param>
/// <param name="Borders">Edges of a single facet.</param>
public sealed record MeshEdges(ImmutableArray<MeshEdge> Shared, ImmutableArray<MeshEdge> Borders)
{
    /// <summary>Finds the edges of a mesh in the order of its facets. Vertices at the same position count as one; facets
    /// without area are left out; a third facet on the same edge begins a new edge.</summary>
    /// <param name="mesh">The mesh.</param>
    public static MeshEdges Of(TriangleMesh mesh)
    {
        var shared = ImmutableArray.CreateBuilder<MeshEdge>();
        ImmutableArray<MeshEdge> borders = Visit(mesh, edge => shared.Add(edge));
        return new MeshEdges(shared.ToImmutable(), borders);
    }

    /// <summary>Visits the edges between two facets and returns those of a single one; keeps only edges still waiting for their
    /// second facet.</summary>
    internal static ImmutableArray<MeshEdge> Visit(TriangleMesh mesh, Action<MeshEdge> visit)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        int[] welded = Weld(mesh.Vertices);
        var open = new Dictionary<(int Low, int High), HalfEdge>();
        Span<int> corner = stackalloc int[3];
        for (int f = 0; f < mesh.Facets.Length; f++)
        {
            Facet facet = mesh.Facets[f];
            (corner[0], corner[1], corner[2]) = (welded[facet.A], welded[facet.B], welded[facet.C]);
            var triangle = FacetTriangle.Of(mesh.Vertices[corner[0]], mesh.Vertices[corner[1]], mesh.Vertices[corner[2]]);
            if (triangle.AreaSquareMetres == 0)
            {
                continue;
            }

            for (int e = 0; e < 3; e++)
            {
                int start = corner[e];
                int end = corner[(e + 1) % 3];
                Vec3 opposite = mesh.Vertices[corner[(e + 2) % 3]];
                var key = start < end ? (start, end) : (end, start);
                double height = 2.0 * triangle.AreaSquareMetres / mesh.Vertices[start].DistanceTo(mesh.Vertices[end]);
                if (open.Remove(key, out HalfEdge other))
                {
                    visit(Join(mesh, other, triangle.UnitNormal, height, opposite));
                }
                else
                {
                    open.Add(key, new HalfEdge((3L * f) + e, start, end, triangle.UnitNormal, height));
                }
            }
        }

        return
        [
            .. open.Values.OrderBy(half => half.Order).Select(half => new MeshEdge(
                mesh.Vertices[half.Start], mesh.Vertices[half.End], half.Normal, Vec3.Zero, half.Height, 0.0, 0.0)),
        ];
    }

    private static MeshEdge Join(TriangleMesh mesh, HalfEdge left, Vec3 rightNormal, double rightHeight, Vec3 rightOpposite)
    {
        Vec3 start = mesh.Vertices[left.Start];
        Vec3 end = mesh.Vertices[left.End];
        double turn = Math.Atan2(left.Normal.Cross(rightNormal).Length, left.Normal.Dot(rightNormal));
        bool isConcave = (rightOpposite - start).Dot(left.Normal) > 0;
        return new MeshEdge(start, end, left.Normal, rightNormal, left.Height, rightHeight, isConcave ? -turn : turn);
    }

    private static int[] Weld(ImmutableArray<Vec3> vertices)
    {
        var first = new Dictionary<Vec3, int>(vertices.Length);
        var welded = new int[vertices.Length];
        for (int i = 0; i < vertices.Length; i++)
        {
            // Adding zero turns −0 into +0, so that both weld.
            var key = new Vec3(vertices[i].X + 0.0, vertices[i].Y + 0.0, vertices[i].Z + 0.0);
            if (!first.TryGetValue(key, out welded[i]))
            {
                welded[i] = i;
                first.Add(key, i);
            }
        }

        return welded;
    }

    private readonly record struct HalfEdge(long Order, int Start, int End, Vec3 Normal, double Height);
}
