using SonarGeom.Quantities;

namespace SonarGeom.Tests.Quantities;

public class QuantityTests
{
    [Fact]
    public void Units_convert_there_and_back()
    {
        for (int index = 0; index < 1000; index++)
        {
            double value = (2e4 * new Random(index).NextDouble()) - 1e4;
            double size = Math.Abs(value) + 1;
            Assert.True(Math.Abs(Angle.FromDegrees(value).Degrees - value) < 1e-9, $"index {index}, {value}");
            Assert.Equal(value, Angle.FromRadians(value).Radians);
            Assert.Equal(size, Frequency.FromKilohertz(size).Kilohertz, 1e-9);
            Assert.Equal(size, Temperature.FromKelvins(size).Kelvins);
            Assert.Equal(size - 200, Temperature.FromDegreesCelsius(size - 200).DegreesCelsius, 1e-9);
        }
    }

    [Fact]
    public void Decibels_convert_there_and_back()
    {
        for (int level = -200; level <= 200; level++)
        {
            Assert.Equal(level, Decibels.FromAmplitudeRatio(Decibels.ToAmplitudeRatio(level)), 1e-9);
            Assert.Equal(level, Decibels.FromPowerRatio(Decibels.ToPowerRatio(level)), 1e-9);
        }
    }

    [Fact]
    public void Impossible_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Angle.FromDegrees(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Angle.FromRadians(double.NegativeInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => Frequency.FromHertz(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Frequency.FromHertz(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Temperature.FromDegreesCelsius(-273.16));
        Assert.Throws<ArgumentOutOfRangeException>(() => Temperature.FromKelvins(-1e-9));
        Assert.Equal(0, Temperature.FromDegreesCelsius(-273.15).Kelvins);
    }

    [Fact]
    public void Order_and_arithmetic_follow_the_value()
    {
        Assert.True(Angle.FromDegrees(10) < Angle.FromDegrees(11));
        Assert.True(Angle.FromDegrees(-10) <= -Angle.FromDegrees(10));
        Assert.Equal(30, (Angle.FromDegrees(50) - (2 * Angle.FromDegrees(10))).Degrees, 1e-12);
        Assert.True(Frequency.FromKilohertz(40) > Frequency.FromHertz(39_999));
        Assert.True(Temperature.FromDegreesCelsius(20) >= Temperature.FromKelvins(293.15));
        Assert.Equal("20 °C", Temperature.FromDegreesCelsius(20).ToString());
        Assert.Equal("40 kHz", Frequency.FromKilohertz(40).ToString());
        Assert.Equal("-12.5°", Angle.FromDegrees(-12.5).ToString());
    }
}
