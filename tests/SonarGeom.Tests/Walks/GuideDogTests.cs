using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Tests.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Walks;

public class GuideDogTests
{
    private static IWalkingMotion Walking(BodySide side, bool isGait = true)
    {
        Body body = Wearers.Build(Wearers.Woman with { GuideDogSide = side });
        return isGait ? Gait.Of(body, 0.9) : SwayEnvelope.Of(body, 0.9);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_arm_at_the_harness_keeps_still_and_the_other_swings(bool isGait)
    {
        PosedBody[] stride = Strides.Of(Walking(BodySide.Left, isGait), 16);
        Assert.Equal(0, Strides.Range(stride.Select(p => Strides.ForwardDegrees(p, SegmentId.ForearmLeft))), 1e-9);
        Assert.True(Strides.Range(stride.Select(p => Strides.ForwardDegrees(p, SegmentId.ForearmRight))) > 10);
    }

    [Fact]
    public void The_mirror_image_is_the_other_side_s_half_a_stride_on()
    {
        foreach (double phase in new[] { 0, 0.2, 0.45, 0.7 })
        {
            PosedBody a = Walking(BodySide.Left).PoseAt(phase), b = Walking(BodySide.Right).PoseAt(phase + 0.5);
            foreach (BodySegment segment in a.Body.Segments)
            {
                RigidTransform ours = a.WorldFromSegment(segment.Id), theirs = b.WorldFromSegment(Segments.Mirrored(segment.Id));
                Assert.Equal(0, ours.Translation.DistanceTo(theirs.Translation.MirroredLeftRight()), 1e-12);
                Assert.Equal(0, ours.Rotation.AxisX.DistanceTo(theirs.Rotation.AxisX.MirroredLeftRight()), 1e-12);
            }
        }
    }

    // The hand is beside the hip, ahead of it, and outside the body, also of a heavy wearer.
    [Theory]
    [InlineData("median man")]
    [InlineData("heavy man")]
    [InlineData("short woman")]
    public void The_hand_is_beside_the_hip_and_clear_of_it(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name] with { GuideDogSide = BodySide.Left });
        foreach (PosedBody posed in Strides.Of(Gait.Of(body, 0.8), 8))
        {
            Vec3 hand = posed.WorldFromSegment(SegmentId.HandLeft).Translation;
            Vec3 pelvis = posed.WorldFromSegment(SegmentId.Pelvis).Translation;
            Assert.True(hand.X > pelvis.X + 0.05 && hand.Y > pelvis.Y + 0.15, $"{hand} against {pelvis}");
            Assert.InRange(hand.Z, pelvis.Z - 0.25, pelvis.Z + 0.25);
            foreach (SegmentId part in new[] { SegmentId.Pelvis, SegmentId.ThighLeft, SegmentId.Thorax })
            {
                Assert.True(SurfacePoint.Winding(posed.Mesh(part), hand) < 0.5, $"the hand is inside the {part}");
            }
        }
    }

    [Fact]
    public void A_hand_holds_one_thing_and_seated_wearers_have_no_dog()
    {
        Assert.Throws<ArgumentException>(() => Wearers.Build(Wearers.Man with { GuideDogSide = BodySide.Left, CaneSide = BodySide.Left }));
        Assert.Throws<ArgumentException>(() => Wearers.Build(Wearers.Varied["manual wheelchair"] with { GuideDogSide = BodySide.Left }));
        Body both = Wearers.Build(Wearers.Man with { GuideDogSide = BodySide.Left, CaneSide = BodySide.Right });
        Assert.Contains(both.Notes, n => n.Contains("dog itself is not modelled", StringComparison.Ordinal));
    }
}
