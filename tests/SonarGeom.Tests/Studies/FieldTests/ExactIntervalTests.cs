using MathNet.Numerics.Distributions;
using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Tests.Studies.FieldTests;

public class ExactIntervalTests
{
    // Closed forms: no success in n gives 1 − (γ/2)^(1/n), all successes (γ/2)^(1/n).
    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(29)]
    [InlineData(500)]
    public void All_or_nothing_has_a_closed_form(int trials)
    {
        Assert.Equal(0, ExactInterval.Of(0, trials).LowProbability);
        Assert.Equal(1 - Math.Pow(0.025, 1.0 / trials), ExactInterval.Of(0, trials).HighProbability, 1e-9);
        Assert.Equal(Math.Pow(0.025, 1.0 / trials), ExactInterval.Of(trials, trials).LowProbability, 1e-9);
        Assert.Equal(1, ExactInterval.Of(trials, trials).HighProbability);
    }

    // By definition: at the lower end, k or more successes come about with γ/2; at the upper end, k or fewer.
    [Theory]
    [InlineData(3, 10, 0.95)]
    [InlineData(7, 24, 0.9)]
    [InlineData(250, 500, 0.99)]
    public void The_ends_leave_half_the_risk_on_each_side(int k, int n, double confidence)
    {
        ExactInterval interval = ExactInterval.Of(k, n, confidence);
        Assert.Equal(0.5 * (1 - confidence), 1 - Binomial.CDF(interval.LowProbability, n, k - 1), 1e-8);
        Assert.Equal(0.5 * (1 - confidence), Binomial.CDF(interval.HighProbability, n, k), 1e-8);
        ExactInterval other = ExactInterval.Of(n - k, n, confidence);
        Assert.Equal(1 - interval.HighProbability, other.LowProbability, 1e-12);
    }

    // 29 trials without a miss show 90 % with 95 % confidence, 59 show 95 % (the success-run rule, common practice).
    [Fact]
    public void Trials_without_a_miss()
    {
        Assert.Equal(29, ExactInterval.TrialsWithoutMiss(0.9, 0.95));
        Assert.Equal(59, ExactInterval.TrialsWithoutMiss(0.95, 0.95));
        Assert.Equal(1, ExactInterval.TrialsWithoutMiss(0.05, 0.95));
    }

    [Fact]
    public void Trials_for_a_width_are_the_fewest()
    {
        int n = ExactInterval.TrialsForHalfWidthProbability(0.2, 0.95);
        double Width(int trials) => ExactInterval.Of(trials / 2, trials).HighProbability - ExactInterval.Of(trials / 2, trials).LowProbability;
        Assert.True(Width(n) <= 0.4 && Width(n - 1) > 0.4);
        Assert.InRange(n, 22, 30);
    }

    [Fact]
    public void Counts_hold_all_but_the_risk()
    {
        (int least, int most) = ExactInterval.Counts(0.7, 20, 0.95);
        Assert.True(Binomial.CDF(0.7, 20, least - 1) <= 0.025 && Binomial.CDF(0.7, 20, least) > 0.025);
        Assert.True(1 - Binomial.CDF(0.7, 20, most) <= 0.025 && 1 - Binomial.CDF(0.7, 20, most - 1) > 0.025);
        Assert.Equal((0, 0), ExactInterval.Counts(0, 20, 0.95));
        Assert.Equal((20, 20), ExactInterval.Counts(1, 20, 0.95));
    }

    [Fact]
    public void Impossible_counts_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactInterval.Of(3, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactInterval.Of(0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => ExactInterval.Of(1, 2, 1));
    }
}
