using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>Echoes of the wearer's own moving limbs and cane: what comes back from them first hides all that lies behind.</summary>
internal static class LimbReading
{
    // Clothed limbs: cloth over a rigid body loses 0.4 to 5 dB (flow-resistance model); 4 dB is taken, an assumption.
    private const double ClothLossDecibels = 4;

    private static readonly SegmentId[] Limbs =
    [
        SegmentId.UpperArmLeft, SegmentId.UpperArmRight, SegmentId.ForearmLeft, SegmentId.ForearmRight, SegmentId.HandLeft, SegmentId.HandRight,
        SegmentId.ThighLeft, SegmentId.ThighRight, SegmentId.ShankLeft, SegmentId.ShankRight, SegmentId.FootLeft, SegmentId.FootRight, SegmentId.Cane,
    ];

    /// <summary>Returns the shortest range at which a limb is reported, and which; infinite if none is.</summary>
    internal static (double RangeMetres, string Limb) Nearest(SensorAtPose pose, PosedBody wearer, SegmentId carrier, BodyShadow shadow)
    {
        double nearest = double.PositiveInfinity;
        string name = string.Empty;
        foreach (SegmentId limb in LimbsOf(wearer, carrier))
        {
            PartEcho echo = PartEchoes.Evaluate(pose, PartAt(wearer, limb), Vec3.Zero);
            if (echo.IsSilent || echo.RangeMetres < pose.Prepared.DeadZoneMetres || echo.RangeMetres >= nearest
                || echo.BandLevelDecibels < pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres))
            {
                continue;
            }

            if (!IsHidden(pose, echo, shadow))
            {
                (nearest, name) = (echo.RangeMetres, Words(limb));
            }
        }

        return (nearest, name);
    }

    /// <summary>Returns all limbs and the cane as the sensor meets them, the one that carries it left out.</summary>
    internal static ImmutableArray<OwnPart> Parts(SensorAtPose pose, PosedBody wearer, SegmentId carrier, BodyShadow shadow) =>
    [
        .. LimbsOf(wearer, carrier).Select(limb =>
        {
            TargetPart part = PartAt(wearer, limb);
            PartEcho echo = PartEchoes.Evaluate(pose, part, Vec3.Zero);
            return new OwnPart(limb, Words(limb), part, !echo.IsSilent && IsHidden(pose, echo, shadow));
        }),
    ];

    private static IEnumerable<SegmentId> LimbsOf(PosedBody wearer, SegmentId carrier) =>
        Limbs.Where(limb => limb != carrier && wearer.Body.Has(limb));

    private static TargetPart PartAt(PosedBody wearer, SegmentId limb) => PartOf(wearer.Body.Segment(limb)).Moved(wearer.WorldFromSegment(limb));

    // A limb stands in its own shadow: look just in front of it.
    private static bool IsHidden(SensorAtPose pose, in PartEcho echo, BodyShadow shadow)
    {
        Vec3 towards = echo.GlintMetres - pose.MidpointMetres;
        double inFront = Math.Max(0, 1 - (0.06 / towards.Length));
        return !(shadow.FreeFraction(inFront * towards) > 0);
    }

    // A round rod of the limb's length and mean thickness; the hand as a sphere; the cane along its own X.
    private static TargetPart PartOf(BodySegment segment)
    {
        double lowX = 0, highX = 0, lowY = 0, highY = 0, lowZ = 0, highZ = 0;
        foreach (Vec3 v in segment.Surface.Vertices)
        {
            (lowX, highX) = (Math.Min(lowX, v.X), Math.Max(highX, v.X));
            (lowY, highY) = (Math.Min(lowY, v.Y), Math.Max(highY, v.Y));
            (lowZ, highZ) = (Math.Min(lowZ, v.Z), Math.Max(highZ, v.Z));
        }

        double thick = 0.25 * (highX - lowX + highY - lowY);
        return segment.Id switch
        {
            SegmentId.Cane => new CylinderPart("cane", Vec3.Zero, new Vec3(highX, 0, 0), Math.Max(0.004, 0.25 * (highY - lowY + highZ - lowZ))),
            SegmentId.HandLeft or SegmentId.HandRight => new SpherePart("hand", new Vec3(0, 0, 0.5 * lowZ), thick, ClothLossDecibels),
            SegmentId.FootLeft or SegmentId.FootRight => new SpherePart("shoe", new Vec3(0.7 * highX, 0, 0.5 * lowZ), 0.04, ClothLossDecibels),
            _ => new CylinderPart("limb", Vec3.Zero, new Vec3(0, 0, lowZ), thick, ClothLossDecibels),
        };
    }

    private static string Words(SegmentId limb) => string.Concat(
        limb.ToString().Select((c, i) => char.IsUpper(c) ? (i > 0 ? " " : string.Empty) + char.ToLowerInvariant(c) : c.ToString()));
}
