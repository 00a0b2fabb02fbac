using SonarGeom.Air;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Kinds;

/// <summary>How detection claims are written.</summary>
internal static class ClaimShapes
{
    private static readonly NumberShape Millimetres = new(1, 20_000);
    private static readonly NumberShape Metres = new(0.001, 20);

    private static readonly VariantShape<ClaimTarget> Target = new(
        "a target",
        [
            VariantShape<ClaimTarget>.Variant("target", "wall", "A wall much larger than the beam, square on.", _ => _ => new WallTarget()),
            VariantShape<ClaimTarget>.Variant("target", "pole", "A round pole across the line of sight.", m =>
            {
                Member<double> diameter = m.Required("diameter_mm", Millimetres, "The diameter. [mm]");
                Member<double> length = m.Required("length_m", Metres, "The length, half on each side of the line of sight. [m]");
                return v => new PoleTarget(diameter.From(v) / 1000, length.From(v));
            }),
            VariantShape<ClaimTarget>.Variant("target", "sphere", "A sphere.", m =>
            {
                Member<double> diameter = m.Required("diameter_mm", Millimetres, "The diameter. [mm]");
                return v => new SphereTarget(diameter.From(v) / 1000);
            }),
            VariantShape<ClaimTarget>.Variant("target", "plate", "A flat rectangular plate, square on.", m =>
            {
                Member<double> width = m.Required("width_m", Metres, "The width. [m]");
                Member<double> height = m.Required("height_m", Metres, "The height. [m]");
                return v => new PlateTarget(width.From(v), height.From(v));
            }),
            VariantShape<ClaimTarget>.Variant("target", "disc", "A flat round plate, square on.", m =>
            {
                Member<double> diameter = m.Required("diameter_mm", Millimetres, "The diameter. [mm]");
                return v => new DiscTarget(diameter.From(v) / 1000);
            }),
        ]);

    /// <summary>Gets the shape of one claim.</summary>
    internal static ObjectShape<DetectionClaim> Claim { get; } = new("claim", "A claim that a target is just detected at a range.", m =>
    {
        Member<ClaimTarget> target = m.Required("target", Target, "What is detected: a range means nothing without it.");
        Member<double> range = m.Required("range_m", new NumberShape(0.05, 50), "The largest range at which it is detected, to its nearest point. [m]");
        Member<double> offAxis = m.Optional("off_axis_deg", new NumberShape(-85, 85), 0, "The angle of the line of sight off the boresight. [°]");
        Member<AirState> air = m.Maybe("air", AirShapes.State, "The air of the trial; left out when the claim does not say.");
        return v => new DetectionClaim(target.From(v), range.From(v), Angle.FromDegrees(offAxis.From(v)), air.IsGivenIn(v) ? air.From(v) : null);
    });
}
