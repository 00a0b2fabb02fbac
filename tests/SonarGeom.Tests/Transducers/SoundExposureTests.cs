using SonarGeom.Air;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class SoundExposureTests
{
    private readonly SoundExposure _exposure = new(TransducerTests.Pair(), AirState.Standard);

    [Fact]
    public void Level_falls_with_distance_and_off_the_boresight()
    {
        double near = _exposure.BurstLevelDecibels(0.5, Vec3.UnitX);
        double far = _exposure.BurstLevelDecibels(1, Vec3.UnitX);
        double alpha = AirAbsorption.DecibelsPerMetre(AirState.Standard, Frequency.FromKilohertz(40));
        Assert.Equal(6.0206 + (0.5 * alpha), near - far, 1e-4);
        Assert.True(_exposure.BurstLevelDecibels(1, new Vec3(0.8, 0.6, 0)) < far - 6);
        Assert.Equal(double.NegativeInfinity, _exposure.BurstLevelDecibels(1, -1 * Vec3.UnitX));
        Assert.Throws<ArgumentOutOfRangeException>(() => _exposure.BurstLevelDecibels(0.01, Vec3.UnitX));
    }

    [Fact]
    public void The_distance_of_a_limit_is_where_the_level_is_the_limit()
    {
        double distance = _exposure.DistanceMetres(90);
        Assert.Equal(90, _exposure.BurstLevelDecibels(distance, Vec3.UnitX), 1e-6);
        Assert.Equal(0, _exposure.DistanceMetres(150));
    }

    [Fact]
    public void A_burst_of_200_microseconds_every_20_milliseconds_is_20_decibels_lower_on_average()
    {
        Assert.Equal(-20, _exposure.DutyDecibels(0.020), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => _exposure.DutyDecibels(0.0001));
    }

    [Theory]
    [InlineData(20, 70)]
    [InlineData(25, 100)]
    [InlineData(40, 100)]
    [InlineData(58, 100)]
    public void The_strictest_limit_for_everybody_depends_on_the_band(double kilohertz, double expected) =>
        Assert.Equal(
            expected,
            ExposureLimit.For(Frequency.FromKilohertz(kilohertz))
                .Where(limit => limit.Audience == ExposureAudience.GeneralPublic).Min(limit => limit.LevelDecibels));
}
