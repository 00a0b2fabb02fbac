using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>What was taken out of a mesh before it was used.</summary>
/// <param name="MergedVertices">Vertices at the position of another of the same material.</param>
/// <param name="FlatFacets">Facets without an area.</param>
/// <param name="RepeatedFacets">Facets that were there before: left in, they would double the echo.</param>
/// <param name="WasInsideOut">Whether the surface was closed with all facets looking inward, and was turned outward.</param>
/// <param name="IsClosed">Whether every edge joins facets that look out of the same side, so that there is an inside.</param>
public sealed record MeshCleaning(int MergedVertices, int FlatFacets, int RepeatedFacets, bool WasInsideOut, bool IsClosed)
{
    // A facet this much lower than long has no direction that could be trusted.
    private const double FlattestRatio = 1e-9;

    /// <summary>Gets the cleaning in words; empty when nothing was done.</summary>
    public string InWords
    {
        get
        {
            var done = new List<string>();
            if (MergedVertices > 0)
            {
                done.Add($"{MergedVertices} repeated vertices merged");
            }

            if (FlatFacets > 0)
            {
                done.Add($"{FlatFacets} facets without area left out");
            }

            if (RepeatedFacets > 0)
            {
                done.Add($"{RepeatedFacets} repeated facets left out");
            }

            if (WasInsideOut)
            {
                done.Add("turned inside out");
            }

            return string.Join(", ", done);
        }
    }

    internal static MeshShape Clean(string name, ImmutableArray<MeshMaterial> materials)
    {
        long given = materials.Sum(m => (long)m.Mesh.Facets.Length);
        if (given == 0)
        {
            throw new ArgumentException($"{name} has no facets; it must have at least one.");
        }

        if (given > MeshShape.MostFacets)
        {
            throw new ArgumentException($"{name} has {given} facets; it may have at most {MeshShape.MostFacets}.");
        }

        foreach (MeshMaterial material in materials)
        {
            Check(name, material);
        }

        (int[][] welded, List<Vec3> positions) = Weld(materials);
        int merged = materials.Select((m, i) => m.Mesh.Vertices.Length - welded[i].Distinct().Count()).Sum(), flat = 0, repeated = 0;
        var seen = new HashSet<(int, int, int)>();
        var kept = new List<Facet>[materials.Length];
        for (int m = 0; m < materials.Length; m++)
        {
            kept[m] = new List<Facet>(materials[m].Mesh.Facets.Length);
            foreach (Facet raw in materials[m].Mesh.Facets)
            {
                var facet = new Facet(welded[m][raw.A], welded[m][raw.B], welded[m][raw.C]);
                if (IsFlat(positions[facet.A], positions[facet.B], positions[facet.C]))
                {
                    flat++;
                }
                else if (!seen.Add(Key(facet, materials[m].IsTwoSided)))
                {
                    repeated++;
                }
                else
                {
                    kept[m].Add(facet);
                }
            }
        }

        if (kept.All(k => k.Count == 0))
        {
            throw new ArgumentException($"{name} has no facet with an area; {flat} have none.");
        }

        bool isClosed = IsClosedSurface(kept);
        bool isInsideOut = isClosed && Volume(kept, positions) < 0;
        return new MeshShape(
            name,
            [.. materials.Select((m, i) => m with { Mesh = Compact(kept[i], positions, isInsideOut) }).Where(m => m.Mesh.Facets.Length > 0)],
            new MeshCleaning(merged, flat, repeated, isInsideOut, isClosed));
    }

    private static void Check(string name, MeshMaterial material)
    {
        Quantities.Finite.Within(material.ReflectionLossDecibels, 0, 100, "reflection loss", "dB");
        for (int i = 0; i < material.Mesh.Vertices.Length; i++)
        {
            // Also false for what is not a number.
            Vec3 v = material.Mesh.Vertices[i];
            if (!(Math.Max(Math.Abs(v.X), Math.Max(Math.Abs(v.Y), Math.Abs(v.Z))) <= MeshShape.FarthestMetres))
            {
                throw new ArgumentException(
                    $"A vertex of {name} is at ({v.X:R}, {v.Y:R}, {v.Z:R}) m; coordinates must be finite and within {MeshShape.FarthestMetres} m.");
            }
        }

        uint count = (uint)material.Mesh.Vertices.Length;
        foreach (Facet facet in material.Mesh.Facets)
        {
            if ((uint)facet.A >= count || (uint)facet.B >= count || (uint)facet.C >= count)
            {
                throw new ArgumentException($"A facet of {name} names the vertices {facet.A}, {facet.B} and {facet.C}; there are {count}, counted from 0.");
            }
        }
    }

