using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Meshes of simple shapes, open where another part of an obstacle takes over, as fine as a sagitta asks.</summary>
internal static class ShapeMeshes
{
    private const int FewestSides = 16;

    /// <summary>The side of a cylinder or a truncated cone, without its ends.</summary>
    internal static TriangleMesh Frustum(Vec3 end1, double radius1, Vec3 end2, double radius2, double sagitta)
    {
        Vec3 axis = (end2 - end1).Normalized();
        (Vec3 across, Vec3 up) = Square(axis);
        int sides = Sides(Math.Max(radius1, radius2), sagitta);
        var vertices = ImmutableArray.CreateBuilder<Vec3>(2 * sides);
        var facets = ImmutableArray.CreateBuilder<Facet>(2 * sides);
        for (int i = 0; i < sides; i++)
        {
            var (sine, cosine) = Math.SinCos(2.0 * Math.PI * (i + 0.5) / sides);
            Vec3 outward = (cosine * across) + (sine * up);
            vertices.Add(end1 + (radius1 * outward));
            vertices.Add(end2 + (radius2 * outward));
            int next = (i + 1) % sides;
            facets.Add(new Facet(2 * i, 2 * next, (2 * next) + 1));
            facets.Add(new Facet(2 * i, (2 * next) + 1, (2 * i) + 1));
        }

        return new TriangleMesh(vertices.MoveToImmutable(), facets.MoveToImmutable());
    }

