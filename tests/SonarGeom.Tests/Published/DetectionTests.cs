using SonarGeom.Echoes;

namespace SonarGeom.Tests.Published;

public class DetectionTests
{
    // Marcum's Q1 and the Rayleigh form, computed independently in double precision and printed to ten digits.
    [Fact]
    public void Probabilities_match_the_independent_table()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("detection_computed.csv").Rows)
        {
            double pfa = row["Pfa"];
            double snr = row["SNR_dB_peak_power_over_noise_power_(A^2/2sigma^2)"];
            Assert.True(Math.Abs(DetectionStatistics.SteadyProbability(snr, pfa) - row["Pd_nonfluctuating_MarcumQ1"]) < 1e-8, row.ToString());
            Assert.True(Math.Abs(DetectionStatistics.FluctuatingProbability(snr, pfa) - row["Pd_Rayleigh_fluctuating"]) < 1e-8, row.ToString());
        }
    }

    // Textbook values for P_d 0.9 at P_fa 1e-6: 13.2 dB steady, 21.1 dB fluctuating (Skolnik, from memory). Tolerance: the last
    // printed digit.
    [Fact]
    public void Ninety_per_cent_at_one_in_a_million_needs_the_textbook_ratio()
    {
        Assert.Equal(13.2, Solve(DetectionStatistics.SteadyProbability), 0.05);
        Assert.Equal(21.1, Solve(DetectionStatistics.FluctuatingProbability), 0.05);

        static double Solve(Func<double, double, double> probability)
        {
            double low = 0;
            double high = 40;
            for (int i = 0; i < 60; i++)
            {
                double middle = 0.5 * (low + high);
                (low, high) = probability(middle, 1e-6) < 0.9 ? (middle, high) : (low, middle);
            }

            return low;
        }
    }
}
