using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Traps;

/// <summary>Kerbs answer from their corner with the road, steps down from nothing that may be relied on.</summary>
public class StepTrapTests
{
    private static readonly Vec3 Waist = new(0, 0, 1.0);
    private static readonly Obstacle Kerb = Obstacle.KerbUp("kerb", new Vec3(1.5, 0, 0), 0.1, 4) with { RoughnessRmsMetres = 0 };

    // 10 cm kerb, sensor 1 m high, 1.5 m away, looking at the corner: target strength +1.4 dB, 2.3 dB above an endless wall at that
    // range (strip form of the double bounce, itself checked against quadrature). The band mean differs by a few tenths.
    [Fact]
    public void The_corner_of_a_smooth_kerb_answers_louder_than_a_wall_and_its_face_does_not()
    {
        SensorAtPose sensor = EchoBench.At(TrapBench.SmallPair, Waist, 0, -33.7);
        double corner = Level(sensor, Kerb, "corner with the road");
        double face = Level(sensor, Kerb, "face");
        double slant = Math.Sqrt(1 + (1.5 * 1.5));
        var facing = new Vec3(Math.Cos(-33.7 * Math.PI / 180), 0, Math.Sin(-33.7 * Math.PI / 180));
        double wall = PartEchoes.Evaluate(sensor, new PlanePart("wall", Waist + (slant * facing), -facing)).BandLevelDecibels;
        Assert.Equal(2.3, corner - wall, 0.5);
        Assert.True(corner - face > 20, $"corner {corner} dB, face {face} dB");
        Assert.True(ObstacleEcho.Strongest(sensor, Kerb.Parts(Ground.SmoothTile)).MarginDecibels > 0);
    }

    // A face of 1 mm rms costs exp(−Γ²/2) with Γ = 2kσ cos ψ: 6.4 dB at 33.7°, and the road its own; on gravel nothing is left.
    [Fact]
    public void A_rough_face_or_a_rough_road_takes_the_corner_away()
    {
        SensorAtPose sensor = EchoBench.At(TrapBench.SmallPair, Waist, 0, -33.7);
        double smooth = Level(sensor, Kerb, "corner with the road");
        double rough = Level(sensor, Kerb with { RoughnessRmsMetres = 1e-3 }, "corner with the road");
        Assert.InRange(smooth - rough, 6.0, 7.0);
        PartEcho gravel = PartEchoes.Evaluate(sensor, Part(Kerb, Ground.Gravel, "corner with the road"));
        Assert.True(smooth - gravel.BandLevelDecibels > 60, $"{smooth - gravel.BandLevelDecibels} dB");
        Assert.DoesNotContain(Kerb.Parts(null), p => p is CornerPart);
    }

    [Fact]
    public void The_default_kerb_has_a_rough_face() => Assert.Equal(1e-3, Obstacle.KerbUp("kerb", Vec3.Zero, 0.1, 4).EffectiveRoughnessRmsMetres);

    // A kerb seen askew sends its corner echo away; only its ends are left.
    [Fact]
    public void A_kerb_seen_30_degrees_askew_loses_its_corner()
    {
        SensorAtPose sensor = EchoBench.At(TrapBench.SmallPair, Waist, 0, -33.7);
        double square = Level(sensor, Kerb with { WidthMetres = 1.2 }, "corner with the road");
        double askew = Level(sensor, Kerb with { WidthMetres = 1.2, Yaw = Angle.FromDegrees(40) }, "corner with the road");
        Assert.True(square - askew > 20, $"{square} dB square, {askew} dB askew");
    }

    public static TheoryData<double, double> Looks
    {
        get
        {
            var looks = new TheoryData<double, double>();
            foreach (double tilt in new[] { 0.0, -20, -40, -60, -80 })
            {
                foreach (double distance in new[] { 0.3, 0.6, 1.0, 2.0 })
                {
                    looks.Add(tilt, distance);
                }
            }

            return looks;
        }
    }

    [Theory]
    [MemberData(nameof(Looks))]
    public void A_step_down_is_never_claimed_as_detected(double tilt, double distance)
    {
        Obstacle drop = Obstacle.StepDown("drop", new Vec3(distance, 0, 0), 0.18, 4);
        foreach (PreparedTransducer part in new[] { TrapBench.SmallPair, TrapBench.NarrowStrong, TrapBench.Prepared(new CircularPiston(0.006541), 60, 0.026) })
        {
            foreach (Ground ground in Ground.Presets)
            {
                SensorAtPose sensor = EchoBench.At(part, Waist, 0, tilt);
                Assert.Equal(PartEcho.SilentDecibels, ObstacleEcho.Strongest(sensor, drop.Parts(ground)).MarginDecibels);
                LevelBudget budget = EchoExplainer.Explain(sensor, drop.Parts(ground));
                Assert.False(budget.IsDetected);
                Assert.NotEqual(LimitingCause.None, budget.Cause);
            }
        }
    }

    // The lip itself is there to be looked at, 35 dB and more below a wall at its range (uniform theory of diffraction).
    [Fact]
    public void The_lip_of_a_step_down_lies_far_below_a_wall()
    {
        SensorAtPose sensor = EchoBench.At(TrapBench.SmallPair, Waist, 0, -45);
        TargetPart lip = Obstacle.StepDown("drop", new Vec3(1, 0, 0), 0.18, 4).Parts(null)[0];
        PartEcho echo = PartEchoes.Evaluate(sensor, lip);
        double wall = PartEchoes.Evaluate(sensor, new PlanePart("wall", echo.GlintMetres, (Waist - echo.GlintMetres).Normalized())).BandLevelDecibels;
        Assert.InRange(wall - echo.BandLevelDecibels, 35, 60);
    }

    private static TargetPart Part(Obstacle obstacle, Ground? ground, string name) => obstacle.Parts(ground).Single(p => p.Name == name);

    private static double Level(SensorAtPose sensor, Obstacle obstacle, string name) =>
        PartEchoes.Evaluate(sensor, Part(obstacle, Ground.SmoothTile with { RoughnessRmsMetres = 0 }, name)).BandLevelDecibels;
}
