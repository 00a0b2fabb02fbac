using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>The left leg and shoe. Girths of thigh, knee, calf and ankle and the size of the foot are the tabled ones.</summary>
internal static class LegSurface
{
    private const int Around = 16;

    // What a shoe adds to the length and breadth of a foot.
    private const double ShoeLengthMetres = 0.02;
    private const double ShoeBreadthMetres = 0.008;

    internal static TriangleMesh Thigh(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        Vec3 hip = s[SegmentId.ThighLeft];
        Vec3 knee = s[SegmentId.ShankLeft];
        double breadth = d[BodyMeasure.HipBreadth] / 2;
        double depth = Superellipse.DepthFrom(d[BodyMeasure.ThighGirth], breadth, 2);
        double low = d[BodyMeasure.LowerThighGirth] / (2 * Math.PI);
        double crotch = s.Height(BodyMeasure.CrotchHeight);
        Section Cut(double height, double halfDepth, double halfBreadth, double side)
        {
            double share = (height - knee.Z) / (hip.Z - knee.Z);
            return new Section(height, ((1 - share) * knee.X) + (share * (hip.X - (0.04 * depth))), halfDepth, halfDepth, side, halfBreadth);
        }

        Section[] keys =
        [
            Cut(knee.Z, 0.94 * low, 0.90 * low, knee.Y),
            Cut(knee.Z + (0.16 * (hip.Z - knee.Z)), low, 0.96 * low, knee.Y),
            Cut(knee.Z + (0.62 * (crotch - knee.Z)), 0.44 * depth, 0.46 * breadth, 0.98 * hip.Y),
            Cut(crotch - 0.01, 0.49 * depth, 0.497 * breadth, breadth / 2),
            Cut(Math.Max(hip.Z, crotch + 0.02), 0.47 * depth, 0.49 * breadth, breadth / 2),
        ];
        return Loft.Through(keys, 8, Around, 0.85 * low, 0.3 * breadth);
    }

    internal static TriangleMesh Shank(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        Vec3 knee = s[SegmentId.ShankLeft];
        Vec3 ankle = s[SegmentId.FootLeft];
        double calf = d[BodyMeasure.CalfGirth] / (2 * Math.PI);
        double low = d[BodyMeasure.AnkleGirth] / (2 * Math.PI);
        double under = d[BodyMeasure.LowerThighGirth] / (2 * Math.PI);
        Section Cut(double share, double halfDepth, double halfBreadth, double back)
        {
            Vec3 at = ((1 - share) * ankle) + (share * knee);
            return new Section(at.Z, at.X - back, halfDepth, halfDepth, at.Y, halfBreadth);
        }

        Section[] keys =
        [
            Cut(0, 1.05 * low, low, 0.1 * low),
            Cut(0.12, 0.98 * low, 0.92 * low, 0.1 * low),
            Cut(0.40, (0.55 * calf) + (0.45 * low), (0.5 * calf) + (0.45 * low), 0.1 * calf),
            Cut(0.70, 1.03 * calf, 0.97 * calf, 0.22 * calf),
            Cut(0.88, 0.96 * calf, 0.92 * calf, 0.08 * calf),
            Cut(1, 0.90 * under, 0.88 * under, 0),
        ];
        return Loft.Through(keys, 9, Around, 0.5 * low, 0.8 * under);
    }

    internal static TriangleMesh Foot(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        Vec3 ankle = s[SegmentId.FootLeft];
        double length = d[BodyMeasure.FootLength] + ShoeLengthMetres;
        double half = (d[BodyMeasure.FootBreadth] + ShoeBreadthMetres) / 2;
        double heelHalf = (d[BodyMeasure.HeelBreadth] + ShoeBreadthMetres) / 2;
        double heel = ankle.X - (0.25 * d[BodyMeasure.FootLength]) - (0.4 * ShoeLengthMetres);
        double instep = ankle.Z + (0.25 * d[BodyMeasure.AnkleHeight]);
        double sole = s.FootwearMetres;

        // The loft runs ahead: its front is up, its left the right-hand side.
        Section Cut(double share, double halfBreadth, double top, double side)
        {
            double middle = 0.42 * top;
            return new Section(heel + (share * length), middle, top - middle, middle, -(ankle.Y + side), halfBreadth, 2.7);
        }

        Section[] keys =
        [
            Cut(0.05, 0.92 * heelHalf, 0.95 * instep, 0),
            Cut(0.16, 1.05 * heelHalf, instep, 0),
            Cut(0.36, 1.02 * heelHalf, 0.92 * instep, 0.02 * half),
            Cut(0.52, 0.86 * half, (0.62 * instep) + (0.2 * sole), 0.05 * half),
            Cut(0.72, half, (0.42 * instep) + (0.4 * sole), 0.08 * half),
            Cut(0.90, 0.84 * half, (0.30 * instep) + (0.4 * sole), 0.02 * half),
        ];
        return Loft.Through(keys, 8, Around, 0.05 * length, 0.10 * length).LaidAhead();
    }
}