    /// <summary>Cylinders along a line of points, one after the other.</summary>
    internal static TriangleMesh Rope(ImmutableArray<Vec3> points, double radius, double sagitta)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (int i = 1; i < points.Length; i++)
        {
            TriangleMesh piece = Frustum(points[i - 1], radius, points[i], radius, sagitta);
            int first = vertices.Count;
            vertices.AddRange(piece.Vertices);
            facets.AddRange(piece.Facets.Select(f => new Facet(f.A + first, f.B + first, f.C + first)));
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>The part of a sphere whose normals lie within an angle of an axis; all of it for π.</summary>
    internal static TriangleMesh Cap(Vec3 centre, double radius, Vec3 axis, double halfAngle, double sagitta)
    {
        (Vec3 across, Vec3 up) = Square(axis);
        int sides = Sides(radius, 0.5 * sagitta);
        int rings = Math.Max(4, (int)Math.Ceiling(sides * halfAngle / (2.0 * Math.PI)));
        bool isWhole = halfAngle > Math.PI - 1e-9;
        int lastRing = isWhole ? rings - 1 : rings;
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        vertices.Add(centre + (radius * axis));
        int before = 0;
        int beforeCount = 1;
        for (int ring = 1; ring <= lastRing; ring++)
        {
            // Fewer vertices where the ring is short.
            var (sine, cosine) = Math.SinCos(halfAngle * ring / rings);
            int count = Math.Max(8, (int)Math.Ceiling(sides * sine));
            int first = vertices.Count;
            for (int i = 0; i < count; i++)
            {
                var (s, c) = Math.SinCos(2.0 * Math.PI * (i + 0.5) / count);
                vertices.Add(centre + (radius * ((cosine * axis) + (sine * ((c * across) + (s * up))))));
            }

            Stitch(facets, before, beforeCount, first, count);
            (before, beforeCount) = (first, count);
        }

        if (isWhole)
        {
            int last = vertices.Count;
            vertices.Add(centre - (radius * axis));
            Stitch(facets, before, beforeCount, last, 1);
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>A regular polygon of the area of a disc.</summary>
    internal static TriangleMesh Disc(Vec3 centre, Vec3 normal, double radius, double sagitta)
    {
        (Vec3 across, Vec3 up) = Square(normal);
        int sides = Sides(radius, sagitta);
        double circumradius = radius * Math.Sqrt(2.0 * Math.PI / sides / Math.Sin(2.0 * Math.PI / sides));
        var vertices = ImmutableArray.CreateBuilder<Vec3>(sides + 1);
        var facets = ImmutableArray.CreateBuilder<Facet>(sides);
        vertices.Add(centre);
        for (int i = 0; i < sides; i++)
        {
            var (sine, cosine) = Math.SinCos(2.0 * Math.PI * (i + 0.5) / sides);
            vertices.Add(centre + (circumradius * ((cosine * across) + (sine * up))));
            facets.Add(new Facet(0, 1 + i, 1 + ((i + 1) % sides)));
        }

        return new TriangleMesh(vertices.MoveToImmutable(), facets.MoveToImmutable());
    }

    /// <summary>A flat outline cut into triangles, ear by ear; its corners run counter-clockwise about the normal or clockwise.</summary>
    internal static TriangleMesh Polygon(ImmutableArray<Vec3> corners, Vec3 normal)
    {
        var left = Enumerable.Range(0, corners.Length).ToList();
        if (SignedArea(corners, normal) < 0)
        {
            left.Reverse();
        }

        var facets = ImmutableArray.CreateBuilder<Facet>(corners.Length - 2);
        int misses = 0;
        int at = 0;
        while (left.Count > 3 && misses <= left.Count)
        {
            int a = left[at % left.Count];
            int b = left[(at + 1) % left.Count];
            int c = left[(at + 2) % left.Count];
            if (IsEar(corners, left, a, b, c, normal))
            {
                facets.Add(new Facet(a, b, c));
                left.RemoveAt((at + 1) % (left.Count));
                at %= left.Count;
                misses = 0;
            }
            else
            {
                at = (at + 1) % left.Count;
                misses++;
            }
        }

        facets.Add(new Facet(left[0], left[1], left[2]));
        return new TriangleMesh(corners, facets.ToImmutable());
    }

    private static bool IsEar(ImmutableArray<Vec3> corners, List<int> left, int a, int b, int c, Vec3 normal)
    {
        double Side(int i, int j, int k) => (corners[j] - corners[i]).Cross(corners[k] - corners[i]).Dot(normal);
        if (!(Side(a, b, c) > 0))
        {
            return false;
        }

        foreach (int other in left)
        {
            if (other != a && other != b && other != c && Side(a, b, other) >= 0 && Side(b, c, other) >= 0 && Side(c, a, other) >= 0)
            {
                return false;
            }
        }

        return true;
    }

    private static double SignedArea(ImmutableArray<Vec3> corners, Vec3 normal)
    {
        Vec3 sum = Vec3.Zero;
        for (int i = 1; i + 1 < corners.Length; i++)
        {
            sum += (corners[i] - corners[0]).Cross(corners[i + 1] - corners[0]);
        }

        return 0.5 * sum.Dot(normal);
    }

    /// <summary>Joins two rings of vertices with triangles, advancing on whichever ring lags behind.</summary>
    private static void Stitch(ImmutableArray<Facet>.Builder facets, int inner, int innerCount, int outer, int outerCount)
    {
        int i = 0;
        int o = 0;
        int innerSteps = innerCount == 1 ? 0 : innerCount;
        int outerSteps = outerCount == 1 ? 0 : outerCount;
        while (i < innerSteps || o < outerSteps)
        {
            double innerNext = innerSteps == 0 ? double.PositiveInfinity : (i + 1.0) / innerSteps;
            double outerNext = outerSteps == 0 ? double.PositiveInfinity : (o + 1.0) / outerSteps;
            int innerNow = inner + (i % innerCount);
            int outerNow = outer + (o % outerCount);
            if (o < outerSteps && (outerNext <= innerNext || i >= innerSteps))
            {
                facets.Add(new Facet(innerNow, outerNow, outer + ((o + 1) % outerCount)));
                o++;
            }
            else
            {
                facets.Add(new Facet(innerNow, outerNow, inner + ((i + 1) % innerCount)));
                i++;
            }
        }
    }

    /// <summary>Sides of a regular polygon whose chords stand off its circle by at most a sagitta, in multiples of four.</summary>
    private static int Sides(double radius, double sagitta) =>
        Math.Max(FewestSides, 4 * (int)Math.Ceiling(Math.PI * Math.Sqrt(radius / (2.0 * sagitta)) / 4.0));

    /// <summary>Two unit directions that make a right-handed frame with a third.</summary>
    private static (Vec3 Across, Vec3 Up) Square(Vec3 axis)
    {
        Vec3 reference = Math.Abs(axis.Z) < 0.9 ? Vec3.UnitZ : Vec3.UnitX;
        Vec3 across = reference.Cross(axis).Normalized();
        return (across, axis.Cross(across));
    }
}
