using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Tests.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Walks;

public class SwayEnvelopeTests
{
    private const int Phases = 64;

    // Orendurff et al. 2004, J Rehabil Res Dev 41(6A):829-834 (through secondary quotes): rise and fall of the centre of mass
    // 2.7 cm at 0.7 m/s and 4.8 cm at 1.6; to the sides 7.0 and 3.9 cm. Straight between, and held beyond.
    [Theory]
    [InlineData(0.5, 0.027, 0.070)]
    [InlineData(0.7, 0.027, 0.070)]
    [InlineData(0.8, 0.027 + (0.021 / 9), 0.070 - (0.031 / 9))]
    [InlineData(1.6, 0.048, 0.039)]
    public void Pelvis_moves_as_measured(double speed, double rise, double aside)
    {
        (double y, double z) = Range(SwayEnvelope.Of(Wearers.MedianMan, speed), p => p.WorldFromSegment(SegmentId.Pelvis).Translation);

        // Sampled at 64 phases, the extremes of a cosine are missed by at most 0.5 %.
        Assert.Equal(rise, z, 0.006 * rise);
        Assert.Equal(aside, y, 0.006 * aside);
    }

    // Moore et al. 2001, Ann NY Acad Sci 942:139-147 (abstract): at 1.67 m/s the head peaks at 0.37 g up and down twice a stride and
    // 0.10 g sideways once; a sine of that acceleration at 2 Hz and 1 Hz has 4.6 cm and 5.0 cm from peak to peak.
    [Theory]
    [InlineData("median man")]
    [InlineData("head-bowed man")]
    [InlineData("stooped elder")]
    [InlineData("cane left")]
    public void Head_moves_as_measured(string name)
    {
        Assert.Equal(0.046, 2 * 0.37 * 9.81 / Math.Pow(2 * Math.PI * 2, 2), 5e-4);
        Assert.Equal(0.050, 2 * 0.10 * 9.81 / Math.Pow(2 * Math.PI * 1, 2), 5e-4);
        Body body = Wearers.Build(Wearers.Varied[name]);
        Vec3 middle = 0.5 * (body.Landmark("chin").PositionMetres + body.Landmark("crown").PositionMetres);
        middle = new Vec3(body.Landmark("crown").PositionMetres.X, 0, middle.Z);
        (double y, double z) = Range(SwayEnvelope.Of(body, 1.67), p => p.WorldFromSegment(SegmentId.Head).ApplyToPoint(middle));
        Assert.Equal(0.046, z, 0.006 * 0.046);
        Assert.Equal(0.050, y, 0.006 * 0.050);
    }

    // The same abstract: peak pitch rate 17 °/s at 2 Hz is 2.7° from peak to peak; yaw 17 °/s at 1 Hz is 5.4°.
    [Fact]
    public void Head_nods_down_as_it_rises_and_turns_once_a_stride()
    {
        var motion = SwayEnvelope.Of(Wearers.MedianMan, 1.67);
        double[] nod = [.. Stride(motion).Select(p => -Math.Asin(p.WorldFromSegment(SegmentId.Head).Rotation.AxisX.Z) * 180 / Math.PI)];
        double[] turn = [.. Stride(motion).Select(p => Yaw(p.WorldFromSegment(SegmentId.Head)))];
        double[] rise = [.. Stride(motion).Select(p => p.WorldFromSegment(SegmentId.Head).Translation.Z)];
        Assert.Equal(2.7, nod.Max() - nod.Min(), 0.02);
        Assert.Equal(5.4, turn.Max() - turn.Min(), 0.04);
        Assert.True(Correlation(nod, rise) > 0.95);
    }

