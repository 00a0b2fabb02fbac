using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How far a short burst builds up in resonant transducers, against a continuous tone.</summary>
public static class BurstBuildUp
{
    /// <summary>Returns the time constant of the envelope of a resonator, <c>Q/(π·f₀)</c>. [s]</summary>
    /// <param name="quality">The quality factor, centre frequency over −3 dB bandwidth, above 0. [unitless]</param>
    /// <param name="frequency">The centre frequency.</param>
    public static double TimeConstantSeconds(double quality, Frequency frequency) => quality / (Math.PI * frequency.Hertz);

    /// <summary>Returns the peak amplitude after one resonator, <c>1 − exp(−π·N/Q)</c>, over that of a continuous tone. [unitless]</summary>
    /// <param name="cycles">The number of cycles in the burst, N, above 0.</param>
    /// <param name="quality">The quality factor Q, above 0. [unitless]</param>
    public static double OneStage(double cycles, double quality) => 1 - Math.Exp(-Math.PI * cycles / quality);

    /// <summary>Returns the peak amplitude after transmitter and receiver, over that of a continuous tone. [unitless]</summary>
    /// <param name="cycles">The number of cycles in the burst, N, above 0.</param>
    /// <param name="transmitterQ">The quality factor of the transmitter, above 0. [unitless]</param>
    /// <param name="receiverQ">The quality factor of the receiver, above 0. [unitless]</param>
    /// <remarks>
    /// Both resonators driven at their common centre frequency, so that each envelope follows a first-order law. With
    /// <c>a = π·N/Q_t</c>, <c>b = π·N/Q_r</c> and time u in bursts, the step response is
    /// <c>s(u) = 1 − (b·e^(−a·u) − a·e^(−b·u))/(b − a)</c> (for a = b: <c>1 − (1 + a·u)·e^(−a·u)</c>), the burst response
    /// <c>s(u) − s(u − 1)</c>, whose peak is at <c>u = ln[(e^a − 1)/(e^b − 1)]/(a − b)</c>. Linear systems theory.
    /// </remarks>
    public static double TwoStage(double cycles, double transmitterQ, double receiverQ)
    {
        double a = Math.PI * cycles / transmitterQ;
        double b = Math.PI * cycles / receiverQ;
        if (Math.Abs(a - b) < 1e-4 * (a + b))
        {
            // The common value at the mean is exact to second order in the difference.
            double mean = 0.5 * (a + b);
            double peak = mean / (1 - Math.Exp(-mean));
            return EqualStep(peak) - EqualStep(peak - mean);
        }

        // ln(e^a − 1) = a + ln(1 − e^−a), safe for long bursts.
        double time = (a + Math.Log(1 - Math.Exp(-a)) - b - Math.Log(1 - Math.Exp(-b))) / (a - b);
        return Step(time) - Step(time - 1);

        static double EqualStep(double x) => 1 - ((1 + x) * Math.Exp(-x));

        double Step(double u) => 1 - (((b * Math.Exp(-a * u)) - (a * Math.Exp(-b * u))) / (b - a));
    }
}