    private static (int[][] Welded, List<Vec3> Positions) Weld(ImmutableArray<MeshMaterial> materials)
    {
        var first = new Dictionary<Vec3, int>();
        var positions = new List<Vec3>();
        var welded = new int[materials.Length][];
        for (int m = 0; m < materials.Length; m++)
        {
            ImmutableArray<Vec3> vertices = materials[m].Mesh.Vertices;
            welded[m] = new int[vertices.Length];
            for (int i = 0; i < vertices.Length; i++)
            {
                // Adding zero turns −0 into +0, so that both weld.
                var key = new Vec3(vertices[i].X + 0.0, vertices[i].Y + 0.0, vertices[i].Z + 0.0);
                if (!first.TryGetValue(key, out welded[m][i]))
                {
                    welded[m][i] = positions.Count;
                    first.Add(key, positions.Count);
                    positions.Add(key);
                }
            }
        }

        return (welded, positions);
    }

    private static bool IsFlat(Vec3 a, Vec3 b, Vec3 c)
    {
        double longest = Math.Max((b - a).LengthSquared, Math.Max((c - b).LengthSquared, (a - c).LengthSquared));
        return !((b - a).Cross(c - a).Length > FlattestRatio * longest);
    }

    // The corners from the lowest on, in the same turn; of sheets that answer on both sides, in either.
    private static (int, int, int) Key(Facet f, bool isTwoSided)
    {
        (int a, int b, int c) = f.A < f.B && f.A < f.C ? (f.A, f.B, f.C) : f.B < f.C ? (f.B, f.C, f.A) : (f.C, f.A, f.B);
        return isTwoSided && b > c ? (a, c, b) : (a, b, c);
    }

    private static bool IsClosedSurface(List<Facet>[] kept)
    {
        var edges = new long[3 * kept.Sum(k => k.Count)];
        int n = 0;
        foreach (Facet f in kept.SelectMany(k => k))
        {
            edges[n++] = Edge(f.A, f.B);
            edges[n++] = Edge(f.B, f.C);
            edges[n++] = Edge(f.C, f.A);
        }

        // Each edge must come as often in the one direction as in the other: sorted, both kinds of it stand together.
        Array.Sort(edges);
        for (int i = 0; i < n;)
        {
            int balance = 0;
            long edge = edges[i] >> 1;
            for (; i < n && edges[i] >> 1 == edge; i++)
            {
                balance += (edges[i] & 1) == 0 ? 1 : -1;
            }

            if (balance != 0)
            {
                return false;
            }
        }

        return true;
    }

    private static long Edge(int from, int to) =>
        from < to ? ((long)from << 32) | ((long)to << 1) : ((long)to << 32) | ((long)from << 1) | 1;

    private static double Volume(List<Facet>[] kept, List<Vec3> positions)
    {
        double six = 0;
        Vec3 origin = positions[0];
        foreach (Facet f in kept.SelectMany(k => k))
        {
            six += (positions[f.A] - origin).Dot((positions[f.B] - origin).Cross(positions[f.C] - origin));
        }

        return six / 6;
    }

    private static TriangleMesh Compact(List<Facet> facets, List<Vec3> positions, bool turn)
    {
        var place = new Dictionary<int, int>();
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var all = ImmutableArray.CreateBuilder<Facet>(facets.Count);
        foreach (Facet f in facets)
        {
            (int a, int b, int c) = (Place(f.A), Place(f.B), Place(f.C));
            all.Add(turn ? new Facet(a, c, b) : new Facet(a, b, c));
        }

        return new TriangleMesh(vertices.ToImmutable(), all.MoveToImmutable());

        int Place(int index)
        {
            if (!place.TryGetValue(index, out int at))
            {
                at = vertices.Count;
                place.Add(index, at);
                vertices.Add(positions[index]);
            }

            return at;
        }
    }
}
