using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class DetectionProbabilityTests
{
    [Fact]
    public void Without_a_signal_the_false_alarm_probability_is_left()
    {
        foreach (double alarm in new[] { 1e-8, 1e-6, 1e-3, 0.1, 0.9 })
        {
            Assert.Equal(alarm, DetectionProbability.Steady(-60, alarm), 2e-5 * alarm + 1e-12);
            Assert.Equal(alarm, DetectionProbability.Fluctuating(-60, alarm), 2e-5 * alarm + 1e-12);
        }
    }

    [Fact]
    public void More_signal_is_never_heard_less()
    {
        double last = 0;
        for (double decibels = -20; decibels <= 40; decibels += 0.1)
        {
            double probability = DetectionProbability.Steady(decibels, 1e-6);
            Assert.InRange(probability, last - 1e-13, 1);
            last = probability;
        }

        Assert.Equal(1, last);
        Assert.Equal(1, DetectionProbability.Steady(60, 1e-6));
    }

    [Fact]
    public void K_of_n_agrees_with_counting_every_outcome()
    {
        const double p = 0.37;
        for (int n = 1; n <= 8; n++)
        {
            for (int k = 1; k <= n; k++)
            {
                double expected = 0;
                for (int outcome = 0; outcome < 1 << n; outcome++)
                {
                    int hits = int.PopCount(outcome);
                    expected += hits >= k ? Math.Pow(p, hits) * Math.Pow(1 - p, n - hits) : 0;
                }

                Assert.Equal(expected, DetectionProbability.AtLeast(p, k, n), 1e-12);
            }
        }

        Assert.Equal(0, DetectionProbability.AtLeast(0, 1, 5));
        Assert.Equal(1, DetectionProbability.AtLeast(1, 5, 5));
    }

    [Fact]
    public void Impossible_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => DetectionProbability.Steady(10, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => DetectionProbability.Fluctuating(double.NaN, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => DetectionProbability.AtLeast(0.5, 3, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => DetectionProbability.AtLeast(1.1, 1, 2));
    }
}
