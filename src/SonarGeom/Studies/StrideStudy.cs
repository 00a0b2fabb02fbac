using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Walks;

namespace SonarGeom.Studies;

/// <summary>One moment of a stride: joint angles of the left leg, and how far head and pelvis are from their mean places.</summary>
/// <param name="PhasePercent">Moment, 0 and 100 at the left heel strike. [%]</param>
/// <param name="ThighForwardDegrees">Left thigh ahead of the vertical. [°]</param>
/// <param name="KneeBentDegrees">Bend of the left knee. [°]</param>
/// <param name="AnkleUpDegrees">Left foot against its shank, toes up positive. [°]</param>
/// <param name="ArmForwardDegrees">Left upper arm ahead of the vertical. [°]</param>
/// <param name="HeadRiseMetres">Middle of the head above its mean height. [m]</param>
/// <param name="HeadLeftMetres">Middle of the head to the left. [m]</param>
/// <param name="PelvisRiseMetres">Middle of the pelvis above its mean height. [m]</param>
/// <param name="PelvisLeftMetres">Middle of the pelvis to the left. [m]</param>
/// <param name="LeftSoleMetres">Lowest point of the left shoe above the ground. [m]</param>
/// <param name="RightSoleMetres">Lowest point of the right shoe above the ground. [m]</param>
public sealed record StrideMoment(
    double PhasePercent, double ThighForwardDegrees, double KneeBentDegrees, double AnkleUpDegrees, double ArmForwardDegrees,
    double HeadRiseMetres, double HeadLeftMetres, double PelvisRiseMetres, double PelvisLeftMetres, double LeftSoleMetres, double RightSoleMetres);

/// <summary>How a wearer moves over one stride.</summary>
/// <param name="Motion">The motion.</param>
/// <param name="Poses">The body at even moments, the first one not repeated at the end.</param>
/// <param name="Moments">Figures of the same moments.</param>
public sealed record StrideStudy(IWalkingMotion Motion, ImmutableArray<PosedBody> Poses, ImmutableArray<StrideMoment> Moments)
{
    /// <summary>Gets the length of a stride: two steps. [m]</summary>
    public double StrideMetres => Motion.SpeedMetresPerSecond * Motion.StrideSeconds;

    /// <summary>Gets the number of steps in a minute. [1/min]</summary>
    public double StepsPerMinute => 120 / Motion.StrideSeconds;

    /// <summary>Looks at a stride.</summary>
    /// <param name="motion">The motion.</param>
    /// <param name="moments">How many moments, from 4 to 1000.</param>
    public static StrideStudy Of(IWalkingMotion motion, int moments)
    {
        ArgumentNullException.ThrowIfNull(motion);
        ArgumentOutOfRangeException.ThrowIfLessThan(moments, 4);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(moments, 1000);
        var poses = new PosedBody[moments];
        Parallel.For(0, moments, i => poses[i] = motion.PoseAt((double)i / moments));
        Vec3 middle = 0.5 * (motion.Body.Landmark("chin").PositionMetres + motion.Body.Landmark("crown").PositionMetres);
        Vec3[] heads = [.. poses.Select(p => p.WorldFromSegment(SegmentId.Head).ApplyToPoint(middle))];
        Vec3[] pelves = [.. poses.Select(p => p.WorldFromSegment(SegmentId.Pelvis).Translation)];
        double head = heads.Average(h => h.Z), pelvis = pelves.Average(p => p.Z);
        return new StrideStudy(motion, [.. poses],
        [
            .. poses.Select((p, i) => new StrideMoment(
                100.0 * i / moments,
                Forward(p, SegmentId.ThighLeft),
                Forward(p, SegmentId.ThighLeft) - Forward(p, SegmentId.ShankLeft),
                Forward(p, SegmentId.FootLeft) - Forward(p, SegmentId.ShankLeft),
                Forward(p, SegmentId.UpperArmLeft),
                heads[i].Z - head, heads[i].Y, pelves[i].Z - pelvis, pelves[i].Y,
                p.Mesh(SegmentId.FootLeft).Vertices.Min(v => v.Z), p.Mesh(SegmentId.FootRight).Vertices.Min(v => v.Z))),
        ]);
    }

    private static double Forward(PosedBody posed, SegmentId segment)
    {
        Vec3 up = posed.WorldFromSegment(segment).Rotation.AxisZ;
        return Math.Atan2(-up.X, up.Z) * (180 / Math.PI);
    }
}
