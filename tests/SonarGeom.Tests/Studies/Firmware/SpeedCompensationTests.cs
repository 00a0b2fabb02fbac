using SonarGeom.Air;
using SonarGeom.Quantities;
using SonarGeom.Studies.Firmware;

namespace SonarGeom.Tests.Studies.Firmware;

public class SpeedCompensationTests
{
    private static readonly ClimateRange Mild = new(Temperature.FromDegreesCelsius(0), Temperature.FromDegreesCelsius(30));

    // c = 331.3 + 0.606 t is the usual line for dry air from 0 to 30 °C (textbook form, from memory). It is the tangent at 0 °C; the line of
    // least largest error over the range is flatter, and closer everywhere.
    [Fact]
    public void In_dry_air_the_line_is_the_usual_one_but_for_its_curvature()
    {
        var fit = SpeedCompensation.Fit(Mild, SoundSpeedModel.DryIdealGas);
        Assert.InRange(fit.PerDegreeMillimetresPerSecond, 585, 606);
        Assert.InRange(fit.AtZeroMillimetresPerSecond, 331_300, 331_450);
        Assert.InRange(fit.LargestErrorFraction, 0, 2.5e-4);
    }

    [Fact]
    public void No_air_of_the_climate_errs_more_than_is_told()
    {
        var fit = SpeedCompensation.Fit(ClimateRange.Street);
        double largest = 0;
        foreach (Temperature t in ClimateRange.Street.Temperatures(0.5))
        {
            for (double humidity = 20; humidity <= 90; humidity += 5)
            {
                double exact = SoundSpeed.InMetresPerSecond(ClimateRange.Street.At(t, humidity));
                largest = Math.Max(largest, Math.Abs((fit.SpeedMetresPerSecond(t) / exact) - 1));
            }
        }

        // The fit looks at every degree and three humidities; half a degree between them changes the speed by 0.1 %, the error far less.
        Assert.Equal(fit.LargestErrorFraction, largest, 1e-4);
        Assert.True(largest < 0.006, "a fixed constant errs by 6 %");

        // No other line is better: a little steeper, flatter, higher or lower errs more.
        foreach ((int zero, int slope) in new[] { (0, 20), (0, -20), (200, 0), (-200, 0) })
        {
            double other = ClimateRange.Street.Temperatures(1).SelectMany(t => new[] { 20.0, 55, 90 }.Select(h => (t, h))).Max(p => Math.Abs(
                ((fit.AtZeroMillimetresPerSecond + zero + ((fit.PerDegreeMillimetresPerSecond + slope) * p.t.DegreesCelsius)) / 1000
                    / SoundSpeed.InMetresPerSecond(ClimateRange.Street.At(p.t, p.h))) - 1));
            Assert.True(other > fit.LargestErrorFraction - 1e-5);
        }
    }

    // (A + B · t/10) · τ / 2 000 000, worked by hand for dry air: A and B of the fit.
    [Fact]
    public void Ranges_in_whole_numbers_are_those_of_the_line()
    {
        var fit = SpeedCompensation.Fit(Mild);
        long speed = fit.AtZeroMillimetresPerSecond + (20L * fit.PerDegreeMillimetresPerSecond);
        Assert.Equal((int)(speed * 11_655 / 2_000_000), fit.RangeMillimetres(11_655, 200));
        Assert.InRange(fit.RangeMillimetres(11_655, 200), 1998, 2008);
        Assert.Equal(0, fit.RangeMillimetres(0, 200));
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.RangeMillimetres(-1, 200));
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.RangeMillimetres(100, 501));
    }

    [Fact]
    public void A_climate_has_its_ends_and_its_corners()
    {
        Assert.Equal([0.0, 8, 16, 24, 30], Mild.Temperatures(8).Select(t => Math.Round(t.DegreesCelsius, 9)));
        Assert.Equal(4, Mild.Corners.Length);
        Assert.Equal(2, new ClimateRange(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(20)).Corners.Length);
        Assert.Throws<ArgumentException>(() => new ClimateRange(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(10)));
        Assert.Throws<ArgumentException>(() => new ClimateRange(Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(30), 60, 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ClimateRange(Temperature.FromDegreesCelsius(-30), Temperature.FromDegreesCelsius(30)));
    }
}
