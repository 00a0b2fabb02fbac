using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>The path r₁ + r₂ near a point of a surface, to second order.</summary>
/// <param name="u1">Unit direction from one end of the path to the point.</param>
/// <param name="u2">Unit direction from the other end to the point.</param>
/// <param name="curvature1">One over the distance of the first end. [1/m]</param>
/// <param name="curvature2">One over the distance of the other end. [1/m]</param>
internal readonly struct LocalWaves(Vec3 u1, Vec3 u2, double curvature1, double curvature2)
{
    /// <summary>The first-order change of the path over a displacement. [m]</summary>
    internal double Slope(Vec3 x) => u1.Dot(x) + u2.Dot(x);

    /// <summary>The second-order form: the path over x grows by half of Bulge(x, x) beyond its slope. [m]</summary>
    internal double Bulge(Vec3 x, Vec3 y)
    {
        double dot = x.Dot(y);
        return (curvature1 * (dot - (u1.Dot(x) * u1.Dot(y)))) + (curvature2 * (dot - (u2.Dot(x) * u2.Dot(y))));
    }

    /// <summary>
    /// The mean of the second-order part over a piece of two triangles. [m] Over a triangle with corners x and centre m, both taken
    /// from the centre of the piece, the mean of x xᵀ is (9 m mᵀ + Σ x xᵀ)/12.
    /// </summary>
    /// <param name="piece">The piece.</param>
    /// <param name="centre">Its centre of area. [m]</param>
    /// <param name="share">Share of the triangle A B C in the area.</param>
    internal double MeanBulge(in FacetQuad piece, Vec3 centre, double share)
    {
        Vec3 a = piece.A - centre;
        Vec3 b = piece.B - centre;
        Vec3 c = piece.C - centre;
        Vec3 d = piece.D - centre;
        double diagonal = Bulge(a, a) + Bulge(c, c);
        double first = Bulge(a + b + c, a + b + c) + diagonal + Bulge(b, b);
        double second = Bulge(a + c + d, a + c + d) + diagonal + Bulge(d, d);
        return ((share * first) + ((1.0 - share) * second)) / 24.0;
    }
}
