using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Tests.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Mounting;

public class MounterTests
{
    [Fact]
    public void Boresight_is_aimed_against_the_horizontal_in_the_neutral_pose_whatever_the_skin()
    {
        Body body = Wearers.MedianMan;
        foreach (Site site in body.AllSites)
        {
            RigidTransform world = Mounter.WorldFromSensor(body.Neutral, Mount(site.Name, Vec3.Zero, 20, -10));
            Vec3 boresight = world.ApplyToDirection(Vec3.UnitX);
            Assert.Equal(20, Math.Atan2(boresight.Y, boresight.X) * 180 / Math.PI, 1e-9);
            Assert.Equal(-10, Math.Asin(boresight.Z) * 180 / Math.PI, 1e-9);
        }
    }

    [Fact]
    public void Cane_and_seated_parts_are_aimed_against_the_horizontal_too()
    {
        foreach ((string wearer, string site) in new[] { ("cane right", "cane shaft upper"), ("cane right", "wrist right"), ("manual wheelchair", "shin left"), ("powered wheelchair", "knee right") })
        {
            Body body = Wearers.Build(Wearers.Varied[wearer]);
            RigidTransform world = Mounter.WorldFromSensor(body.Neutral, Mount(site, new Vec3(0.02, 0, 0.02), 0, 0));
            Assert.Equal(0, world.ApplyToDirection(Vec3.UnitX).DistanceTo(Vec3.UnitX), 1e-12);
            Assert.Equal(0, world.ApplyToDirection(Vec3.UnitZ).DistanceTo(Vec3.UnitZ), 1e-12);
        }
    }

    [Fact]
    public void Offset_is_ahead_left_and_up_in_the_neutral_pose()
    {
        Body body = Wearers.MedianMan;
        RigidTransform at = Mounter.WorldFromSensor(body.Neutral, Mount("sternum", Vec3.Zero, 0, 0));
        RigidTransform moved = Mounter.WorldFromSensor(body.Neutral, Mount("sternum", new Vec3(0.03, 0.02, 0.01), 45, 30));
        Assert.Equal(0, (at.Translation + new Vec3(0.03, 0.02, 0.01)).DistanceTo(moved.Translation), 1e-12);
    }

    [Fact]
    public void A_bowed_head_takes_its_sensor_along()
    {
        Body body = Wearers.Build(Wearers.Man with { Posture = Posture.HeadBowed(Angle.FromDegrees(25)) });
        RigidTransform world = Mounter.WorldFromSensor(body.Still, Mount("brow", Vec3.Zero, 0, 8));
        Assert.Equal(8 - 25, Math.Asin(world.ApplyToDirection(Vec3.UnitX).Z) * 180 / Math.PI, 1e-9);
        Assert.True(world.Translation.Z < Mounter.WorldFromSensor(body.Neutral, Mount("brow", Vec3.Zero, 0, 8)).Translation.Z);
    }

    [Fact]
    public void Sensor_keeps_its_place_on_the_part_through_the_stride()
    {
        Body body = Wearers.MedianWoman;
        var motion = SwayEnvelope.Of(body, 0.9);
        Mount mount = Mount("wrist left", new Vec3(0, 0.02, 0), 0, 0);
        RigidTransform segmentFromSensor = Mounter.SegmentFromSensor(body, mount);
        for (int i = 0; i < 8; i++)
        {
            PosedBody posed = motion.PoseAt(i / 8.0);
            RigidTransform world = Mounter.WorldFromSensor(posed, mount);
            RigidTransform back = posed.WorldFromSegment(SegmentId.ForearmLeft).Inverse * world;
            Assert.Equal(0, back.Translation.DistanceTo(segmentFromSensor.Translation), 1e-12);
        }
    }

    [Fact]
    public void Mirrored_mounts_give_mirrored_sensors()
    {
        Body body = Wearers.MedianMan;
        foreach (Site site in body.AllSites.Where(s => s.Name.EndsWith(" left", StringComparison.Ordinal)))
        {
            RigidTransform left = Mounter.WorldFromSensor(body.Neutral, Mount(site.Name, Vec3.Zero, 30, 5));
            RigidTransform right = Mounter.WorldFromSensor(body.Neutral, Mount(site.Name[..^4] + "right", Vec3.Zero, -30, 5));
            Assert.Equal(left.Translation.MirroredLeftRight(), right.Translation);
            Assert.Equal(0, left.ApplyToDirection(Vec3.UnitX).MirroredLeftRight().DistanceTo(right.ApplyToDirection(Vec3.UnitX)), 1e-12);
        }
    }

    [Theory]
    [InlineData("sternum", -0.05, 0, 0, "inside the thorax")]
    [InlineData("brow", -0.08, 0, 0, "inside the head")]
    [InlineData("belt left", 0, -0.1, 0, "lies inside the")]
    [InlineData("thigh right", -0.05, 0, 0, "inside the thigh right")]
    [InlineData("chest left", 0, 0.19, 0, "")]
    [InlineData("belt left", 0, 0.02, 0, "")]
    [InlineData("belt left", 0, 0.1, 0, "inside the forearm left")]
    public void A_sensor_inside_the_body_is_refused(string site, double x, double y, double z, string where)
    {
        Action mounting = () => Mounter.SegmentFromSensor(Wearers.MedianMan, Mount(site, new Vec3(x, y, z), 0, 0));
        if (where.Length == 0)
        {
            mounting();
        }
        else
        {
            Assert.Contains(where, Assert.Throws<ArgumentException>(mounting).Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Unknown_site_is_refused() =>
        Assert.Contains("no mounting site tail", Assert.Throws<ArgumentException>(() => Mounter.SegmentFromSensor(Wearers.MedianMan, Mount("tail", Vec3.Zero, 0, 0))).Message, StringComparison.Ordinal);

    private static Mount Mount(string site, Vec3 offset, double azimuthDegrees, double tiltDegrees) =>
        new(site, offset, Angle.FromDegrees(azimuthDegrees), Angle.FromDegrees(tiltDegrees), Angle.Zero, MountTolerance.None);
}
