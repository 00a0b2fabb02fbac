using MathNet.Numerics;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes;

/// <summary>Probabilities of detection against noise, for an envelope detector.</summary>
/// <remarks>
/// Signal-to-noise ratio: power of the steady peak over noise power, <c>s = A²/2σ²</c>. Sources: Van Trees, Detection, Estimation and
/// Modulation Theory; Skolnik, Radar Handbook (from memory).
/// </remarks>
public static class DetectionStatistics
{
    /// <summary>Returns the probability of detecting a steady echo: <c>Q₁(√(2s), √(−2 ln P_fa))</c>, Marcum's function.</summary>
    /// <param name="signalToNoiseDecibels">Signal-to-noise ratio. [dB]</param>
    /// <param name="falseAlarmProbability">Probability of a false alarm per range cell, above 0 and below 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double SteadyProbability(double signalToNoiseDecibels, double falseAlarmProbability)
    {
        double s = SignalToNoise(signalToNoiseDecibels);
        double y = -Math.Log(Probability(falseAlarmProbability, nameof(falseAlarmProbability)));

        // Beyond this the echo is certain to more digits than a double holds, and the series underflows.
        if (s > 600 && s > 4 * y)
        {
            return 1;
        }

        // The library's function takes a²/2 and b²/2 where Marcum's takes a and b.
        return Math.Clamp(SpecialFunctions.MarcumQ(1, s, y), 0, 1);
    }

    /// <summary>Returns the probability of detecting an echo of Rayleigh-fluctuating amplitude: <c>P_fa^(1/(1+s))</c>.</summary>
    /// <param name="meanSignalToNoiseDecibels">Mean signal-to-noise ratio. [dB]</param>
    /// <param name="falseAlarmProbability">Probability of a false alarm per range cell, above 0 and below 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double FluctuatingProbability(double meanSignalToNoiseDecibels, double falseAlarmProbability) =>
        Math.Pow(
            Probability(falseAlarmProbability, nameof(falseAlarmProbability)), 1 / (1 + SignalToNoise(meanSignalToNoiseDecibels)));

    /// <summary>Returns the probability that at least m of n independent pings detect.</summary>
    /// <param name="perPing">Probability of each ping, 0 to 1. [unitless]</param>
    /// <param name="required">m, from 1 to n.</param>
    /// <param name="pings">n, from 1 to 1000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double AtLeast(double perPing, int required, int pings)
    {
        Finite.Within(perPing, 0, 1, nameof(perPing), "(no unit)");
        Finite.Within(pings, 1, 1000, nameof(pings), "pings");
        Finite.Within(required, 1, pings, nameof(required), "pings");
        if (perPing is 0 or 1)
        {
            return perPing;
        }

        double sum = 0;
        for (int hits = required; hits <= pings; hits++)
        {
            sum += Math.Exp(
                SpecialFunctions.BinomialLn(pings, hits) + (hits * Math.Log(perPing)) + ((pings - hits) * Math.Log(1 - perPing)));
        }

        return Math.Min(sum, 1);
    }

    /// <summary>Returns the false alarms to expect in an hour.</summary>
    /// <param name="falseAlarmProbability">Probability of a false alarm per range cell, 0 to 1. [unitless]</param>
    /// <param name="cellsPerPing">Independent range cells in one listening window, 0 or above. [unitless]</param>
    /// <param name="pingsPerHour">Pings in an hour, 0 or above. [1/h]</param>
    public static double FalseAlarmsPerHour(double falseAlarmProbability, double cellsPerPing, double pingsPerHour) =>
        Finite.Within(falseAlarmProbability, 0, 1, nameof(falseAlarmProbability), "(no unit)") * cellsPerPing * pingsPerHour;

    private static double SignalToNoise(double decibels) => Decibels.ToPowerRatio(Finite.Within(decibels, -300, 300, nameof(decibels), "dB"));

    private static double Probability(double value, string name) =>
        value is > 0 and < 1
            ? value
            : throw new ArgumentOutOfRangeException(name, $"{name} is {value}; it must be above 0 and below 1.");
}
