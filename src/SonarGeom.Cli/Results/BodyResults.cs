using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Geometry;

namespace SonarGeom.Cli.Results;

/// <summary>A landmark and where it is.</summary>
internal readonly record struct LandmarkRow(Landmark Landmark, Vec3 AtMetres);

/// <summary>A site, where it is and where its normal points.</summary>
internal readonly record struct SiteRow(Site Site, Vec3 AtMetres, Vec3 Normal);

/// <summary>A height band and its span.</summary>
internal readonly record struct SpanRow(HeightBand Band, BandSpan Span);

/// <summary>The tables of a body.</summary>
internal static class BodyResults
{
    /// <summary>Gets the body as a whole.</summary>
    internal static ResultTable<Body> Summary { get; } = new(
        new("wearer", null, b => Cell.Of(b.Spec.Name)),
        new("description", null, b => Cell.Of(b.Spec.Description)),
        new("source", null, b => Cell.Of(b.Spec.Source)),
        new("sex", null, b => Cell.Of(Words.Code(b.Spec.Sex))),
        new("stature_m", null, b => Cell.Of(b.Dimensions.StatureMetres, 4)),
        new("mass_kg", null, b => Cell.Of(b.Dimensions.MassKilograms, 1)),
        new("crown_height_m", null, b => Cell.Of(b.CrownHeightMetres, 4)),
        new("chin_height_m", null, b => Cell.Of(b.ChinHeightMetres, 4)),
        new("cane_top_m", null, b => Cell.Of(b.CaneCoverage?.TopMetres, 3)),
        new("cane_half_width_m", null, b => Cell.Of(b.CaneCoverage?.HalfWidthMetres, 3)));

    /// <summary>Gets the height bands.</summary>
    internal static ResultTable<SpanRow> Bands { get; } = new(
        new("band", "band", r => Cell.Of(Words.Of(r.Band))),
        new("low_z_m", "from [m]", r => Cell.Of(r.Span.BottomMetres, 3)),
        new("high_z_m", "to [m]", r => Cell.Of(r.Span.TopMetres, 3)));

    /// <summary>Gets the landmarks.</summary>
    internal static ResultTable<LandmarkRow> Landmarks { get; } = new(
        new("landmark", "landmark", r => Cell.Of(r.Landmark.Name)),
        new("segment", null, r => Cell.Of(Words.Code(r.Landmark.Segment))),
        new("x_m", "x [m]", r => Cell.Of(r.AtMetres.X, 3)),
        new("y_m", "y [m]", r => Cell.Of(r.AtMetres.Y, 3)),
        new("z_m", "z [m]", r => Cell.Of(r.AtMetres.Z, 3)),
        new("standard_error_m", "± [m]", r => Cell.Of(r.Landmark.StandardErrorMetres, 3)),
        new("definition", "definition", r => Cell.Of(r.Landmark.Definition)));

    /// <summary>Gets the mounting sites.</summary>
    internal static ResultTable<SiteRow> Sites { get; } = new(
        new("site", "site", r => Cell.Of(r.Site.Name)),
        new("segment", null, r => Cell.Of(Words.Code(r.Site.Segment))),
        new("x_m", "x [m]", r => Cell.Of(r.AtMetres.X, 3)),
        new("y_m", "y [m]", r => Cell.Of(r.AtMetres.Y, 3)),
        new("z_m", "z [m]", r => Cell.Of(r.AtMetres.Z, 3)),
        new("normal_azimuth_deg", "azimuth [°]", r => Cell.Of(Degrees(Math.Atan2(r.Normal.Y, r.Normal.X)), 0)),
        new("normal_elevation_deg", "elevation [°]", r => Cell.Of(Degrees(Math.Asin(Math.Clamp(r.Normal.Z, -1, 1))), 0)),
        new("description", "where", r => Cell.Of(r.Site.Description)));

    /// <summary>Returns the bands, head first.</summary>
    internal static IReadOnlyList<SpanRow> BandRows(Body body) =>
    [
        new(HeightBand.Head, body.Bands.Head), new(HeightBand.Chest, body.Bands.Chest), new(HeightBand.Waist, body.Bands.Waist),
        new(HeightBand.Knee, body.Bands.Knee), new(HeightBand.Foot, body.Bands.Foot),
    ];

    /// <summary>Returns the landmarks in the neutral pose.</summary>
    internal static IReadOnlyList<LandmarkRow> LandmarkRows(Body body) =>
        [.. body.AllLandmarks.Select(l => new LandmarkRow(l, body.Landmarks[l.Name]))];

    /// <summary>Returns the sites in the neutral pose.</summary>
    internal static IReadOnlyList<SiteRow> SiteRows(Body body) =>
        [.. body.AllSites.Select(s => new SiteRow(
            s, body.Neutral.WorldFromSegment(s.Segment).ApplyToPoint(s.PositionMetres), body.Neutral.WorldFromSegment(s.Segment).ApplyToDirection(s.OutwardNormal)))];

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}
