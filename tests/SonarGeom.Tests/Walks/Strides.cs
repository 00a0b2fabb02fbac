using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Walks;

/// <summary>A stride looked at moment by moment.</summary>
internal static class Strides
{
    internal static PosedBody[] Of(IWalkingMotion motion, int phases) =>
        [.. Enumerable.Range(0, phases).Select(i => motion.PoseAt((double)i / phases))];

    /// <summary>How far the lower end of a part is ahead of its upper end, against standing. [°]</summary>
    internal static double ForwardDegrees(PosedBody posed, SegmentId segment)
    {
        Vec3 up = posed.WorldFromSegment(segment).Rotation.AxisZ;
        return Math.Atan2(-up.X, up.Z) * 180 / Math.PI;
    }

    /// <summary>Hip angle as the curves count it. [°]</summary>
    internal static double[] Hip(Gait gait, PosedBody[] stride) =>
        [.. stride.Select(p => ForwardDegrees(p, SegmentId.ThighLeft) + gait.PelvisLeanDegrees)];

    internal static double[] Knee(PosedBody[] stride) =>
        [.. stride.Select(p => ForwardDegrees(p, SegmentId.ThighLeft) - ForwardDegrees(p, SegmentId.ShankLeft))];

    /// <summary>Toes up positive. [°]</summary>
    internal static double[] Ankle(PosedBody[] stride) =>
        [.. stride.Select(p => ForwardDegrees(p, SegmentId.FootLeft) - ForwardDegrees(p, SegmentId.ShankLeft))];

    internal static double Range(IEnumerable<double> values)
    {
        double[] all = [.. values];
        return all.Max() - all.Min();
    }
}
