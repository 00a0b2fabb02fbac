using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Meshes and items for the common parts of a scene. World frame, metres.</summary>
public static class SceneShapes
{
    private const int Around = 24;

    /// <summary>Returns a closed cylinder.</summary>
    /// <param name="end1">Centre of one end. [m]</param>
    /// <param name="end2">Centre of the other end, apart from the first. [m]</param>
    /// <param name="radiusMetres">Radius at the first end. [m]</param>
    /// <param name="radius2Metres">Radius at the second end, 0 for a cone; null for the same. [m]</param>
    /// <exception cref="ArgumentException">The ends coincide.</exception>
    public static TriangleMesh Cylinder(Vec3 end1, Vec3 end2, double radiusMetres, double? radius2Metres = null)
    {
        Vec3 axis = end2 - end1;
        if (!(axis.Length > 0))
        {
            throw new ArgumentException("The two ends of a cylinder coincide.", nameof(end2));
        }

        (Vec3 u, Vec3 v) = Across(axis.Normalized());
        double radius2 = radius2Metres ?? radiusMetres;
        var builder = new MeshBuilder();
        for (int i = 0; i < Around; i++)
        {
            Vec3 a = Rim(i);
            Vec3 b = Rim(i + 1);
            builder.AddQuad(end1 + (radiusMetres * a), end1 + (radiusMetres * b), end2 + (radius2 * b), end2 + (radius2 * a));
            builder.AddTriangle(end1, end1 + (radiusMetres * b), end1 + (radiusMetres * a));
            builder.AddTriangle(end2, end2 + (radius2 * a), end2 + (radius2 * b));
        }

        return builder.ToMesh();

        Vec3 Rim(int i)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * (i % Around) / Around);
            return (cos * u) + (sin * v);
        }
    }

    /// <summary>Returns a sphere.</summary>
    /// <param name="centre">Centre. [m]</param>
    /// <param name="radiusMetres">Radius. [m]</param>
    public static TriangleMesh Sphere(Vec3 centre, double radiusMetres)
    {
        const int rings = Around / 2;
        var builder = new MeshBuilder();
        for (int ring = 0; ring < rings; ring++)
        {
            for (int i = 0; i < Around; i++)
            {
                builder.AddQuad(At(ring, i), At(ring + 1, i), At(ring + 1, i + 1), At(ring, i + 1));
            }
        }

        return builder.ToMesh();

        Vec3 At(int ring, int i)
        {
            (double sinRing, double cosRing) = Math.SinCos(Math.PI * ring / rings);
            (double sin, double cos) = Math.SinCos(2 * Math.PI * (i % Around) / Around);
            double r = ring is 0 or rings ? 0 : radiusMetres * sinRing;
            return centre + new Vec3(r * cos, r * sin, radiusMetres * cosRing);
        }
    }

    /// <summary>Returns an upright box.</summary>
    /// <param name="least">Corner with the least coordinates. [m]</param>
    /// <param name="greatest">Corner with the greatest coordinates. [m]</param>
    public static TriangleMesh Box(Vec3 least, Vec3 greatest)
    {
        var builder = new MeshBuilder();
        builder.AddBox(least, greatest);
        return builder.ToMesh();
    }

    /// <summary>Returns an arrow, such as a boresight: a shaft and a point.</summary>
    /// <param name="from">Foot. [m]</param>
    /// <param name="to">Tip, apart from the foot. [m]</param>
    /// <param name="shaftRadiusMetres">Radius of the shaft. [m]</param>
    public static TriangleMesh Arrow(Vec3 from, Vec3 to, double shaftRadiusMetres)
    {
        Vec3 axis = to - from;
        double head = Math.Min(0.4 * axis.Length, 7 * shaftRadiusMetres);
        Vec3 neck = to - (head * axis.Normalized());
        return Joined(Cylinder(from, neck, shaftRadiusMetres), Cylinder(neck, to, 2.6 * shaftRadiusMetres, 0));
    }

    /// <summary>Returns a tube of round pieces along a polyline, with spheres at its points.</summary>
    /// <param name="points">At least two points. [m]</param>
    /// <param name="radiusMetres">Radius. [m]</param>
    public static TriangleMesh Tube(ReadOnlySpan<Vec3> points, double radiusMetres)
    {
        var parts = new List<TriangleMesh>();
        for (int i = 0; i < points.Length; i++)
        {
            if (i > 0 && points[i] != points[i - 1])
            {
                parts.Add(Cylinder(points[i - 1], points[i], radiusMetres));
            }

            parts.Add(Sphere(points[i], radiusMetres));
        }

        return Joined([.. parts]);
    }

    /// <summary>Returns several meshes as one.</summary>
    /// <param name="meshes">The meshes.</param>
    public static TriangleMesh Joined(params ReadOnlySpan<TriangleMesh> meshes)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        foreach (TriangleMesh mesh in meshes)
        {
            int first = vertices.Count;
            vertices.AddRange(mesh.Vertices);
            foreach (Facet f in mesh.Facets)
            {
                facets.Add(new(f.A + first, f.B + first, f.C + first));
            }
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>Returns the ground: a pale plane and lines one metre apart, stronger every five.</summary>
    /// <param name="aheadMetres">How far it reaches ahead, at least 1. [m]</param>
    /// <param name="behindMetres">How far it reaches behind, at least 0. [m]</param>
    /// <param name="sideMetres">How far it reaches to each side, at least 1. [m]</param>
    public static SceneGroup Ground(int aheadMetres, int behindMetres, int sideMetres)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(aheadMetres, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(behindMetres, 0);
        ArgumentOutOfRangeException.ThrowIfLessThan(sideMetres, 1);

        // The plane lies a little below the lines, so that the two do not flicker.
        const double below = -0.004;
        var fine = ImmutableArray.CreateBuilder<ImmutableArray<Vec3>>();
        var strong = ImmutableArray.CreateBuilder<ImmutableArray<Vec3>>();
        for (int x = -behindMetres; x <= aheadMetres; x++)
        {
            (x % 5 == 0 ? strong : fine).Add([new(x, -sideMetres, 0), new(x, sideMetres, 0)]);
        }

        for (int y = -sideMetres; y <= sideMetres; y++)
        {
            (y % 5 == 0 ? strong : fine).Add([new(-behindMetres, y, 0), new(aheadMetres, y, 0)]);
        }

        var plane = new MeshBuilder();
        plane.AddQuad(
            new(-behindMetres, -sideMetres, below), new(aheadMetres, -sideMetres, below),
            new(aheadMetres, sideMetres, below), new(-behindMetres, sideMetres, below));
        return new(
            "ground",
            [
                new SceneSurface("ground plane", plane.ToMesh(), Colour.FromHex("e8e6e0")) { IsTwoSided = true },
                new SceneLines("grid, 1 m", fine.ToImmutable(), Colour.FromHex("b4b0a6")),
                new SceneLines("grid, 5 m", strong.ToImmutable(), Colour.FromHex("7d786c")),
            ]);
    }

    /// <summary>Returns a scale bar along X: tenths of a metre, dark and yellow in turn.</summary>
    /// <param name="start">Its near end. [m]</param>
    /// <param name="lengthMetres">Its length, at least 1. [m]</param>
    public static SceneGroup ScaleBar(Vec3 start, int lengthMetres = 1)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(lengthMetres, 1);
        const double tenth = 0.1;
        const double width = 0.03;
        var dark = new MeshBuilder();
        var pale = new MeshBuilder();
        for (int i = 0; i < 10 * lengthMetres; i++)
        {
            (i % 2 == 0 ? dark : pale).AddBox(
                start + new Vec3(i * tenth, 0, 0), start + new Vec3((i + 1) * tenth, width, width));
        }

        return new(
            $"scale bar, {lengthMetres} m",
            [
                new SceneSurface("tenths, dark", dark.ToMesh(), Colour.Ink),
                new SceneSurface("tenths, yellow", pale.ToMesh(), Colour.FromHex("e0a800")),
            ]);
    }

    private static (Vec3 U, Vec3 V) Across(Vec3 unit)
    {
        Vec3 aside = Math.Abs(unit.Z) < 0.9 ? Vec3.UnitZ : Vec3.UnitX;
        Vec3 u = aside.Cross(unit).Normalized();
        return (u, unit.Cross(u));
    }
}
