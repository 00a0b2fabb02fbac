using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How often an echo in noise crosses the threshold, and how often noise alone does.</summary>
/// <remarks>
/// <para>Noise is Gaussian in a narrow band, so that its envelope is Rayleigh distributed. The signal-to-noise ratio is the
/// peak power of the echo over the power of the noise, <c>A²/(2σ²)</c>.</para>
/// <para>A margin in decibels suffices for walls, poles and kerbs, which answer steadily. The fluctuating case is for foliage,
/// clothing and targets that move with the gait.</para>
/// </remarks>
public static class DetectionProbability
{
    /// <summary>Returns the probability that a steady echo crosses the threshold in one ping. [unitless]</summary>
    /// <param name="signalToNoiseDecibels">Echo over noise, −60 to 60. [dB]</param>
    /// <param name="falseAlarmProbability">The probability that noise alone crosses it, above 0 and below 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    /// <remarks>Formula: Marcum's <c>Q₁(√(2s), √(−2·ln P_fa))</c>; Van Trees, Detection, Estimation and Modulation Theory, part I;
    /// Skolnik, Introduction to Radar Systems (both from memory).</remarks>
    public static double Steady(double signalToNoiseDecibels, double falseAlarmProbability)
    {
        double ratio = Decibels.ToPowerRatio(Finite.Within(signalToNoiseDecibels, -60, 60, nameof(signalToNoiseDecibels), "dB"));
        return MarcumQ(ratio, -Math.Log(Alarm(falseAlarmProbability)));
    }

    /// <summary>Returns the probability that an echo that fluctuates as noise does crosses the threshold in one ping. [unitless]</summary>
    /// <param name="signalToNoiseDecibels">Mean echo over noise, −60 to 60. [dB]</param>
    /// <param name="falseAlarmProbability">The probability that noise alone crosses it, above 0 and below 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    /// <remarks>Formula: <c>P_fa^(1/(1 + s))</c>, Rayleigh-fluctuating target; Skolnik (from memory).</remarks>
    public static double Fluctuating(double signalToNoiseDecibels, double falseAlarmProbability)
    {
        double ratio = Decibels.ToPowerRatio(Finite.Within(signalToNoiseDecibels, -60, 60, nameof(signalToNoiseDecibels), "dB"));
        return Math.Pow(Alarm(falseAlarmProbability), 1 / (1 + ratio));
    }

    /// <summary>Returns the probability of at least k hits in n independent pings. [unitless]</summary>
    /// <param name="hitProbability">The probability of a hit in one ping, 0 to 1. [unitless]</param>
    /// <param name="requiredHits">The hits required, k, 1 to n.</param>
    /// <param name="pings">The pings looked at, n, 1 to 1000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static double AtLeast(double hitProbability, int requiredHits, int pings)
    {
        Finite.Within(hitProbability, 0, 1, nameof(hitProbability), "(no unit)");
        Finite.Within(pings, 1, 1000, nameof(pings), "pings");
        Finite.Within(requiredHits, 1, pings, nameof(requiredHits), "hits");

        // chance[j] is the probability of j hits so far; the last one gathers k and more.
        double[] chance = new double[requiredHits + 1];
        chance[0] = 1;
        for (int ping = 0; ping < pings; ping++)
        {
            chance[requiredHits] += chance[requiredHits - 1] * hitProbability;
            for (int hits = requiredHits - 1; hits > 0; hits--)
            {
                chance[hits] = (chance[hits] * (1 - hitProbability)) + (chance[hits - 1] * hitProbability);
            }

            chance[0] *= 1 - hitProbability;
        }

        return chance[requiredHits];
    }

    private static double Alarm(double probability) =>
        probability is > 0 and < 1
            ? probability
            : throw new ArgumentOutOfRangeException(
                nameof(probability), $"The false-alarm probability is {probability}; it must be above 0 and below 1.");

    /// <summary>
    /// Q₁ in half squares, signal s = a²/2 and threshold t = b²/2: a Poisson mixture of tails of the gamma distribution,
    /// Σ e^(−s)·sⁿ/n! · e^(−t)·Σ_{j≤n} tʲ/j!. The smaller of Q and 1 − Q is summed, term by term positive.
    /// </summary>
    private static double MarcumQ(double s, double t)
    {
        // More than 12 standard deviations above the threshold: 1 to the last digit, and no long sum.
        if (Math.Sqrt(s) - Math.Sqrt(t) > 9)
        {
            return 1;
        }

        bool complement = s > t;
        int most = (int)(s + t + (12 * Math.Sqrt(s + t + 4)) + 60);
        double logSignal = -s;
        double logThreshold = -t;
        double sum = 0;

        // With N and M Poisson of means s and t, Q = P(M ≤ N) and 1 − Q = P(N < M) = P(N ≤ M − 1).
        double cumulative = 0;
        for (int n = 0; n <= most; n++)
        {
            double signal = Math.Exp(logSignal);
            double threshold = Math.Exp(logThreshold);
            if (complement)
            {
                sum += threshold * cumulative;
                cumulative += signal;
            }
            else
            {
                cumulative += threshold;
                sum += signal * cumulative;
            }

            logSignal += Math.Log(s / (n + 1));
            logThreshold += Math.Log(t / (n + 1));
        }

        return complement ? 1 - sum : sum;
    }
}