    [Fact]
    public void Head_goes_to_the_side_of_the_standing_foot_and_is_highest_in_mid_stance()
    {
        var motion = SwayEnvelope.Of(Wearers.MedianMan, 1.0);
        PosedBody leftStance = motion.PoseAt(0.30);
        PosedBody rightStance = motion.PoseAt(0.80);
        Assert.True(leftStance.WorldFromSegment(SegmentId.Head).Translation.Y > 0.02);
        Assert.True(rightStance.WorldFromSegment(SegmentId.Head).Translation.Y < -0.02);
        Assert.True(leftStance.WorldFromSegment(SegmentId.Head).Translation.Z > motion.PoseAt(0.05).WorldFromSegment(SegmentId.Head).Translation.Z + 0.02);
        double leftSole = leftStance.Mesh(SegmentId.FootLeft).Vertices.Min(v => v.Z);
        double rightSole = leftStance.Mesh(SegmentId.FootRight).Vertices.Min(v => v.Z);
        Assert.True(leftSole < rightSole, "the left foot stands at 0.30");
    }

    [Theory]
    [InlineData("median man", 0.8)]
    [InlineData("stooped elder", 0.6)]
    [InlineData("girl of ten", 1.1)]
    [InlineData("tall man", 1.5)]
    public void Half_a_stride_on_is_the_mirror_image_exactly(string name, double speed)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        var motion = SwayEnvelope.Of(body, speed);
        foreach (double phase in new[] { 0, 0.1, 0.123456789, 0.25, 1.0 / 3, 0.49999 })
        {
            PosedBody first = motion.PoseAt(phase);
            PosedBody second = motion.PoseAt(phase + 0.5);
            foreach (BodySegment segment in body.Segments)
            {
                HashSet<Vec3> mirrored = [.. second.Mesh(Segments.Mirrored(segment.Id)).Vertices.Select(v => v.MirroredLeftRight())];
                Assert.All(first.Mesh(segment.Id).Vertices, v => Assert.Contains(v, mirrored));
            }
        }
    }

    [Fact]
    public void With_a_cane_the_mirror_image_is_the_other_side_s_half_a_stride_on()
    {
        var left = SwayEnvelope.Of(Wearers.Build(Wearers.Woman with { CaneSide = BodySide.Left }), 0.8);
        var right = SwayEnvelope.Of(Wearers.Build(Wearers.Woman with { CaneSide = BodySide.Right }), 0.8);
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

    [Theory]
    [InlineData("median man", 0.4)]
    [InlineData("median woman", 0.8)]
    [InlineData("short woman", 1.6)]
    [InlineData("boy of three", 0.7)]
    [InlineData("cane right", 0.8)]
    [InlineData("stooped elder", 0.8)]
    public void No_shoe_goes_below_the_ground_and_one_always_stands(string name, double speed)
    {
        var motion = SwayEnvelope.Of(Wearers.Build(Wearers.Varied[name]), speed);
        foreach (PosedBody posed in Stride(motion))
        {
            double left = posed.Mesh(SegmentId.FootLeft).Vertices.Min(v => v.Z);
            double right = posed.Mesh(SegmentId.FootRight).Vertices.Min(v => v.Z);
            Assert.True(left >= -1e-9 && right >= -1e-9, $"a shoe is {Math.Min(left, right)} m under the ground");
            Assert.Equal(0, Math.Min(left, right), 1e-6);
        }
    }

    [Fact]
    public void Legs_and_arms_keep_their_lengths_and_joints()
    {
        Body body = Wearers.MedianMan;
        foreach (PosedBody posed in Stride(SwayEnvelope.Of(body, 1.2)))
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

    [Fact]
    public void Motion_is_smooth()
    {
        var motion = SwayEnvelope.Of(Wearers.MedianMan, 0.8);
        const int Fine = 256;
        PosedBody last = motion.PoseAt(0);
        for (int i = 1; i <= Fine; i++)
        {
            PosedBody next = motion.PoseAt((double)i / Fine);
            foreach (BodySegment segment in motion.Body.Segments)
            {
                // In 1/256 of a 1.36 s stride nothing moves faster than a swinging foot, about 3 m/s.
                double moved = last.WorldFromSegment(segment.Id).Translation.DistanceTo(next.WorldFromSegment(segment.Id).Translation);
                Assert.True(moved < 0.03, $"{segment.Id} jumps {moved:0.000} m at phase {(double)i / Fine}");
            }

            last = next;
        }
    }

    [Fact]
    public void Cane_tip_sweeps_both_sides_on_the_ground_against_the_leading_foot()
    {
        Body body = Wearers.Build(Wearers.Varied["cane right"]);
        var motion = SwayEnvelope.Of(body, 0.8);
        double[] tips = [.. Stride(motion).Select(p => Tip(p).Y)];
        Assert.Equal(0.28, tips.Max(), 0.01);
        Assert.Equal(-0.28, tips.Min(), 0.01);
        Assert.True(Tip(motion.PoseAt(0)).Y < 0, "the left foot leads at 0, the tip is right");
        Assert.All(Stride(motion), p => Assert.InRange(Tip(p).Z, -0.01, 0.01));

        static Vec3 Tip(PosedBody p)
        {
            TriangleMesh cane = p.Mesh(SegmentId.Cane);
            return cane.Vertices.MinBy(v => v.Z);
        }
    }

    // OSF t72cw, men 18-29, comfortable: 1.287 m/s with 1.0885 s a stride; slow: 0.894 m/s with 1.2847 s.
    [Theory]
    [InlineData(1.287, 1.0885)]
    [InlineData(0.894, 1.2847)]
    public void Stride_takes_the_tabled_time(double speed, double seconds) =>
        Assert.Equal(seconds, SwayEnvelope.Of(Wearers.MedianMan, speed).StrideSeconds, 2e-3);

    // Blindfolded sighted walkers: 0.84 m/s at 96.9 (sd 13.7) steps a minute (Gait & Posture 2010, abstract).
    [Fact]
    public void Stride_time_is_that_of_blindfolded_walkers() =>
        Assert.Equal(96.9, 120 / SwayEnvelope.Of(Wearers.MedianMan, 0.84).StrideSeconds, 13.7);

    [Fact]
    public void Slower_than_surveyed_is_flagged_and_still_adds_up()
    {
        var motion = SwayEnvelope.Of(Wearers.MedianMan, 0.5);
        Assert.Contains(motion.Notes, n => n.Contains("outside the surveyed paces", StringComparison.Ordinal));
        Assert.Contains(motion.Notes, n => n.Contains("where sway was measured", StringComparison.Ordinal));
        Assert.True(motion.StrideSeconds > SwayEnvelope.Of(Wearers.MedianMan, 0.8).StrideSeconds);
    }

    [Fact]
    public void A_wheelchair_user_sits_still()
    {
        Body body = Wearers.Build(Wearers.Varied["manual wheelchair"]);
        var motion = SwayEnvelope.Of(body, 0.8);
        Assert.Same(body.Still, motion.PoseAt(0.3));
        Assert.NotEmpty(motion.Notes);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3.1)]
    [InlineData(double.NaN)]
    public void Absurd_speed_is_refused(double speed) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SwayEnvelope.Of(Wearers.MedianMan, speed));

    private static PosedBody[] Stride(SwayEnvelope motion) =>
        [.. Enumerable.Range(0, Phases).Select(i => motion.PoseAt((double)i / Phases))];

    private static (double Y, double Z) Range(SwayEnvelope motion, Func<PosedBody, Vec3> point)
    {
        Vec3[] at = [.. Stride(motion).Select(point)];
        return (at.Max(p => p.Y) - at.Min(p => p.Y), at.Max(p => p.Z) - at.Min(p => p.Z));
    }

    private static double Yaw(RigidTransform t) => Math.Atan2(t.Rotation.AxisX.Y, t.Rotation.AxisX.X) * 180 / Math.PI;

    private static double Correlation(double[] a, double[] b)
    {
        double ma = a.Average();
        double mb = b.Average();
        double ab = a.Zip(b, (x, y) => (x - ma) * (y - mb)).Sum();
        return ab / Math.Sqrt(a.Sum(x => (x - ma) * (x - ma)) * b.Sum(y => (y - mb) * (y - mb)));
    }
}
