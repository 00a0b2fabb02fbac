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
}
