using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>One facet with its area and outward normal.</summary>
/// <param name="First">First corner. [m]</param>
/// <param name="Second">Second corner, counter-clockwise seen from outside. [m]</param>
/// <param name="Third">Third corner. [m]</param>
/// <param name="UnitNormal">Outward normal; zero for a facet without area.</param>
/// <param name="AreaSquareMetres">The area. [m²]</param>
public readonly record struct FacetTriangle(Vec3 First, Vec3 Second, Vec3 Third, Vec3 UnitNormal, double AreaSquareMetres)
{
    /// <summary>Gets the centre of area. [m]</summary>
    public Vec3 CentroidMetres => (First + Second + Third) / 3.0;

    /// <summary>Gets the distance from the centre to the farthest corner. [m]</summary>
    public double RadiusMetres
    {
        get
        {
            Vec3 centre = CentroidMetres;
            double a = (First - centre).LengthSquared;
            double b = (Second - centre).LengthSquared;
            double c = (Third - centre).LengthSquared;
            return Math.Sqrt(Math.Max(a, Math.Max(b, c)));
        }
    }

    /// <summary>Makes a facet from its corners.</summary>
    /// <param name="first">First corner. [m]</param>
    /// <param name="second">Second corner, counter-clockwise seen from outside. [m]</param>
    /// <param name="third">Third corner. [m]</param>
    public static FacetTriangle Of(Vec3 first, Vec3 second, Vec3 third)
    {
        Vec3 cross = (second - first).Cross(third - first);
        double twice = cross.Length;
        return new FacetTriangle(first, second, third, twice > 0 ? cross / twice : Vec3.Zero, 0.5 * twice);
    }

    /// <summary>Splits the facet in two at the middle of its longest edge.</summary>
    public (FacetTriangle One, FacetTriangle Other) Split()
    {
        double ab = (Second - First).LengthSquared;
        double bc = (Third - Second).LengthSquared;
        double ca = (First - Third).LengthSquared;
        double half = 0.5 * AreaSquareMetres;
        if (ab >= bc && ab >= ca)
        {
            Vec3 middle = 0.5 * (First + Second);
            return (this with { Second = middle, AreaSquareMetres = half }, this with { First = middle, AreaSquareMetres = half });
        }

        if (bc >= ca)
        {
            Vec3 middle = 0.5 * (Second + Third);
            return (this with { Third = middle, AreaSquareMetres = half }, this with { Second = middle, AreaSquareMetres = half });
        }

        Vec3 last = 0.5 * (Third + First);
        return (this with { First = last, AreaSquareMetres = half }, this with { Third = last, AreaSquareMetres = half });
    }
}
