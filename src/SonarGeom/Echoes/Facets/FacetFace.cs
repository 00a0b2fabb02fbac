using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>A flat face of a surface: a triangle of its mesh, or two that make up a flat quadrilateral.</summary>
/// <param name="Corners">Its corners.</param>
/// <param name="UnitNormal">Outward normal.</param>
public readonly record struct FacetFace(FacetQuad Corners, Vec3 UnitNormal)
{
    private const double Tie = 1e-9;
    private const double FlatCosine = 1.0 - 1e-12;

    /// <summary>Gets the area. [m²]</summary>
    public double AreaSquareMetres => Corners.AreaVectorSquareMetres.Dot(UnitNormal);

    /// <summary>
    /// Makes faces from the facets of a mesh: two facets in one plane that share the longest edge of both become one face. Facets
    /// without area are left out. Faces come in the order of their first facet.
    /// </summary>
    /// <param name="mesh">The mesh.</param>
    public static ImmutableArray<FacetFace> All(TriangleMesh mesh)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        var faces = ImmutableArray.CreateBuilder<FacetFace>(mesh.Facets.Length);
        var open = new Dictionary<(Vec3 End, Vec3 Start), (int Face, Vec3 Opposite)>();
        foreach (Facet facet in mesh.Facets)
        {
            var triangle = FacetTriangle.Of(mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]);
            if (!(triangle.AreaSquareMetres > 0))
            {
                continue;
            }

            (Vec3 opposite, Vec3 start, Vec3 end) = LongestLast(triangle);
            if (open.Remove((end, start), out (int Face, Vec3 Opposite) other) && faces[other.Face].UnitNormal.Dot(triangle.UnitNormal) > FlatCosine)
            {
                faces[other.Face] = new FacetFace(new FacetQuad(other.Opposite, end, opposite, start), triangle.UnitNormal);
                continue;
            }

            open[(start, end)] = (faces.Count, opposite);
            faces.Add(new FacetFace(FromTriangle(triangle), triangle.UnitNormal));
        }

        return faces.ToImmutable();
    }

    /// <summary>The corners in order, beginning with the one opposite the longest edge.</summary>
    private static (Vec3 Opposite, Vec3 Start, Vec3 End) LongestLast(in FacetTriangle t)
    {
        double ab = (t.Second - t.First).LengthSquared;
        double bc = (t.Third - t.Second).LengthSquared;
        double ca = (t.First - t.Third).LengthSquared;
        return bc >= ab && bc >= ca ? (t.First, t.Second, t.Third)
            : ca >= ab ? (t.Second, t.Third, t.First)
            : (t.Third, t.First, t.Second);
    }

    /// <summary>The corner opposite the shortest edge comes twice, so that cuts run across the long direction. Which of two equal
    /// edges counts as shorter depends on where they are, not on the order of the corners, nor on left and right.</summary>
    private static FacetQuad FromTriangle(in FacetTriangle t)
    {
        Vec3 apex = t.First;
        Vec3 second = t.Second;
        Vec3 third = t.Third;
        if (IsShorter(t.Third, t.First, second, third))
        {
            (apex, second, third) = (t.Second, t.Third, t.First);
        }

        if (IsShorter(t.First, t.Second, second, third))
        {
            (apex, second, third) = (t.Third, t.First, t.Second);
        }

        return new FacetQuad(apex, second, third, apex);
    }

    private static bool IsShorter(Vec3 start, Vec3 end, Vec3 otherStart, Vec3 otherEnd)
    {
        double one = (end - start).Length;
        double other = (otherEnd - otherStart).Length;
        if (Math.Abs(one - other) > Tie * (one + other))
        {
            return one < other;
        }

        Vec3 here = start + end;
        Vec3 there = otherStart + otherEnd;
        return (here.X, here.Z, Math.Abs(here.Y)).CompareTo((there.X, there.Z, Math.Abs(there.Y))) < 0;
    }
}
