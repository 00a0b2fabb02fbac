using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Traps;

/// <summary>A bollard below the sensor answers from its cap and edge, not from its side.</summary>
public class BollardTrapTests
{
    private static readonly Vec3 Chest = new(0, 0, 1.3);

    [Theory]
    [InlineData(0.8)]
    [InlineData(1.2)]
    [InlineData(1.8)]
    public void A_dome_is_what_a_sensor_above_it_hears(double distance)
    {
        Obstacle bollard = Obstacle.Bollard("bollard", new Vec3(distance, 0, 0), 0.16, 0.9, CapShape.Domed, 0.08);
        SensorAtPose sensor = Towards(distance);
        ObstacleEcho echo = ObstacleEcho.Strongest(sensor, bollard.Parts(null));
        Assert.Equal("dome", bollard.Parts(null)[echo.PartIndex].Name);
        double side = Level(sensor, bollard, "side");
        Assert.True(echo.Echo.BandLevelDecibels - side > 10, $"{distance} m: dome {echo.Echo.BandLevelDecibels} dB, side {side} dB");
    }

    [Theory]
    [InlineData(0.8)]
    [InlineData(1.2)]
    public void A_flat_cap_seen_from_above_sends_nearly_all_away(double distance)
    {
        Obstacle flat = Obstacle.Bollard("bollard", new Vec3(distance, 0, 0), 0.16, 0.9, CapShape.Flat);
        SensorAtPose sensor = Towards(distance);
        double level = ObstacleEcho.Strongest(sensor, flat.Parts(null)).Echo.BandLevelDecibels;

        // Against the same post tall enough to stand before the sensor, which then looks at it level.
        Obstacle tall = flat with { HeightMetres = 2 };
        double square = ObstacleEcho.Strongest(EchoBench.At(TrapBench.SmallPair, Chest), tall.Parts(null)).Echo.BandLevelDecibels;
        Assert.True(square - level > 12, $"{distance} m: {square} dB tall, {level} dB below the sensor");
    }

    [Fact]
    public void The_side_of_a_bollard_below_the_sensor_falls_to_its_end_value()
    {
        Obstacle low = Obstacle.Bollard("bollard", new Vec3(1, 0, 0), 0.16, 0.9, CapShape.Flat);
        Obstacle tall = low with { HeightMetres = 2 };
        SensorAtPose sensor = EchoBench.At(TrapBench.SmallPair, Chest, 0, -15);
        Assert.True(Level(sensor, tall, "side") - Level(sensor, low, "side") > 20);
    }

    // 45° chamfer, sensor 45° above it: the chamfer is square to the ray and answers as a rod of its slant radius.
    [Fact]
    public void A_chamfer_answers_along_its_normal()
    {
        Obstacle bollard = Obstacle.Bollard("bollard", new Vec3(0.5, 0, 0), 0.16, 0.9, CapShape.Chamfered, 0.04);
        double at45 = Level(EchoBench.At(TrapBench.SmallPair, new Vec3(0.5 - 0.06 - 0.5, 0, 0.88 + 0.5), 0, -45), bollard, "chamfer");
        double at20 = Level(EchoBench.At(TrapBench.SmallPair, new Vec3(0.5 - 0.06 - 0.664, 0, 0.88 + 0.242), 0, -20), bollard, "chamfer");
        Assert.True(at45 - at20 > 12, $"{at45} dB along the normal, {at20} dB at 20°");
    }

    private static SensorAtPose Towards(double distance) =>
        EchoBench.At(TrapBench.SmallPair, Chest, 0, -Math.Atan2(0.4, distance) * 180 / Math.PI);

    private static double Level(SensorAtPose sensor, Obstacle obstacle, string name) =>
        PartEchoes.Evaluate(sensor, obstacle.Parts(null).Single(p => p.Name == name)).BandLevelDecibels;
}
