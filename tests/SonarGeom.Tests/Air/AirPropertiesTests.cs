using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Air;

public class AirPropertiesTests
{
    private static readonly Frequency Forty = Frequency.FromKilohertz(40);

    [Fact]
    public void Ordinary_air_has_no_flags()
    {
        var properties = AirProperties.Of(AirState.Standard, Forty);
        Assert.Empty(properties.Flags);
        Assert.Equal(AbsorptionAccuracy.TenPercent, properties.AbsorptionAccuracy);
        Assert.Equal(0.25 * properties.AbsorptionDecibelsPerMetre, properties.AbsorptionUncertaintyDecibelsPerMetre, 12);
    }

    [Theory]
    [InlineData(-5, 50, "Speed of sound")]
    [InlineData(31, 50, "Speed of sound")]
    [InlineData(14, 50, "Density")]
    [InlineData(28, 50, "Density")]
    [InlineData(-10, 15, "±20 %")]
    [InlineData(40, 100, "±20 %")]
    [InlineData(20, 0, "outside the accuracy classes")]
    public void Formulas_outside_their_stated_range_are_flagged(double celsius, double humidity, string expected) =>
        Assert.Contains(
            AirProperties.Of(new AirState(Temperature.FromDegreesCelsius(celsius), humidity), Forty).Flags,
            flag => flag.Contains(expected, StringComparison.Ordinal));

    // ISO 9613-1:1993, clause 7 (seen second-hand): f/p from 4e-4 to 10 Hz/Pa, p below 200 kPa.
    [Theory]
    [InlineData(41, 101_325, AbsorptionAccuracy.TenPercent)]
    [InlineData(40, 101_325, AbsorptionAccuracy.Outside)]
    [InlineData(1_013_000, 101_325, AbsorptionAccuracy.TenPercent)]
    [InlineData(1_014_000, 101_325, AbsorptionAccuracy.Outside)]
    [InlineData(40_000, 199_999, AbsorptionAccuracy.TenPercent)]
    [InlineData(40_000, 200_000, AbsorptionAccuracy.Outside)]
    public void Frequency_over_pressure_decides_the_accuracy_class(double hertz, double pascals, AbsorptionAccuracy expected) =>
        Assert.Equal(
            expected,
            AirAbsorption.AccuracyOf(
                new AirState(Temperature.FromDegreesCelsius(20), 50, pascals), Frequency.FromHertz(hertz)));

    [Fact]
    public void Water_vapour_decides_the_accuracy_class_at_its_edges()
    {
        // Humidity chosen so that the vapour lies just on either side of 0.005, 0.05 and 5 % by moles.
        foreach ((double celsius, double edge, AbsorptionAccuracy below, AbsorptionAccuracy above) in new[]
        {
            (-20.0, 0.005, AbsorptionAccuracy.Outside, AbsorptionAccuracy.TwentyPercent),
            (0.0, 0.05, AbsorptionAccuracy.TwentyPercent, AbsorptionAccuracy.TenPercent),
            (45.0, 5.0, AbsorptionAccuracy.TenPercent, AbsorptionAccuracy.TwentyPercent),
        })
        {
            var temperature = Temperature.FromDegreesCelsius(celsius);
            double perPercent = AirAbsorption.MolarWaterVapourPercent(new AirState(temperature, 1));
            double humidity = edge / perPercent;
            Assert.Equal(below, AirAbsorption.AccuracyOf(new AirState(temperature, humidity * 0.9999), Forty));
            Assert.Equal(above, AirAbsorption.AccuracyOf(new AirState(temperature, humidity * 1.0001), Forty));
        }
    }

    [Fact]
    public void Formulas_without_humidity_say_so()
    {
        Assert.Single(AirProperties.Of(AirState.Standard, Forty, SoundSpeedModel.DryIdealGas).Flags);
        Assert.Empty(AirProperties.Of(
            new AirState(Temperature.FromDegreesCelsius(20), 5), Forty, SoundSpeedModel.Humid).Flags);
    }

    [Fact]
    public void Filling_in_many_frequencies_gives_the_single_values()
    {
        double[] hertz = [20_000, 25_000, 39_500, 40_000, 58_000, 200_000];
        double[] filled = new double[hertz.Length];
        AirAbsorption.Fill(AirState.Standard, hertz, filled);
        for (int i = 0; i < hertz.Length; i++)
        {
            Assert.Equal(AirAbsorption.DecibelsPerMetre(AirState.Standard, Frequency.FromHertz(hertz[i])), filled[i]);
        }

        Assert.Throws<ArgumentException>(() => AirAbsorption.Fill(AirState.Standard, hertz, new double[2]));
    }

    [Fact]
    public void A_device_with_a_fixed_constant_reports_too_far_in_the_cold()
    {
        double cold = SoundSpeed.InMetresPerSecond(new AirState(Temperature.FromDegreesCelsius(-10)));
        Assert.InRange(RoundTrip.RangeErrorFraction(58, cold), 0.055, 0.065);
        double hot = SoundSpeed.InMetresPerSecond(new AirState(Temperature.FromDegreesCelsius(45)));
        Assert.InRange(RoundTrip.RangeErrorFraction(58, hot), -0.06, -0.03);
        Assert.Throws<ArgumentOutOfRangeException>(() => RoundTrip.RangeErrorFraction(0, 343));
        Assert.Throws<ArgumentOutOfRangeException>(() => RoundTrip.MicrosecondsPerCentimetre(double.NaN));
    }
}
