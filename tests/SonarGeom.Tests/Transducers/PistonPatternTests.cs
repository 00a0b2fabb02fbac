using MathNet.Numerics;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class PistonPatternTests
{
    // The bound of the documentation, 1e-15, plus the error of the library compared with.
    [Fact]
    public void Pattern_agrees_with_an_independent_bessel_function()
    {
        double worst = 0;
        for (int i = 1; i <= 100_000; i++)
        {
            double x = i * 1e-3;
            worst = Math.Max(worst, Math.Abs(PistonPattern.Evaluate(x) - (2 * SpecialFunctions.BesselJ(1, x) / x)));
        }

        Assert.True(worst < 2e-15, $"worst difference {worst:E2}");
    }

    // High-precision values of 2·J1(x)/x from the power series in 60-digit arithmetic (computed separately).
    [Theory]
    [MemberData(nameof(HighPrecision))]
    public void Pattern_is_good_to_a_few_units_of_the_last_digit(double x, double expected) =>
        Assert.Equal(expected, PistonPattern.Evaluate(x), 1e-15);

    public static TheoryData<double, double> HighPrecision => new()
    {
        { 0.1, 9.98750520724839940812e-01 },
        { 0.25, 9.92207818581815392811e-01 },
        { 0.5, 9.69073830699495597507e-01 },
        { 0.75, 9.31316272466299222010e-01 },
        { 1.613741196, 7.07945784503454356162e-01 },
        { 2.2, 5.05420954380967124564e-01 },
        { 3.75, 1.77223195358291868429e-02 },
        { 3.8317059702075125, -3.20995786462281849902e-17 },
        { 4, -3.30216640117745666161e-02 },
        { 4.25, -7.32015025780436284775e-02 },
        { 5.135622, -1.32279487396093992091e-01 },
        { 7.3, 2.26220357515774898871e-02 },
        { 10.25, -3.71130842865728151347e-03 },
        { 17.6, -1.95389479679127543721e-02 },
        { 31.999, -1.67054765827099964935e-03 },
        { 47.75, 7.29648696005246767682e-04 },
        { 63.9, 8.89229535434954247719e-04 },
        { 64.5, 2.39113789182587204232e-03 },
        { 80.25, -1.77872179816623886620e-03 },
    };

    [Fact]
    public void Pattern_is_even_and_one_on_the_axis()
    {
        Assert.Equal(1, PistonPattern.Evaluate(0));
        for (int i = 0; i < 1000; i++)
        {
            double x = 0.137 * i;
            Assert.Equal(PistonPattern.Evaluate(x), PistonPattern.Evaluate(-x));
            Assert.True(Math.Abs(PistonPattern.Evaluate(x)) <= 1);
        }
    }

    [Fact]
    public void The_change_to_the_asymptotic_form_is_seamless()
    {
        double below = PistonPattern.Evaluate(Math.BitDecrement(64));
        Assert.Equal(below, PistonPattern.Evaluate(64), 1e-15);
    }

    [Fact]
    public void Not_a_number_stays_not_a_number() => Assert.True(double.IsNaN(PistonPattern.Evaluate(double.NaN)));
}
