using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.FieldTests;

/// <summary>An interval for a probability, from counted trials.</summary>
/// <param name="LowProbability">The lower end. [unitless]</param>
/// <param name="HighProbability">The upper end. [unitless]</param>
public readonly record struct ExactInterval(double LowProbability, double HighProbability)
{
    /// <summary>Returns the exact interval of Clopper and Pearson: it covers the true probability at least as often as the confidence says.</summary>
    /// <param name="successes">How often it happened, from 0 to the number of trials.</param>
    /// <param name="trials">The number of trials, from 1 to 1 000 000.</param>
    /// <param name="confidenceFraction">The confidence, two-sided, from 0.5 to 0.9999. [unitless]</param>
    /// <remarks>Quantiles of the beta distribution: <c>B(γ/2; k, n − k + 1)</c> and <c>B(1 − γ/2; k + 1, n − k)</c>. Source: Clopper and
    /// Pearson, Biometrika 26, 404 (1934) (from memory).</remarks>
    public static ExactInterval Of(int successes, int trials, double confidenceFraction = 0.95)
    {
        Finite.Within(trials, 1, 1_000_000, nameof(trials), "trials");
        Finite.Within(successes, 0, trials, nameof(successes), "successes");
        double tail = 0.5 * (1 - Finite.Within(confidenceFraction, 0.5, 0.9999, nameof(confidenceFraction), "(no unit)"));
        return new ExactInterval(Lower(successes, trials, tail), 1 - Lower(trials - successes, trials, tail));
    }

    /// <summary>Returns the number of trials that, all successful, show a probability with a confidence, one-sided.</summary>
    /// <param name="probability">The probability to be shown, from 0.01 to 0.9999. [unitless]</param>
    /// <param name="confidenceFraction">The confidence, from 0.5 to 0.9999. [unitless]</param>
    /// <remarks>Formula: <c>n ≥ ln(1 − C)/ln p</c>: the success-run rule.</remarks>
    public static int TrialsWithoutMiss(double probability, double confidenceFraction) => (int)Math.Ceiling(
        (Math.Log(1 - Finite.Within(confidenceFraction, 0.5, 0.9999, nameof(confidenceFraction), "(no unit)"))
            / Math.Log(Finite.Within(probability, 0.01, 0.9999, nameof(probability), "(no unit)"))) - 1e-9);

    /// <summary>Returns the smallest number of trials whose interval is nowhere wider than a half width to either side of its middle.</summary>
    /// <param name="halfWidth">Half the width, from 0.02 to 0.5: a probability. [unitless]</param>
    /// <param name="confidenceFraction">The confidence, two-sided, from 0.5 to 0.9999. [unitless]</param>
    public static int TrialsForHalfWidthProbability(double halfWidth, double confidenceFraction)
    {
        Finite.Within(halfWidth, 0.02, 0.5, nameof(halfWidth), "(no unit)");
        int low = 1, high = 10_000;
        while (low < high)
        {
            int middle = (low + high) / 2;
            ExactInterval widest = Of(middle / 2, middle, confidenceFraction);
            if (widest.HighProbability - widest.LowProbability <= 2 * halfWidth)
            {
                high = middle;
            }
            else
            {
                low = middle + 1;
            }
        }

        return low;
    }

    /// <summary>Returns the counts between which the number of successes falls at a probability.</summary>
    /// <param name="probability">The probability, 0 to 1. [unitless]</param>
    /// <param name="trials">The number of trials.</param>
    /// <param name="confidenceFraction">The confidence, two-sided. [unitless]</param>
    public static (int Least, int Most) Counts(double probability, int trials, double confidenceFraction)
    {
        double tail = 0.5 * (1 - Finite.Within(confidenceFraction, 0.5, 0.9999, nameof(confidenceFraction), "(no unit)"));
        Finite.Within(probability, 0, 1, nameof(probability), "(no unit)");
        int least = 0, most = trials;
        while (least < trials && Binomial.CDF(probability, trials, least) <= tail)
        {
            least++;
        }

        while (most > 0 && 1 - Binomial.CDF(probability, trials, most - 1) <= tail)
        {
            most--;
        }

        return (least, most);
    }

    // P(at least k of n) rises with p: where it is the tail. Halved, since the quantile of the beta distribution is slow at its ends.
    private static double Lower(int k, int n, double tail)
    {
        if (k == 0)
        {
            return 0;
        }

        double low = 0, high = 1;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = SpecialFunctions.BetaRegularized(k, n - k + 1, middle) < tail ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }
}
