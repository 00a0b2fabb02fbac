using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>The left arm, hanging. Girths of arm, forearm and wrist and the size of the hand are the tabled ones.</summary>
internal static class ArmSurface
{
    private const int Around = 12;

    internal static TriangleMesh UpperArm(Skeleton s)
    {
        Vec3 shoulder = s[SegmentId.UpperArmLeft];
        Vec3 elbow = s[SegmentId.ForearmLeft];
        double r = s.UpperArmRadius;
        Section[] keys =
        [
            Along(elbow, shoulder, 0, 0.80 * s.ForearmRadius, 0.92 * s.ForearmRadius),
            Along(elbow, shoulder, 0.25, 0.90 * r, 0.88 * r),
            Along(elbow, shoulder, 0.55, 1.02 * r, 0.98 * r),
            Along(elbow, shoulder, 0.80, 1.10 * r, r),
            Along(elbow, shoulder, 0.97, 1.02 * r, 0.94 * r),
        ];
        return Loft.Through(keys, 7, Around, 0.8 * s.ForearmRadius, 0.95 * r);
    }

    internal static TriangleMesh Forearm(Skeleton s)
    {
        Vec3 elbow = s[SegmentId.ForearmLeft];
        Vec3 wrist = s[SegmentId.HandLeft];
        double r = s.ForearmRadius;
        double w = s.WristRadius;
        Section[] keys =
        [
            Along(wrist, elbow, 0, 1.18 * w, 0.82 * w),
            Along(wrist, elbow, 0.3, 0.45 * (r + w), 0.44 * (r + w)),
            Along(wrist, elbow, 0.75, r, r),
            Along(wrist, elbow, 1, 0.88 * r, 0.90 * r),
        ];
        return Loft.Through(keys, 7, Around, 0.5 * w, 0.85 * r);
    }

    internal static TriangleMesh Hand(Skeleton s)
    {
        Vec3 wrist = s[SegmentId.HandLeft];
        double length = s.Dimensions[BodyMeasure.HandLength];
        double half = s.Dimensions[BodyMeasure.HandBreadth] / 2;
        double thick = s.HandHalfThickness;
        Section Cut(double down, double ahead, double breadth, double thickness) =>
            new(wrist.Z - (down * length), wrist.X + (ahead * half), breadth * half, breadth * half, wrist.Y, thickness * thick, 2.3);

        Section[] keys =
        [
            Cut(0.95, 0.1, 0.62, 0.55),
            Cut(0.72, 0.1, 0.90, 0.80),
            Cut(0.48, 0.1, 1.0, 1.0),
            Cut(0.22, 0.15, 0.98, 1.1),
            Cut(0, 0, 1.1 * s.WristRadius / half, 0.8 * s.WristRadius / thick),
        ];
        return Loft.Through(keys, 6, Around, 0.05 * length, 0.5 * s.WristRadius);
    }

    private static Section Along(Vec3 from, Vec3 to, double share, double halfDepth, double halfBreadth)
    {
        Vec3 at = ((1 - share) * from) + (share * to);
        return new Section(at.Z, at.X, halfDepth, halfDepth, at.Y, halfBreadth);
    }
}
