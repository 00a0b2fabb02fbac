using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Coverage;
using SonarGeom.Tests.Trials;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Mounting;

public class MountSwayTests
{
    private static readonly MountSway Cord = new(Angle.FromDegrees(15), Angle.FromDegrees(8), 0.1);

    [Fact]
    public void It_nods_twice_and_turns_once_in_a_stride()
    {
        Assert.Equal(15, TiltDegrees(0.1), 0.1);
        Assert.Equal(-15, TiltDegrees(0.35), 0.1);
        Assert.Equal(15, TiltDegrees(0.6), 0.1);
        Assert.Equal(8, AzimuthDegrees(0.1), 1e-9);
        Assert.Equal(-8, AzimuthDegrees(0.6), 1e-9);
        Assert.Equal(0, AzimuthDegrees(0.35), 1e-9);

        static double TiltDegrees(double p) => Math.Asin(Cord.At(p).AxisX.Z) * 180 / Math.PI;
        static double AzimuthDegrees(double p) => Math.Atan2(Cord.At(p).AxisX.Y, Cord.At(p).AxisX.X) * 180 / Math.PI;
    }

    [Fact]
    public void The_mirrored_sensor_swings_as_the_mirror_shows_half_a_stride_on()
    {
        SensorPlacement left = Swinging(CoverageBench.Sensor("left", "chest left", 20, 10));
        PosedLayout one = CoverageBench.Pose(CoverageBench.Layout(left), phases: 8);
        PosedLayout other = CoverageBench.Pose(CoverageBench.Layout(CoverageBench.Mirrored(left)), phases: 8);
        for (int p = 0; p < 8; p++)
        {
            SensorAtPose a = one.Sensor(0, p), b = other.Sensor(0, (p + 4) % 8);
            Assert.Equal(0, a.Boresight.DistanceTo(b.Boresight.MirroredLeftRight()), 1e-9);
            Assert.Equal(0, a.MidpointMetres.DistanceTo(b.MidpointMetres.MirroredLeftRight()), 1e-9);
        }
    }

    // A sensor that hangs level hears no gravel; on a cord that nods 25° it does in the phases in which it looks down.
    [Fact]
    public void Floor_is_heard_in_the_phases_in_which_it_looks_down()
    {
        SensorPlacement firm = CoverageBench.Sensor("one", "sternum", 0, 0, transducer: CoverageBench.WidePair with { SourceLevelDecibels = 112 });
        SensorPlacement swinging = firm with { Mount = firm.Mount with { Sway = new MountSway(Angle.FromDegrees(25), Angle.Zero) } };
        PosedLayout still = CoverageBench.Pose(CoverageBench.Layout(firm), ground: Ground.Gravel, phases: 8);
        PosedLayout moving = CoverageBench.Pose(CoverageBench.Layout(swinging), ground: Ground.Gravel, phases: 8);
        Assert.Equal(0, still.FloorPhasesFraction(0));
        Assert.InRange(moving.FloorPhasesFraction(0), 0.1, 0.9);
        Assert.Equal(moving.Sensor(0, 3).Boresight, moving.BarePoses(swinging)[3].Boresight);
    }

    [Fact]
    public void Every_outing_swings_in_its_own_way()
    {
        SensorLayout layout = CoverageBench.Layout(Swinging(CoverageBench.Sensor("one", "sternum", 0, 0)));
        TrialCourse course = TrialBench.Course(TrialBench.Calm);
        MountSway[] days = [.. Enumerable.Range(0, 12).Select(i => Outing.Of(course, [layout], i).Layouts[0].Posed.Layout.Sensors[0].Mount.Sway!)];
        Assert.Equal(12, days.Select(d => d.LagFraction).Distinct().Count());
        Assert.All(days, d => Assert.InRange(d.Tilt.Degrees, 7.5, 22.5));
    }

    private static SensorPlacement Swinging(SensorPlacement sensor) => sensor with { Mount = sensor.Mount with { Sway = Cord } };
}
