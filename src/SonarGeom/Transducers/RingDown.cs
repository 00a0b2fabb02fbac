using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How long a resonant transducer rings after its burst: the physical cause of the dead zone.</summary>
public static class RingDown
{
    /// <summary>Returns the time from the start of the burst until the ringing has died down by a given level. [s]</summary>
    /// <param name="burstCycles">The number of cycles driven, 1 or more.</param>
    /// <param name="quality">The quality factor, above 0. [unitless]</param>
    /// <param name="frequency">The centre frequency.</param>
    /// <param name="excessDecibels">How far the ringing at the end of the burst is above the threshold; 0 or below means that it
    /// never disturbs. [dB]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    /// <remarks>Formula: <c>N/f₀ + τ·ln(V₀/V_th)</c>, τ = Q/(π·f₀): exponential decay of a resonator.</remarks>
    public static double Seconds(int burstCycles, double quality, Frequency frequency, double excessDecibels)
    {
        Finite.Within(burstCycles, 1, 1000, nameof(burstCycles), "cycles");
        Finite.Within(quality, 0.5, 1000, nameof(quality), "(no unit)");
        Finite.Within(excessDecibels, -300, 300, nameof(excessDecibels), "dB");
        double decay = BurstBuildUp.TimeConstantSeconds(quality, frequency)
            * Math.Log(Decibels.ToAmplitudeRatio(Math.Max(excessDecibels, 0)));
        return (burstCycles / frequency.Hertz) + decay;
    }
}
