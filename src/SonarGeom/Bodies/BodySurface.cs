using SonarGeom.Bodies.Surfaces;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Makes the surfaces of all parts, each in its own frame.</summary>
internal static class BodySurface
{
    internal static IEnumerable<BodySegment> Of(Skeleton s, StaticPoses poses)
    {
        yield return Part(SegmentId.Head, HeadSurface.Head(s));
        yield return Part(SegmentId.Neck, TrunkSurface.Neck(s));
        yield return Part(SegmentId.Thorax, TrunkSurface.Thorax(s));
        yield return Part(SegmentId.Pelvis, TrunkSurface.Pelvis(s));
        foreach ((SegmentId left, TriangleMesh mesh) in new[]
        {
            (SegmentId.UpperArmLeft, ArmSurface.UpperArm(s)),
            (SegmentId.ForearmLeft, ArmSurface.Forearm(s)),
            (SegmentId.HandLeft, ArmSurface.Hand(s)),
            (SegmentId.ThighLeft, LegSurface.Thigh(s)),
            (SegmentId.ShankLeft, LegSurface.Shank(s)),
            (SegmentId.FootLeft, LegSurface.Foot(s)),
        })
        {
            BodySegment part = Part(left, mesh);
            yield return part;
            yield return new BodySegment(left + 1, part.Surface.MirroredLeftRight());
        }

        if (poses.HasCane)
        {
            yield return new BodySegment(SegmentId.Cane, AidSurface.Cane(poses.CaneLengthMetres));
        }

        if (poses.IsSeated)
        {
            yield return new BodySegment(SegmentId.Seat, poses.WheelchairSurface());
        }

        BodySegment Part(SegmentId id, TriangleMesh mesh) => new(id, mesh.From(s[id]));
    }
}
