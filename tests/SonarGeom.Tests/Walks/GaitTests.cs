using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Tests.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Walks;

public class GaitTests
{
    private const int Phases = 64;

    public static TheoryData<string, double> Walkers
    {
        get
        {
            TheoryData<string, double> data = [];
            foreach (double speed in new[] { 0.5, 0.8, 1.2, 1.8 })
            {
                foreach (string name in new[] { "median man", "short woman", "tall man", "stooped elder" })
                {
                    data.Add(name, speed);
                }
            }

            data.Add("girl of ten", 0.5);
            data.Add("girl of ten", 1.2);
            data.Add("boy of three", 0.6);
            data.Add("heavy man", 0.8);
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Walkers))]
    public void No_shoe_goes_below_the_ground_and_one_always_stands(string name, double speed)
    {
        foreach (PosedBody posed in Strides.Of(Gait.Of(Wearers.Build(Wearers.Varied[name]), speed), Phases))
        {
            double left = posed.Mesh(SegmentId.FootLeft).Vertices.Min(v => v.Z);
            double right = posed.Mesh(SegmentId.FootRight).Vertices.Min(v => v.Z);
            Assert.True(left >= -1e-9 && right >= -1e-9, $"a shoe is {Math.Min(left, right)} m under the ground");
            Assert.Equal(0, Math.Min(left, right), 1e-6);
        }
    }

    // The point on which a shoe stands stays where it is while the body goes on: 1 mm in a step is not to be seen.
    [Theory]
    [MemberData(nameof(Walkers))]
    public void Standing_shoes_do_not_slip(string name, double speed)
    {
        var gait = Gait.Of(Wearers.Build(Wearers.Varied[name]), speed);
        const int Fine = 400;
        double slipped = 0;
        TriangleMesh? before = null;
        for (int i = 0; i < (int)(gait.StanceFraction * Fine); i++)
        {
            double phase = (double)i / Fine;
            TriangleMesh shoe = gait.PoseAt(phase).Mesh(SegmentId.FootLeft);
            if (before is not null)
            {
                int touching = Enumerable.Range(0, shoe.Vertices.Length).MinBy(v => Math.Max(shoe.Vertices[v].Z, before.Vertices[v].Z));
                double way = shoe.Vertices[touching].X - before.Vertices[touching].X + (gait.StrideMetres / Fine);
                if (Math.Max(shoe.Vertices[touching].Z, before.Vertices[touching].Z) < 1e-6)
                {
                    slipped += Math.Abs(way);
                }
            }

            before = shoe;
        }

        Assert.True(slipped < 1e-3, $"the shoe slips {slipped * 1000:0.0} mm in a step");
    }

    [Theory]
    [InlineData("median man", 0.8)]
    [InlineData("stooped elder", 0.6)]
    [InlineData("girl of ten", 1.1)]
    public void Half_a_stride_on_is_the_mirror_image_exactly(string name, double speed)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        var gait = Gait.Of(body, speed);
        foreach (double phase in new[] { 0, 0.1, 0.123456789, 0.25, 0.49999 })
        {
            PosedBody first = gait.PoseAt(phase);
            PosedBody second = gait.PoseAt(phase + 0.5);
            foreach (BodySegment segment in body.Segments)
            {
                HashSet<Vec3> mirrored = [.. second.Mesh(Segments.Mirrored(segment.Id)).Vertices.Select(v => v.MirroredLeftRight())];
                Assert.All(first.Mesh(segment.Id).Vertices, v => Assert.Contains(v, mirrored));
            }
        }
    }

    [Theory]
    [InlineData(CaneTechnique.ConstantContact)]
    [InlineData(CaneTechnique.TwoPointTouch)]
    public void With_a_cane_the_mirror_image_is_the_other_side_s_half_a_stride_on(CaneTechnique technique)
    {
        var left = Gait.Of(Wearers.Build(Wearers.Woman with { CaneSide = BodySide.Left }), 0.8, technique);
        var right = Gait.Of(Wearers.Build(Wearers.Woman with { CaneSide = BodySide.Right }), 0.8, technique);
        foreach (double phase in new[] { 0, 0.2, 0.45, 0.7 })
        {
            PosedBody a = left.PoseAt(phase);
            PosedBody b = right.PoseAt(phase + 0.5);
            foreach (BodySegment segment in left.Body.Segments)
            {
                RigidTransform ours = a.WorldFromSegment(segment.Id);
                RigidTransform theirs = b.WorldFromSegment(Segments.Mirrored(segment.Id));
                Assert.Equal(0, ours.Translation.DistanceTo(theirs.Translation.MirroredLeftRight()), 1e-12);
                Assert.Equal(0, ours.Rotation.AxisX.DistanceTo(theirs.Rotation.AxisX.MirroredLeftRight()), 1e-12);
            }
        }
    }

    // Two-point touch: down at both ends of the arc, in between up by less than the 38 mm that are taught as the most.
    [Fact]
    public void Cane_tip_touches_at_both_ends_and_stays_low_between()
    {
        Body body = Wearers.Build(Wearers.Varied["cane right"]);
        var touch = Gait.Of(body, 0.8, CaneTechnique.TwoPointTouch);
        Assert.Equal(0, Tip(touch.PoseAt(0)).Z, 2e-3);
        Assert.Equal(0, Tip(touch.PoseAt(0.5)).Z, 2e-3);
        Assert.InRange(Tip(touch.PoseAt(0.25)).Z, 0.025, 0.038);
        Assert.True(Tip(touch.PoseAt(0)).Y < -0.25 && Tip(touch.PoseAt(0.5)).Y > 0.25, "the tip is on the side of the foot that steps next");
        Assert.All(Strides.Of(Gait.Of(body, 0.8), 16), p => Assert.InRange(Tip(p).Z, -0.01, 0.01));

        static Vec3 Tip(PosedBody p) => p.Mesh(SegmentId.Cane).Vertices.MinBy(v => v.Z);
    }

    [Fact]
    public void Limbs_keep_their_lengths_and_joints()
    {
        Body body = Wearers.MedianMan;
        foreach (PosedBody posed in Strides.Of(Gait.Of(body, 1.2), Phases))
        {
            foreach (SegmentId segment in Segments.All.Where(s => Segments.Parent(s) is not null && s is not SegmentId.Thorax))
            {
                SegmentId parent = Segments.Parent(segment)!.Value;
                Vec3 inParent = posed.WorldFromSegment(parent).Inverse.ApplyToPoint(posed.WorldFromSegment(segment).Translation);
                Vec3 still = body.Neutral.WorldFromSegment(parent).Inverse.ApplyToPoint(body.Neutral.WorldFromSegment(segment).Translation);
                Assert.Equal(0, inParent.DistanceTo(still), 1e-12);
            }
        }
    }

    [Theory]
    [InlineData("median man", 0.5)]
    [InlineData("median man", 0.8)]
    [InlineData("median woman", 1.8)]
    [InlineData("girl of ten", 0.9)]
    public void Motion_is_smooth(string name, double speed)
    {
        var gait = Gait.Of(Wearers.Build(Wearers.Varied[name]), speed);
        const int Fine = 256;
        PosedBody last = gait.PoseAt(0);
        for (int i = 1; i <= Fine; i++)
        {
            PosedBody next = gait.PoseAt((double)i / Fine);
            foreach (BodySegment segment in gait.Body.Segments)
            {
                // A swinging ankle goes at up to three times the walking speed, and the tables turn a foot by up to 500° in a second.
                double moved = last.WorldFromSegment(segment.Id).Translation.DistanceTo(next.WorldFromSegment(segment.Id).Translation);
                double turned = last.WorldFromSegment(segment.Id).Rotation.AxisX.DistanceTo(next.WorldFromSegment(segment.Id).Rotation.AxisX);
                Assert.True(moved < 4 * gait.StrideMetres / Fine, $"{segment.Id} jumps {moved:0.000} m at {(double)i / Fine}");
                Assert.True(turned < 12 * Math.PI / 180, $"{segment.Id} jumps {turned * 180 / Math.PI:0.0}° at {(double)i / Fine}");
            }

            last = next;
        }
    }

    [Fact]
    public void Arms_swing_against_the_legs()
    {
        PosedBody[] stride = Strides.Of(Gait.Of(Wearers.MedianMan, 1.25), Phases);
        double[] arm = [.. stride.Select(p => Strides.ForwardDegrees(p, SegmentId.UpperArmLeft))];
        double[] leg = [.. stride.Select(p => Strides.ForwardDegrees(p, SegmentId.ThighLeft))];
        double[] other = [.. stride.Select(p => Strides.ForwardDegrees(p, SegmentId.ThighRight))];
        Assert.True(arm[Array.IndexOf(other, other.Max())] > arm.Average());
        Assert.True(arm[Array.IndexOf(leg, leg.Max())] < arm.Average());
        Assert.Equal(30.6, Strides.Range(arm), 1);
    }

    [Fact]
    public void Bowed_heads_stay_bowed()
    {
        foreach (PosedBody posed in Strides.Of(Gait.Of(Wearers.Build(Wearers.Varied["head-bowed man"]), 0.8), 8))
        {
            double down = -Math.Asin(posed.WorldFromSegment(SegmentId.Head).Rotation.AxisX.Z) * 180 / Math.PI;
            Assert.Equal(40, down, 1.5);
        }
    }

    [Fact]
    public void Shin_mounts_swing_far_more_than_chest_mounts()
    {
        PosedBody[] stride = Strides.Of(Gait.Of(Wearers.MedianMan, 1.25), Phases);
        Assert.True(Strides.Range(stride.Select(p => Strides.ForwardDegrees(p, SegmentId.ShankLeft))) > 65);
        Assert.True(Strides.Range(stride.Select(p => Strides.ForwardDegrees(p, SegmentId.Thorax))) < 6);
    }

    [Theory]
    [InlineData(0.5, true)]
    [InlineData(0.8, true)]
    [InlineData(1.25, false)]
    [InlineData(1.8, true)]
    public void Speeds_outside_the_measured_ones_are_flagged(double speed, bool isOutside)
    {
        var gait = Gait.Of(Wearers.MedianMan, speed);
        Assert.Equal(isOutside, gait.Notes.Any(n => n.Contains("where the joint curves were measured", StringComparison.Ordinal)));
        Assert.Contains(gait.Notes, n => n.Contains("low confidence", StringComparison.Ordinal));
    }

    [Fact]
    public void Slower_than_measured_shortens_and_slows_the_stride_alike()
    {
        var slow = Gait.Of(Wearers.MedianMan, 0.4);
        var slowest = Gait.Of(Wearers.MedianMan, 0.2);
        Assert.Equal(Math.Sqrt(2), slowest.StrideSeconds / slow.StrideSeconds, 1e-9);
        Assert.Equal(Math.Sqrt(2), slow.StrideMetres / slowest.StrideMetres, 1e-9);
    }

    [Fact]
    public void A_wheelchair_user_sits_still()
    {
        Body body = Wearers.Build(Wearers.Varied["manual wheelchair"]);
        Assert.Same(body.Still, Gait.Of(body, 0.8).PoseAt(0.3));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3.1)]
    [InlineData(double.NaN)]
    public void Absurd_speed_is_refused(double speed) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Gait.Of(Wearers.MedianMan, speed));
}
