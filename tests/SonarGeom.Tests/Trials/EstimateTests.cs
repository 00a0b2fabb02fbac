using SonarGeom.Echoes;
using SonarGeom.Tests.Coverage;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

public class EstimateTests
{
    // Wilson's interval for 81 of 263 and 1 of 29: Newcombe 1998, Stat Med 17:857-872, table I (from memory): 0.2553 to 0.3662, 0.0061 to 0.1718.
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Shares_have_the_published_intervals(int hits, int cases, double low, double high)
    {
        var share = ShareEstimate.OfIndependent(hits, cases);
        Assert.Equal(low, share.LowFraction, 5e-5);
        Assert.Equal(high, share.HighFraction, 5e-5);
    }

    // Upper 2.5 % points of Student's t: Abramowitz and Stegun, table 26.10.
    [Theory]
    [InlineData(2, 12.706)]
    [InlineData(3, 4.303)]
    [InlineData(5, 2.776)]
    [InlineData(10, 2.262)]
    [InlineData(31, 2.042)]
    [InlineData(121, 1.980)]
    public void Few_outings_have_the_published_quantiles(int outings, double quantile) => Assert.Equal(quantile, OutingQuantile.Of(outings), 5e-4);

    // 1000 seeded repeats of three outings that differ: a normal interval would hold the truth in about 80 of 100.
    [Fact]
    public void Intervals_of_three_outings_hold_the_truth_too()
    {
        int held = 0, heldRate = 0;
        for (ulong repeat = 0; repeat < 1000; repeat++)
        {
            var draws = new SeededDraws(4, repeat);
            (int, int)[] clusters = [(Hits(ref draws), 40), (Hits(ref draws), 40), (Hits(ref draws), 40)];
            var share = ShareEstimate.Of(clusters);
            held += share.LowFraction <= 0.5 && share.HighFraction >= 0.5 ? 1 : 0;
            var rate = RateEstimate.Of(clusters.Select(c => (c.Item1, 120.0)));
            heldRate += rate.LowPerMinute <= 10 && rate.HighPerMinute >= 10 ? 1 : 0;
        }

        Assert.InRange(held, 930, 1000);
        Assert.InRange(heldRate, 930, 1000);

        static int Hits(ref SeededDraws draws)
        {
            double own = 0.2 + (0.6 * draws.Uniform());
            int hits = 0;
            for (int walk = 0; walk < 40; walk++)
            {
                hits += draws.Uniform() < own ? 1 : 0;
            }

            return hits;
        }
    }

    [Fact]
    public void One_outing_is_no_clear_difference() => Assert.False(PairedDifference.Of("x", [(0, 90, 100)]).IsClear);

    [Fact]
    public void Outings_that_are_alike_within_count_as_one_case_each()
    {
        var alike = ShareEstimate.Of(Enumerable.Range(0, 40).Select(i => (i % 2 == 0 ? 50 : 0, 50)));
        var single = ShareEstimate.Of(Enumerable.Range(0, 40).Select(i => (i % 2 == 0 ? 1 : 0, 1)));
        Assert.Equal(single.LowFraction, alike.LowFraction, 0.01);
        Assert.Equal(single.HighFraction, alike.HighFraction, 0.01);
    }

    // 300 seeded repeats of 30 outings whose own shares differ: the interval must hold the true share in about 95 of 100.
    [Fact]
    public void Intervals_hold_the_truth_as_often_as_they_say()
    {
        int held = 0, heldRate = 0;
        for (ulong repeat = 0; repeat < 300; repeat++)
        {
            var draws = new SeededDraws(3, repeat);
            var clusters = new List<(int, int)>();
            var counts = new List<(int, double)>();
            for (int outing = 0; outing < 30; outing++)
            {
                double own = draws.Uniform();
                int hits = 0;
                for (int walk = 0; walk < 20; walk++)
                {
                    hits += draws.Uniform() < own ? 1 : 0;
                }

                clusters.Add((hits, 20));
                counts.Add((hits, 60));
            }

            var share = ShareEstimate.Of(clusters);
            held += share.LowFraction <= 0.5 && share.HighFraction >= 0.5 ? 1 : 0;
            var rate = RateEstimate.Of(counts);
            heldRate += rate.LowPerMinute <= 10 && rate.HighPerMinute >= 10 ? 1 : 0;
        }

        Assert.InRange(held, 270, 298);
        Assert.InRange(heldRate, 270, 299);
    }

    [Fact]
    public void Nothing_seen_is_not_never()
    {
        Assert.Equal(3.689, RateEstimate.Of([(0, 60)]).HighPerMinute, 1e-9);
        Assert.Equal(0.278, ShareEstimate.Of(Enumerable.Repeat((0, 1), 10)).HighFraction, 1e-3);

        // One outing of a hundred walks is one case: z² / (1 + z²).
        Assert.Equal(0.793, ShareEstimate.Of([(0, 100)]).HighFraction, 1e-3);
        Assert.Equal((0, 1), (ShareEstimate.Of([]).LowFraction, ShareEstimate.Of([]).HighFraction));
    }

    [Fact]
    public void Quantiles_of_even_times_are_even()
    {
        (int, int)[] bins = [.. Enumerable.Range(0, 1000).Select(i => (i, 3))];
        var p5 = TimeQuantile.Of(bins, 0.01, 0.05, 1);
        Assert.Equal(0.5, p5.Seconds, 0.011);
        Assert.Equal(0.5 - (10 * 1.96 * Math.Sqrt(0.05 * 0.95 / 3000)), p5.LowSeconds, 0.011);
        Assert.True(TimeQuantile.Of(bins, 0.01, 0.05, 4).LowSeconds < p5.LowSeconds);
    }

    [Fact]
    public void Walks_in_which_both_layouts_end_alike_leave_no_difference()
    {
        var none = PairedDifference.Of("x", Enumerable.Repeat((0, 0, 10), 20));
        Assert.False(none.IsClear);
        Assert.Equal(0, none.Fraction);
        Assert.True(PairedDifference.Of("x", Enumerable.Repeat((0, 4, 10), 20)).IsClear);
        Assert.False(PairedDifference.Of("x", [(0, 10, 10), (10, 0, 10), (0, 10, 10), (0, 0, 10)]).IsClear);
    }

    // 6 dB over the noise, samples Q/f₀ = 0.625 ms apart from 1.3 to 50 ms: 77 of them, each with exp(−10^0.6).
    [Fact]
    public void Noise_crosses_as_often_as_its_envelope_says()
    {
        var quiet = CoverageBench.WidePair with { Threshold = new([new(0.001, 51)]) };
        double one = Math.Exp(-Math.Pow(10, 0.6));
        var noise = NoiseReports.Of(new PreparedTransducer(quiet, EchoMedium.Standard));
        Assert.Equal(1 - Math.Pow(1 - one, (int)((0.05 - 0.0013) / 0.000625)), noise.Probability, 1e-12);
        Assert.True(double.IsPositiveInfinity(noise.RangeMetres(noise.Probability)));
        Assert.InRange(noise.RangeMetres(0), 0.2, 0.5);
    }
}
