using System.Runtime.InteropServices;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// Facets so small that each acts as a point with an area and a normal, laid out for vector arithmetic: one array for each
/// coordinate, in single precision about an origin.
/// </summary>
public sealed class FacetCloud
{
    /// <summary>Room kept behind the last facet, so that whole vectors can be read.</summary>
    internal const int Padding = 32;

    private const int MostFacets = 1 << 28;

    private FacetCloud(Vec3 origin, int count, bool hasExtent)
    {
        OriginMetres = origin;
        Count = count;
        X = new float[count + Padding];
        Y = new float[count + Padding];
        Z = new float[count + Padding];
        NormalX = new float[count + Padding];
        NormalY = new float[count + Padding];
        NormalZ = new float[count + Padding];
        Area = new float[count + Padding];
        Extents = hasExtent ? [.. Enumerable.Range(0, 6).Select(_ => new float[count + Padding])] : [];
    }

    /// <summary>Gets the point that positions are taken from. [m]</summary>
    public Vec3 OriginMetres { get; }

    /// <summary>Gets the number of facets.</summary>
    public int Count { get; }

    /// <summary>Gets whether the shape of each facet is known to second order, beyond its area.</summary>
    public bool HasExtent => Extents.Length > 0;

    internal float[] X { get; }

    internal float[] Y { get; }

    internal float[] Z { get; }

    internal float[] NormalX { get; }

    internal float[] NormalY { get; }

    internal float[] NormalZ { get; }

    internal float[] Area { get; }

    /// <summary>Gets two vectors p, r for each facet, six arrays: the mean of x xᵀ over the facet is p pᵀ + r rᵀ.</summary>
    internal float[][] Extents { get; }

    /// <summary>Makes a cloud of points with areas.</summary>
    /// <param name="records">Seven numbers for each facet: centre x, y, z [m], outward unit normal x, y, z, area [m²].</param>
    /// <exception cref="ArgumentException">The length is not a multiple of seven.</exception>
    public static FacetCloud FromRecords(ReadOnlySpan<float> records)
    {
        if (records.Length % 7 != 0)
        {
            throw new ArgumentException($"There are {records.Length} numbers; they must come in sevens.", nameof(records));
        }

        var cloud = new FacetCloud(Vec3.Zero, records.Length / 7, hasExtent: false);
        for (int i = 0; i < cloud.Count; i++)
        {
            ReadOnlySpan<float> record = records.Slice(7 * i, 7);
            (cloud.X[i], cloud.Y[i], cloud.Z[i]) = (record[0], record[1], record[2]);
            (cloud.NormalX[i], cloud.NormalY[i], cloud.NormalZ[i]) = (record[3], record[4], record[5]);
            cloud.Area[i] = record[6];
        }

        return cloud;
    }

    /// <summary>Makes a cloud of a surface, its faces split until they are small.</summary>
    /// <param name="surface">The surface.</param>
    /// <param name="largestRadiusMetres">Faces are split until no corner is farther than this from the middle. [m]</param>
    /// <exception cref="ArgumentOutOfRangeException">The radius is not above 0, or more than 2²⁸ facets would be needed.</exception>
    public static FacetCloud Of(FacetSurface surface, double largestRadiusMetres)
    {
        ArgumentNullException.ThrowIfNull(surface);
        if (!(largestRadiusMetres > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(largestRadiusMetres), $"The largest radius is {largestRadiusMetres} m; it must be above 0.");
        }

        double square = largestRadiusMetres * largestRadiusMetres;
        var pieces = new List<FacetFace>(surface.Faces.Length);
        foreach (FacetFace face in surface.Faces)
        {
            var pending = new FacetPieces(face.Corners);
            while (pending.TryTake(out FacetQuad piece))
            {
                if (!(piece.RadiusSquared > square && pending.TrySplit(piece)))
                {
                    pieces.Add(face with { Corners = piece });
                }
            }

            if (pieces.Count > MostFacets)
            {
                throw new ArgumentOutOfRangeException(
                    nameof(largestRadiusMetres), $"More than {MostFacets} facets would be needed for a radius of {largestRadiusMetres} m.");
            }
        }

        return Of(CollectionsMarshal.AsSpan(pieces), surface.IsTwoSided);
    }

