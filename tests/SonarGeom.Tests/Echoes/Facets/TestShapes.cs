using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Echoes.Facets;

/// <summary>Meshes that the tests of the surface integral share.</summary>
internal static class TestShapes
{
    internal const double SoundSpeed = 343.2;
    internal const double Wavenumber = 2 * Math.PI * 40_000 / SoundSpeed;

    /// <summary>A rectangle in the plane z = 0 about the origin, facing up.</summary>
    internal static TriangleMesh Rectangle(double lengthX, double lengthY)
    {
        double x = 0.5 * lengthX;
        double y = 0.5 * lengthY;
        return new TriangleMesh(
            [new Vec3(-x, -y, 0), new Vec3(x, -y, 0), new Vec3(x, y, 0), new Vec3(-x, y, 0)],
            [new Facet(0, 1, 2), new Facet(0, 2, 3)]);
    }

    /// <summary>A regular polygon of the area of a disc in the plane z = 0, facing up.</summary>
    internal static TriangleMesh Disc(double radius, int sides)
    {
        double circumradius = radius * Math.Sqrt(2 * Math.PI / sides / Math.Sin(2 * Math.PI / sides));
        ImmutableArray<Vec3> vertices =
        [
            Vec3.Zero,
            .. Enumerable.Range(0, sides).Select(i => new Vec3(
                circumradius * Math.Cos(2 * Math.PI * i / sides), circumradius * Math.Sin(2 * Math.PI * i / sides), 0)),
        ];
        return new TriangleMesh(vertices, [.. Enumerable.Range(0, sides).Select(i => new Facet(0, 1 + i, 1 + ((i + 1) % sides)))]);
    }

    /// <summary>An upright tube about the z axis, open at its ends, with its corners on the radius.</summary>
    internal static TriangleMesh Tube(double radius, double bottom, double top, int sides)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (int i = 0; i < sides; i++)
        {
            var (sine, cosine) = Math.SinCos(2 * Math.PI * i / sides);
            vertices.Add(new Vec3(radius * cosine, radius * sine, bottom));
            vertices.Add(new Vec3(radius * cosine, radius * sine, top));
            int next = (i + 1) % sides;
            facets.Add(new Facet(2 * i, 2 * next, (2 * next) + 1));
            facets.Add(new Facet(2 * i, (2 * next) + 1, (2 * i) + 1));
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>A box with its faces outward.</summary>
    internal static TriangleMesh Box(Vec3 low, Vec3 high)
    {
        Vec3 At(int i) => new((i & 1) == 0 ? low.X : high.X, (i & 2) == 0 ? low.Y : high.Y, (i & 4) == 0 ? low.Z : high.Z);
        int[][] faces = [[0, 4, 6, 2], [1, 3, 7, 5], [0, 1, 5, 4], [2, 6, 7, 3], [0, 2, 3, 1], [4, 5, 7, 6]];
        return new TriangleMesh(
            [.. Enumerable.Range(0, 8).Select(At)],
            [.. faces.SelectMany(f => new[] { new Facet(f[0], f[1], f[2]), new Facet(f[0], f[2], f[3]) })]);
    }

    /// <summary>A sphere about the origin: an icosahedron whose faces are split in four again and again.</summary>
    internal static TriangleMesh Sphere(double radius, int level)
    {
        double g = 0.5 * (1 + Math.Sqrt(5));
        var vertices = new List<Vec3>
        {
            new(-1, g, 0), new(1, g, 0), new(-1, -g, 0), new(1, -g, 0), new(0, -1, g), new(0, 1, g),
            new(0, -1, -g), new(0, 1, -g), new(g, 0, -1), new(g, 0, 1), new(-g, 0, -1), new(-g, 0, 1),
        };
        List<Facet> facets =
        [
            new(0, 11, 5), new(0, 5, 1), new(0, 1, 7), new(0, 7, 10), new(0, 10, 11), new(1, 5, 9), new(5, 11, 4), new(11, 10, 2),
            new(10, 7, 6), new(7, 1, 8), new(3, 9, 4), new(3, 4, 2), new(3, 2, 6), new(3, 6, 8), new(3, 8, 9), new(4, 9, 5),
            new(2, 4, 11), new(6, 2, 10), new(8, 6, 7), new(9, 8, 1),
        ];
        for (int i = 0; i < level; i++)
        {
            var middles = new Dictionary<(int, int), int>();
            int Middle(int a, int b)
            {
                var key = a < b ? (a, b) : (b, a);
                if (!middles.TryGetValue(key, out int index))
                {
                    index = vertices.Count;
                    vertices.Add((vertices[a].Normalized() + vertices[b].Normalized()).Normalized());
                    middles.Add(key, index);
                }

                return index;
            }

            facets = [.. facets.SelectMany(f =>
            {
                int ab = Middle(f.A, f.B);
                int bc = Middle(f.B, f.C);
                int ca = Middle(f.C, f.A);
                return new[] { new Facet(f.A, ab, ca), new Facet(f.B, bc, ab), new Facet(f.C, ca, bc), new Facet(ab, bc, ca) };
            })];
        }

        return new TriangleMesh([.. vertices.Select(v => radius * v.Normalized())], [.. facets]);
    }
}
