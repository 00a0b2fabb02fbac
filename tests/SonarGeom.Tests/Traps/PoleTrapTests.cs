using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Traps;

/// <summary>A pole answers from the point nearest the sensor, whatever part of it fills the beam; on smooth ground also from its foot.</summary>
public class PoleTrapTests
{
    private static readonly Vec3 Chest = new(0, 0, 1.2);

    public static TheoryData<double> Distances => [0.8, 1.0, 1.3, 1.6, 2.0];

    [Theory]
    [MemberData(nameof(Distances))]
    public void A_narrow_sensor_tilted_30_degrees_down_hears_nothing_of_a_pole_on_rough_or_absent_ground(double distance)
    {
        Obstacle pole = Obstacle.Pole("pole", new Vec3(distance, 0, 0), 0.075, 2.5);
        foreach (Ground? ground in new[] { null, Ground.Gravel })
        {
            ObstacleEcho echo = TrapBench.Echo(TrapBench.NarrowStrong, Chest, -30, pole, ground);
            Assert.True(echo.MarginDecibels < 0, $"{distance} m, {ground?.Name ?? "no ground"}: {echo.MarginDecibels} dB from part {echo.PartIndex}");
        }

        // The same sensor held level hears it well: it is the tilt that loses it.
        Assert.True(TrapBench.Echo(TrapBench.NarrowStrong, Chest, 0, pole, null).MarginDecibels > 5);
    }

    [Theory]
    [InlineData(1.6)]
    [InlineData(2.0)]
    [InlineData(2.4)]
    public void On_smooth_ground_it_hears_the_foot_of_the_pole(double distance)
    {
        Obstacle pole = Obstacle.Pole("pole", new Vec3(distance, 0, 0), 0.075, 2.5);
        ObstacleEcho echo = TrapBench.Echo(TrapBench.NarrowStrong, Chest, -30, pole, Ground.SmoothTile);
        Assert.True(echo.MarginDecibels >= 0, $"{distance} m: {echo.MarginDecibels} dB");
        Assert.Equal("corner with the ground", pole.Parts(Ground.SmoothTile)[echo.PartIndex].Name);
        Assert.Equal(0, echo.Echo.GlintMetres.Z, 1e-9);
        Assert.Equal(Math.Sqrt((Chest.Z * Chest.Z) + Math.Pow(distance - 0.0375, 2)), echo.Echo.RangeMetres, 1e-6);
    }

    [Fact]
    public void A_level_sensor_hears_the_pole_at_its_own_height()
    {
        Obstacle pole = Obstacle.Pole("pole", new Vec3(1.2, 0, 0), 0.075, 2.5);
        ObstacleEcho echo = TrapBench.Echo(TrapBench.SmallPair, Chest, 0, pole, null);
        Assert.Equal(Chest.Z, echo.Echo.GlintMetres.Z, 1e-6);
        Assert.Equal(1.2 - 0.0375, echo.Echo.RangeMetres, 1e-3);
    }

    // A rod whose upper end lies at sensor height shows half a Fresnel zone: −6 dB against the whole, and never more than that
    // 1.2 dB of Fresnel overshoot once its end stands above. Fresnel integrals (Abramowitz and Stegun 7.3).
    [Fact]
    public void A_pole_that_ends_at_sensor_height_answers_by_half()
    {
        double whole = Level(2.4);
        Assert.Equal(-6.02, Level(1.2) - whole, 0.15);
        Assert.True(Level(1.0) - whole < -15);
        for (double top = 1.2; top < 1.6; top += 0.01)
        {
            Assert.InRange(Level(top) - whole, -6.5, 1.5);
        }

        static double Level(double top) => PartEchoes.Evaluate(
            EchoBench.At(TrapBench.SmallPair, Chest), new CylinderPart("rod", new Vec3(1.2, 0, 0), new Vec3(1.2, 0, top), 0.0375)).BandLevelDecibels;
    }
}
