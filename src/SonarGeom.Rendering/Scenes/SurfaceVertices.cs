using System.Numerics;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Rendering.Scenes;

/// <summary>A surface ready for drawing: vertices with normals, and facets without degenerate ones, in glTF's frame.</summary>
internal sealed class SurfaceVertices
{
    private SurfaceVertices(Vector3[] positions, Vector3[] normals, int[] indices)
    {
        Positions = positions;
        Normals = normals;
        Indices = indices;
    }

    public Vector3[] Positions { get; }

    public Vector3[] Normals { get; }

    public int[] Indices { get; }

    /// <summary>Smooths a mesh: each corner's normal is the area-weighted mean over the facets that meet there and lean no
    /// more than the given angle against the corner's own facet.</summary>
    public static SurfaceVertices Of(TriangleMesh mesh, Angle sharpEdge)
    {
        // Weld equal positions, so that facets that were given their own vertices still share a normal.
        int[] welded = new int[mesh.Vertices.Length];
        var places = new List<Vector3>(mesh.Vertices.Length);
        var known = new Dictionary<Vector3, int>(mesh.Vertices.Length);
        for (int i = 0; i < welded.Length; i++)
        {
            // Adding zero turns a negative zero into a positive one.
            Vector3 p = GltfAxes.FromWorld(mesh.Vertices[i]) + Vector3.Zero;
            if (!known.TryGetValue(p, out int index))
            {
                index = places.Count;
                known.Add(p, index);
                places.Add(p);
            }

            welded[i] = index;
        }

        var corners = new List<int>(3 * mesh.Facets.Length);
        var areas = new List<Vector3>(mesh.Facets.Length);
        foreach (Facet facet in mesh.Facets)
        {
            int a = welded[facet.A];
            int b = welded[facet.B];
            int c = welded[facet.C];
            Vector3 area = Vector3.Cross(places[b] - places[a], places[c] - places[a]);
            if (a != b && b != c && c != a && area.LengthSquared() > 0)
            {
                corners.Add(a);
                corners.Add(b);
                corners.Add(c);
                areas.Add(area);
            }
        }

        return Smooth(places, corners, areas, (float)Math.Cos(sharpEdge.Radians));
    }

    private static SurfaceVertices Smooth(List<Vector3> places, List<int> corners, List<Vector3> areas, float leastCosine)
    {
        // Facets around each place, as one array with offsets.
        int[] offsets = new int[places.Count + 1];
        foreach (int place in corners)
        {
            offsets[place + 1]++;
        }

        for (int i = 0; i < places.Count; i++)
        {
            offsets[i + 1] += offsets[i];
        }

        int[] around = new int[corners.Count];
        int[] fill = (int[])offsets.Clone();
        for (int k = 0; k < corners.Count; k++)
        {
            around[fill[corners[k]]++] = k / 3;
        }

        Vector3[] units = new Vector3[areas.Count];
        for (int f = 0; f < units.Length; f++)
        {
            units[f] = Vector3.Normalize(areas[f]);
        }

        var positions = new List<Vector3>(places.Count);
        var normals = new List<Vector3>(places.Count);
        int[] indices = new int[corners.Count];
        int[] firstVertex = new int[places.Count];
        Array.Fill(firstVertex, -1);
        var nextVertex = new List<int>(places.Count);
        for (int k = 0; k < corners.Count; k++)
        {
            int place = corners[k];
            int facet = k / 3;
            Vector3 sum = Vector3.Zero;
            for (int i = offsets[place]; i < offsets[place + 1]; i++)
            {
                if (around[i] == facet || Vector3.Dot(units[around[i]], units[facet]) >= leastCosine)
                {
                    sum += areas[around[i]];
                }
            }

            Vector3 normal = sum.LengthSquared() > 0 ? Vector3.Normalize(sum) : units[facet];
            normal += Vector3.Zero;

            // Corners at one place with the same normal share a vertex.
            int vertex = firstVertex[place];
            while (vertex >= 0 && normals[vertex] != normal)
            {
                vertex = nextVertex[vertex];
            }

            if (vertex < 0)
            {
                vertex = positions.Count;
                positions.Add(places[place]);
                normals.Add(normal);
                nextVertex.Add(firstVertex[place]);
                firstVertex[place] = vertex;
            }

            indices[k] = vertex;
        }

        return new([.. positions], [.. normals], indices);
    }
}