    /// <summary>Makes a cloud of small faces; of a sheet that reflects on both sides, each comes once with either normal.</summary>
    internal static FacetCloud Of(ReadOnlySpan<FacetFace> faces, bool isTwoSided)
    {
        Vec3 sum = Vec3.Zero;
        foreach (FacetFace face in faces)
        {
            sum += face.Corners.CentreMetres;
        }

        var cloud = new FacetCloud(sum / Math.Max(1, faces.Length), isTwoSided ? 2 * faces.Length : faces.Length, hasExtent: true);
        for (int i = 0; i < faces.Length; i++)
        {
            cloud.Set(i, faces[i].Corners, faces[i].UnitNormal);
            if (isTwoSided)
            {
                int back = faces.Length + i;
                cloud.Set(back, faces[i].Corners, faces[i].UnitNormal);
                (cloud.NormalX[back], cloud.NormalY[back], cloud.NormalZ[back]) = (-cloud.NormalX[i], -cloud.NormalY[i], -cloud.NormalZ[i]);
            }
        }

        return cloud;
    }

    private void Set(int i, in FacetQuad piece, Vec3 normal)
    {
        double area1 = 0.5 * (piece.B - piece.A).Cross(piece.C - piece.A).Dot(normal);
        double area2 = 0.5 * (piece.C - piece.A).Cross(piece.D - piece.A).Dot(normal);
        double area = area1 + area2;
        double share = area1 / area;
        Vec3 centre = ((share * (piece.A + piece.B + piece.C)) + ((1.0 - share) * (piece.A + piece.C + piece.D))) / 3.0;
        Vec3 at = centre - OriginMetres;
        (X[i], Y[i], Z[i]) = ((float)at.X, (float)at.Y, (float)at.Z);
        (NormalX[i], NormalY[i], NormalZ[i]) = ((float)normal.X, (float)normal.Y, (float)normal.Z);
        Area[i] = (float)area;

        // Mean of x xᵀ in two directions of the plane, then a Cholesky factor: p along the first direction, r along the second.
        Vec3 e1 = (piece.C - piece.A).Normalized();
        Vec3 e2 = normal.Cross(e1);
        double m11 = Mean(piece, centre, share, e1, e1);
        double m12 = Mean(piece, centre, share, e1, e2);
        double m22 = Mean(piece, centre, share, e2, e2);
        double root = Math.Sqrt(Math.Max(m11, 1e-30));
        Vec3 p = (root * e1) + ((m12 / root) * e2);
        Vec3 r = Math.Sqrt(Math.Max(0.0, m22 - (m12 * m12 / (root * root)))) * e2;
        (Extents[0][i], Extents[1][i], Extents[2][i]) = ((float)p.X, (float)p.Y, (float)p.Z);
        (Extents[3][i], Extents[4][i], Extents[5][i]) = ((float)r.X, (float)r.Y, (float)r.Z);
    }

    private static double Mean(in FacetQuad piece, Vec3 centre, double share, Vec3 e1, Vec3 e2)
    {
        // Over a triangle with corners x and centre m, both from the centre of the piece: (9 m mᵀ + Σ x xᵀ)/12.
        Vec3 a = piece.A - centre;
        Vec3 b = piece.B - centre;
        Vec3 c = piece.C - centre;
        Vec3 d = piece.D - centre;
        double Product(Vec3 x) => x.Dot(e1) * x.Dot(e2);
        double diagonal = Product(a) + Product(c);
        double first = Product(a + b + c) + diagonal + Product(b);
        double second = Product(a + c + d) + diagonal + Product(d);
        return ((share * first) + ((1.0 - share) * second)) / 12.0;
    }
}
