using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Published;

public class DetectionPublishedTests
{
    // Radar textbooks (Skolnik; from memory): P_d 0.9 at P_fa 1e-6 takes 13.2 dB for a steady and 21.1 dB for a fluctuating
    // target. Tolerance 0.05 dB: half of the last digit.
    [Fact]
    public void Signal_needed_for_nine_hits_in_ten_matches_the_textbooks()
    {
        Assert.True(DetectionProbability.Steady(13.2 - 0.05, 1e-6) < 0.9 && DetectionProbability.Steady(13.2 + 0.05, 1e-6) > 0.9);
        Assert.True(
            DetectionProbability.Fluctuating(21.1 - 0.05, 1e-6) < 0.9
            && DetectionProbability.Fluctuating(21.1 + 0.05, 1e-6) > 0.9);
    }

    [Fact]
    public void Probabilities_agree_with_an_independent_program()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("detection_computed.csv").Rows)
        {
            double signal = row["SNR_dB_peak_power_over_noise_power_(A^2/2sigma^2)"];
            Assert.Equal(row["Pd_nonfluctuating_MarcumQ1"], DetectionProbability.Steady(signal, row["Pfa"]), 1e-9);
            Assert.Equal(row["Pd_Rayleigh_fluctuating"], DetectionProbability.Fluctuating(signal, row["Pfa"]), 1e-9);
        }
    }

    // Heffner 1983 (seen second-hand): mean thresholds of dogs.
    [Theory]
    [InlineData(32, 18)]
    [InlineData(40, 41)]
    [InlineData(45, 61)]
    [InlineData(50, 68)]
    public void Dogs_hear_forty_kilohertz(double kilohertz, double threshold) =>
        Assert.Equal(threshold, DogHearing.ThresholdDecibels(Frequency.FromKilohertz(kilohertz))!.Value, 1e-9);

    [Fact]
    public void Beyond_the_measured_frequencies_no_threshold_of_dogs_is_made_up()
    {
        Assert.Null(DogHearing.ThresholdDecibels(Frequency.FromKilohertz(58)));
        Assert.Null(DogHearing.ThresholdDecibels(Frequency.FromKilohertz(25)));
    }

    // Howard, Hansen and Zander 2004: 75 dB at 20 kHz, 110 dB from 25 to 50 kHz; AGNIR 2010: 70 and 100 dB (seen second-hand).
    [Fact]
    public void Exposure_limits_are_the_published_ones()
    {
        Assert.Equal([75.0, 110], Levels("Howard"));
        Assert.Equal([70.0, 100], Levels("AGNIR"));

        static IEnumerable<double> Levels(string source) =>
            ExposureLimit.Published.Where(limit => limit.Source.StartsWith(source, StringComparison.Ordinal))
                .Select(limit => limit.LevelDecibels);
    }
}
