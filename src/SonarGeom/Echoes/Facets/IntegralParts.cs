using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Facets;

/// <summary>Parts of simple shapes as meshes, for verdicts by surface integral throughout.</summary>
public static class IntegralParts
{
    // Rounds thinner than this are outside the surface integral: waves creep round them.
    private const double LeastKa = 5.0;

    /// <summary>Turns parts into meshes that follow them closely enough for the wavelength.</summary>
    /// <param name="parts">The parts of an obstacle.</param>
    /// <param name="shortestMetres">The shortest wavelength. [m]</param>
    /// <param name="longestMetres">The longest wavelength. [m]</param>
    /// <returns>The parts in their order. Bare edges, endless planes, corners with a floor that is not level and rounds of ka below 5 keep their
    /// closed form: there is no surface to integrate over, or the integral does not hold.</returns>
    public static ImmutableArray<TargetPart> Of(ImmutableArray<TargetPart> parts, double shortestMetres, double longestMetres) =>
        [.. parts.Select(part => part is MeshPart || IsTooThin(part, 2 * Math.PI / longestMetres) ? part : Meshed(part, shortestMetres))];

    private static TargetPart Meshed(TargetPart part, double wavelengthMetres)
    {
        if (PartSurface.Of(part, wavelengthMetres) is not { } made)
        {
            return part;
        }

        FacetSurface surface = made.Surface;
        MeshShape shape = MeshShape.Of(part.Name, [new MeshMaterial(string.Empty, surface.Mesh, surface.ReflectionLossDecibels, surface.IsTwoSided)]);
        return new MeshPart(part.Name, shape, RigidTransform.Identity)
        {
            RoughnessRmsMetres = surface.RoughnessRmsMetres,
            FloorRoughnessRmsMetres = made.Ground?.RoughnessRmsMetres,
            FloorHeightMetres = made.Ground?.HeightMetres ?? 0,
            IsCornerOnly = made.Ground is not null,
            CountsAsDetection = part.CountsAsDetection,
        };
    }

    private static bool IsTooThin(TargetPart part, double wavenumber)
    {
        double? radius = part switch
        {
            CylinderPart rod => rod.RadiusMetres,
            SpherePart sphere => sphere.RadiusMetres,
            DomePart dome => dome.RadiusMetres,
            PoleFootPart foot => foot.RadiusMetres,
            RopePart rope => rope.RadiusMetres,
            ConePart cone => Math.Min(cone.Radius1Metres, cone.Radius2Metres),
            _ => null,
        };
        return radius * wavenumber < LeastKa;
    }
}
