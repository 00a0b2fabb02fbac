using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class BurstTests
{
    private static readonly Frequency Forty = Frequency.FromKilohertz(40);

    [Fact]
    public void Weights_sum_to_one_and_frequencies_are_even_and_symmetric()
    {
        for (int index = 0; index < 500; index++)
        {
            var random = new Random(index);
            int cycles = random.Next(1, 65);
            int count = random.Next(1, 34);
            var spectrum = BurstSpectrum.Of(
                Forty, cycles, 2 + (78 * random.NextDouble()), 2 + (78 * random.NextDouble()), count);
            Assert.True(Math.Abs(spectrum.PowerWeights.Sum() - 1) < 1e-12, $"index {index}");
            Assert.Equal(count, spectrum.FrequenciesHertz.Length);
            Assert.All(spectrum.PowerWeights, weight => Assert.InRange(weight, 0, 1));
            Assert.True(Math.Abs(spectrum.FrequenciesHertz.Average() - 40_000) < 1e-6, $"index {index}");
            for (int i = 1; i < count; i++)
            {
                Assert.Equal(spectrum.SpacingHertz, spectrum.FrequenciesHertz[i] - spectrum.FrequenciesHertz[i - 1], 1e-6);
            }

            Assert.True(spectrum.BuildUpDecibels <= 0, $"index {index}");
            Assert.True(spectrum.PulseLengthSeconds > cycles / 40e3, $"index {index}");
        }
    }

    [Fact]
    public void Swapping_transmitter_and_receiver_changes_nothing()
    {
        for (int index = 0; index < 500; index++)
        {
            var random = new Random(index);
            int cycles = random.Next(1, 41);
            double a = 2 + (78 * random.NextDouble());
            double b = 2 + (78 * random.NextDouble());
            Assert.Equal(BurstBuildUp.TwoStage(cycles, a, b), BurstBuildUp.TwoStage(cycles, b, a), 1e-9);
            Assert.Equal(
                BurstSpectrum.Of(Forty, cycles, a, b, 8).PowerWeights.AsEnumerable(),
                BurstSpectrum.Of(Forty, cycles, b, a, 8).PowerWeights);
        }
    }

    // Brute force: two first-order envelope filters stepped through time, the burst sent as a gate.
    [Theory]
    [InlineData(8, 20, 20)]
    [InlineData(8, 20, 35)]
    [InlineData(16, 25, 60)]
    [InlineData(2, 5, 5.0005)]
    [InlineData(200, 20, 30)]
    public void Build_up_agrees_with_stepping_two_resonators_through_time(int cycles, double transmitterQ, double receiverQ)
    {
        double length = cycles / 40e3;
        double first = BurstBuildUp.TimeConstantSeconds(transmitterQ, Forty);
        double second = BurstBuildUp.TimeConstantSeconds(receiverQ, Forty);
        double step = Math.Min(Math.Min(first, second), length) / 2e4;
        double sent = 0;
        double heard = 0;
        double peak = 0;
        for (double time = 0; time < length + (6 * (first + second)); time += step)
        {
            double drive = time < length ? 1 : 0;
            double before = sent;
            sent += step / first * (drive - sent);
            heard += step / second * ((0.5 * (before + sent)) - heard);
            peak = Math.Max(peak, heard);
        }

        // Tolerance: the step of the simulation.
        Assert.Equal(peak, BurstBuildUp.TwoStage(cycles, transmitterQ, receiverQ), 1e-3);
    }

    [Fact]
    public void A_long_burst_reaches_the_continuous_tone() =>
        Assert.Equal(1, BurstBuildUp.TwoStage(1000, 20, 25), 1e-9);

    // A band mean with few frequencies against one with many, of a reflection from two surfaces 20 mm apart (a comb filter).
    [Fact]
    public void Few_frequencies_give_the_band_mean_of_a_comb_within_a_tenth_of_a_decibel()
    {
        double few = Mean(BurstSpectrum.Of(Forty, 8, 25, 25, 8));
        double many = Mean(BurstSpectrum.Of(Forty, 8, 25, 25, 2048));
        Assert.InRange(Decibels.FromPowerRatio(few / many), -0.1, 0.1);

        static double Mean(BurstSpectrum spectrum) =>
            spectrum.FrequenciesHertz.Zip(spectrum.PowerWeights)
                .Sum(pair => pair.Second * 2 * (1 + Math.Cos(2 * Math.PI * pair.First * 2 * 0.020 / 343)));
    }

    [Fact]
    public void One_frequency_is_the_nominal_one()
    {
        var spectrum = BurstSpectrum.Of(Forty, 8, 25, 25, 1);
        Assert.Equal(40_000, spectrum.FrequenciesHertz.Single(), 1e-9);
        Assert.Equal(1, spectrum.PowerWeights.Single());
    }

    [Theory]
    [InlineData(0, 25, 8)]
    [InlineData(8, 0.4, 8)]
    [InlineData(8, double.NaN, 8)]
    [InlineData(8, 25, 0)]
    [InlineData(8, 25, 5000)]
    public void Impossible_bursts_are_refused(int cycles, double quality, int count) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => BurstSpectrum.Of(Forty, cycles, quality, 25, count));
}
