using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Tests.Drawing;

public class TicksTests
{
    [Theory]
    [InlineData(0, 1, 6, "0.0 0.2 0.4 0.6 0.8 1.0")]
    [InlineData(-0.5, 0.5, 5, "\u22120.4 \u22120.2 0.0 0.2 0.4")]
    [InlineData(0, 2.12, 12, "0.0 0.2 0.4 0.6 0.8 1.0 1.2 1.4 1.6 1.8 2.0")]
    [InlineData(-30, 40, 8, "\u221230 \u221220 \u221210 0 10 20 30 40")]
    [InlineData(0, 4000, 5, "0 1000 2000 3000 4000")]
    [InlineData(0.013, 0.0172, 5, "0.013 0.014 0.015 0.016 0.017")]
    [InlineData(3, 3, 5, "3.0")]
    public void Ticks_are_round_numbers(double from, double to, int most, string expected) =>
        Assert.Equal(expected, string.Join(' ', Ticks.Between(from, to, most).Labels));

    [Fact]
    public void Ticks_lie_inside_and_are_no_more_than_asked_for()
    {
        for (int seed = 0; seed < 500; seed++)
        {
            var random = new Random(seed);
            double from = (random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-4, 5));
            double to = from + (random.NextDouble() * Math.Pow(10, random.Next(-3, 5))) + 1e-3;
            int most = random.Next(2, 13);
            Ticks ticks = Ticks.Between(from, to, most);
            double slack = 1e-8 * (to - from);
            Assert.True(ticks.Values.Length <= most, $"seed {seed}");
            Assert.True(ticks.Values.All(v => v >= from - slack && v <= to + slack), $"seed {seed}");
            Assert.True(ticks.Labels.Distinct().Count() == ticks.Labels.Length, $"seed {seed}: {string.Join(' ', ticks.Labels)}");
        }
    }

    [Fact]
    public void A_mirrored_range_has_mirrored_ticks()
    {
        double[] right = Ticks.Between(-0.3, 0.9, 7).Values;
        double[] left = Ticks.Between(-0.9, 0.3, 7).Values;
        Assert.Equal(right, left.Reverse().Select(v => 0 - v));
    }

    [Fact]
    public void Numbers_have_a_true_minus_and_no_negative_zero()
    {
        Assert.Equal("0.0", Ticks.Write(-0.04, 1));
        Assert.Equal("\u22120.1", Ticks.Write(-0.06, 1));
        Assert.Equal("12", Ticks.Write(12.3, 0));
    }

    [Fact]
    public void Labels_along_an_axis_keep_apart()
    {
        for (double length = 60; length < 1200; length += 37)
        {
            Ticks ticks = Ticks.Along(-0.55, 0.55, length, Typography.Tick);
            for (int i = 1; i < ticks.Values.Length; i++)
            {
                double pitch = (ticks.Values[i] - ticks.Values[i - 1]) * length / 1.1;
                double need = 0.5 * (Typography.Tick.Measure(ticks.Labels[i]) + Typography.Tick.Measure(ticks.Labels[i - 1]));
                Assert.True(pitch > need, $"{length}: {pitch} against {need}");
            }
        }
    }
}
