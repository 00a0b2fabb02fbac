using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class FresnelLengthTests
{
    // Abramowitz and Stegun, Table 7.7 (from memory): C(1) and S(1), C(5) and S(5) to seven decimals.
    [Theory]
    [InlineData(1, 0.7798934, 0.4382591)]
    [InlineData(5, 0.5636312, 0.4991914)]
    public void Fresnel_integrals_match_the_table(double x, double cosine, double sine)
    {
        (double c, double s) = FresnelLength.Integrals(x);
        Assert.Equal(cosine, c, 6e-8);
        Assert.Equal(sine, s, 6e-8);
    }

    [Fact]
    public void Fresnel_integrals_agree_with_quadrature_and_join_smoothly()
    {
        double c = 0;
        double s = 0;
        const int steps = 60_000;
        const double step = 12.0 / steps;
        double worst = 0;
        for (int i = 0; i < steps; i++)
        {
            // Simpson's rule on each step.
            double t = i * step;
            c += step / 6 * (F(Math.Cos, t) + (4 * F(Math.Cos, t + (step / 2))) + F(Math.Cos, t + step));
            s += step / 6 * (F(Math.Sin, t) + (4 * F(Math.Sin, t + (step / 2))) + F(Math.Sin, t + step));
            (double computedC, double computedS) = FresnelLength.Integrals(t + step);
            worst = Math.Max(worst, Math.Max(Math.Abs(computedC - c), Math.Abs(computedS - s)));
        }

        Assert.True(worst < 1e-11, $"worst {worst:E2}");

        static double F(Func<double, double> function, double t) => function(0.5 * Math.PI * t * t);
    }
}
