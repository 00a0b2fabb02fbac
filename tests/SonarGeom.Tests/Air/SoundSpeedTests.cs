using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Air;

public class SoundSpeedTests
{
    // The stated accuracy of Cramer is 0.03 %, the ideal gas leaves out virial terms of about 0.05 %.
    [Fact]
    public void The_join_between_cramer_and_the_ideal_gas_steps_by_at_most_a_thousandth()
    {
        foreach (double celsius in new[] { 0.0, 30.0 })
        {
            for (int humidity = 0; humidity <= 100; humidity += 5)
            {
                foreach (double pascals in new[] { 75_000.0, 90_000, 101_325, 102_000 })
                {
                    var air = new AirState(Temperature.FromDegreesCelsius(celsius), humidity, pascals);
                    double step = (SoundSpeed.HumidIdealGas(air) / SoundSpeed.Cramer(air)) - 1;
                    Assert.True(Math.Abs(step) <= 1e-3, $"{air}: step {step:P3}");
                }
            }
        }
    }

    [Fact]
    public void Crossing_the_edges_of_the_range_of_cramer_steps_by_at_most_a_thousandth()
    {
        foreach ((AirState inside, AirState outside) in new[]
        {
            (State(30, 100), State(30.0001, 100)),
            (State(0, 50), State(-0.0001, 50)),
            (State(15, 50, 75_000), State(15, 50, 74_999)),
            (State(15, 50, 102_000), State(15, 50, 102_001)),
        })
        {
            Assert.True(SoundSpeed.IsWithinCramerRange(inside), inside.ToString());
            Assert.False(SoundSpeed.IsWithinCramerRange(outside), outside.ToString());
            double ratio = SoundSpeed.InMetresPerSecond(outside) / SoundSpeed.InMetresPerSecond(inside);
            Assert.InRange(ratio, 0.999, 1.001);
        }
    }

    [Fact]
    public void Warmer_and_moister_air_is_faster()
    {
        for (int celsius = -20; celsius < 50; celsius++)
        {
            // Across the join at 0 °C the step is downwards in sense but smaller than a degree's gain.
            Assert.True(
                SoundSpeed.InMetresPerSecond(State(celsius + 1, 50)) > SoundSpeed.InMetresPerSecond(State(celsius, 50)),
                $"{celsius} °C");
            Assert.True(
                SoundSpeed.InMetresPerSecond(State(celsius, 90)) > SoundSpeed.InMetresPerSecond(State(celsius, 10)),
                $"{celsius} °C");
        }
    }

    // Humidity at 20 °C: 0 to 100 % raises the speed by about 1.2 m/s (computed from Cramer 1993).
    [Fact]
    public void Humidity_raises_the_speed_by_about_a_metre_per_second() =>
        Assert.InRange(
            SoundSpeed.InMetresPerSecond(State(20, 100)) - SoundSpeed.InMetresPerSecond(State(20, 0)), 1.1, 1.35);

    [Fact]
    public void Density_stays_near_the_ideal_mixture_over_the_whole_range()
    {
        for (int celsius = -20; celsius <= 50; celsius += 5)
        {
            AirState air = State(celsius, 60);
            double vapour = WaterVapour.SaturationPressurePascals(air.Temperature) * 0.6;

            // Gas constants of dry air and of water vapour, textbook values (from memory).
            double ideal = ((air.PressurePascals - vapour) / (287.05 * air.Temperature.Kelvins))
                + (vapour / (461.5 * air.Temperature.Kelvins));
            Assert.InRange(AirDensity.KilogramsPerCubicMetre(air) / ideal, 0.999, 1.001);
        }
    }

    [Fact]
    public void An_unknown_model_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundSpeed.InMetresPerSecond(AirState.Standard, (SoundSpeedModel)7));

    private static AirState State(double celsius, double humidity, double pascals = 101_325) =>
        new(Temperature.FromDegreesCelsius(celsius), humidity, pascals);
}
