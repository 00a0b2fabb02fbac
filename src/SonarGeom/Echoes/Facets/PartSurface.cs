using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Facets;

/// <summary>A part of an obstacle as the surface integral sees it: a mesh fine enough for a wavelength, and which paths count.</summary>
/// <param name="Surface">The mesh.</param>
/// <param name="Ground">The ground that the part makes a corner with; null when there is none.</param>
/// <param name="Options">Which paths are summed.</param>
public sealed record PartSurface(FacetSurface Surface, GroundMirror? Ground, SurfaceIntegralOptions Options)
{
    // Half again as fine as a verdict needs.
    private const double SagittasPerWavelength = 300.0;
    private const double LevelCosine = 1.0 - 1e-9;

    private static readonly SurfaceIntegralOptions DoubleBounceOnly = new(WithSingleBounce: false, WithTripleBounce: false);

    /// <summary>Makes the surface of a part; null for parts that are lines, without end, or stand on a floor that is not level.</summary>
    /// <param name="part">The part.</param>
    /// <param name="wavelengthMetres">The shortest wavelength, above 0. [m]</param>
    public static PartSurface? Of(TargetPart part, double wavelengthMetres)
    {
        ArgumentNullException.ThrowIfNull(part);
        double sagitta = wavelengthMetres / SagittasPerWavelength;
        return part switch
        {
            CylinderPart rod => Plain(part, ShapeMeshes.Frustum(rod.End1Metres, rod.RadiusMetres, rod.End2Metres, rod.RadiusMetres, sagitta)),
            ConePart cone => Plain(part, ShapeMeshes.Frustum(cone.End1Metres, cone.Radius1Metres, cone.End2Metres, cone.Radius2Metres, sagitta)),
            RopePart rope => Plain(part, ShapeMeshes.Rope(rope.PointsMetres, rope.RadiusMetres, sagitta), hasFlatFaces: true),
            SpherePart sphere => Plain(part, ShapeMeshes.Cap(sphere.CentreMetres, sphere.RadiusMetres, Vec3.UnitX, Math.PI, sagitta)),
            DomePart dome => Plain(part, ShapeMeshes.Cap(dome.CentreMetres, dome.RadiusMetres, dome.Axis, dome.HalfAngle.Radians, sagitta)),
            PolygonPart plate => Plain(part, ShapeMeshes.Polygon(plate.CornersMetres, plate.Normal), plate.IsTwoSided, hasFlatFaces: true),
            DiscPart disc => Plain(part, ShapeMeshes.Disc(disc.CentreMetres, disc.Normal, disc.RadiusMetres, 3.0 * sagitta), disc.IsTwoSided, hasFlatFaces: true),
            CornerPart corner => OfCorner(corner),
            PoleFootPart foot => OfPoleFoot(foot, sagitta),
            _ => null,
        };
    }

    private static PartSurface Plain(TargetPart part, TriangleMesh mesh, bool isTwoSided = false, bool hasFlatFaces = false) => new(
        FacetSurface.Of(part.Name, mesh, part.ReflectionLossDecibels, part.RoughnessRmsMetres, isTwoSided, hasFlatFaces),
        null,
        SurfaceIntegralOptions.Default);

    private static PartSurface? OfCorner(CornerPart corner)
    {
        if (corner.FloorNormal.Z < LevelCosine || double.IsFinite(corner.FloorDepthMetres))
        {
            return null;
        }

        Vec3 up = corner.FaceHeightMetres * corner.FloorNormal;
        TriangleMesh face = ShapeMeshes.Polygon(
            [corner.End1Metres, corner.End2Metres, corner.End2Metres + up, corner.End1Metres + up], corner.FaceNormal);
        return new PartSurface(
            FacetSurface.Of(corner.Name, face, corner.ReflectionLossDecibels, corner.RoughnessRmsMetres, hasFlatFaces: true),
            new GroundMirror(corner.End1Metres.Z, corner.FloorRoughnessRmsMetres),
            DoubleBounceOnly);
    }

    private static PartSurface? OfPoleFoot(PoleFootPart foot, double sagitta)
    {
        if (foot.Axis.Z < LevelCosine)
        {
            return null;
        }

        TriangleMesh side = ShapeMeshes.Frustum(
            foot.FootMetres, foot.RadiusMetres, foot.FootMetres + (foot.HeightMetres * foot.Axis), foot.RadiusMetres, sagitta);
        return new PartSurface(
            FacetSurface.Of(foot.Name, side, foot.ReflectionLossDecibels, foot.RoughnessRmsMetres),
            new GroundMirror(foot.FootMetres.Z, foot.FloorRoughnessRmsMetres),
            DoubleBounceOnly);
    }
}
