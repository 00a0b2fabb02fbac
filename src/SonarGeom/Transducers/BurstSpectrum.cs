using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How the power of a received burst is spread over frequency: a few evenly spaced frequencies with weights.</summary>
/// <remarks>
/// <para>Power density: burst spectrum <c>sinc²(π·δ·N/f₀)</c> times both resonators, each <c>1/(1 + Q²·(f/f₀ − f₀/f)²)</c>,
/// δ = f − f₀. The band reaches to where it is 20 dB down, is cut into equal parts, and each part stands with its middle.
/// The band mean of a quantity is its mean of squared amplitude with these weights.</para>
/// <para>Evenly spaced frequencies repeat themselves: two echoes of one target whose path lengths differ by the speed of
/// sound over the spacing look coherent again. See <see cref="SpacingHertz"/>.</para>
/// </remarks>
public sealed record BurstSpectrum
{
    private const double EdgeOfBand = 0.01;

    private BurstSpectrum(
        ImmutableArray<double> frequenciesHertz,
        ImmutableArray<double> powerWeights,
        double spacingHertz,
        double buildUpDecibels,
        double pulseLengthSeconds)
    {
        FrequenciesHertz = frequenciesHertz;
        PowerWeights = powerWeights;
        SpacingHertz = spacingHertz;
        BuildUpDecibels = buildUpDecibels;
        PulseLengthSeconds = pulseLengthSeconds;
    }

    /// <summary>Gets the frequencies, evenly spaced and rising, symmetric about the nominal frequency. [Hz]</summary>
    public ImmutableArray<double> FrequenciesHertz { get; }

    /// <summary>Gets the share of the power at each frequency; they sum to 1. [unitless]</summary>
    public ImmutableArray<double> PowerWeights { get; }

    /// <summary>Gets the distance between neighbouring frequencies. [Hz]</summary>
    public double SpacingHertz { get; }

    /// <summary>Gets how far the peak of the burst stays below a continuous tone, below 0. [dB]</summary>
    public double BuildUpDecibels { get; }

    /// <summary>Gets the length of a received pulse: the burst and two time constants of the resonators. [s]</summary>
    public double PulseLengthSeconds { get; }

    /// <summary>Returns the spectrum of a transducer's burst.</summary>
    /// <param name="transducer">The transducer.</param>
    /// <param name="count">The number of frequencies, 1 to 4096; 1 is the nominal frequency alone.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="count"/> is outside its range.</exception>
    public static BurstSpectrum Of(Transducer transducer, int count = 8)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        return Of(
            transducer.NominalFrequency, transducer.BurstCycles, transducer.TransmitterQ, transducer.ReceiverQ, count);
    }

    /// <summary>Returns the spectrum of a burst through two resonators.</summary>
    /// <param name="nominalFrequency">The frequency of the burst and of both resonances.</param>
    /// <param name="burstCycles">The number of cycles, 1 to 1000.</param>
    /// <param name="transmitterQ">The quality factor of the transmitter, 0.5 to 1000. [unitless]</param>
    /// <param name="receiverQ">The quality factor of the receiver, 0.5 to 1000. [unitless]</param>
    /// <param name="count">The number of frequencies, 1 to 4096; 1 is the nominal frequency alone.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static BurstSpectrum Of(
        Frequency nominalFrequency, int burstCycles, double transmitterQ, double receiverQ, int count)
    {
        Finite.Within(burstCycles, 1, 1000, nameof(burstCycles), "cycles");
        Finite.Within(transmitterQ, 0.5, 1000, nameof(transmitterQ), "(no unit)");
        Finite.Within(receiverQ, 0.5, 1000, nameof(receiverQ), "(no unit)");
        Finite.Within(count, 1, 4096, nameof(count), "frequencies");
        double centre = nominalFrequency.Hertz;

        // The density falls steadily from the centre to the first null of the burst spectrum, or to the edge of hearing nothing.
        double inside = 0;
        double outside = Math.Min(centre / burstCycles, 0.9 * centre);
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (inside + outside);
            (inside, outside) = Density(middle) > EdgeOfBand ? (middle, outside) : (inside, middle);
        }

        double spacing = 2 * outside / count;
        double[] frequencies = new double[count];
        double[] weights = new double[count];
        double sum = 0;
        for (int i = 0; i < count; i++)
        {
            double detuning = (i - (0.5 * (count - 1))) * spacing;
            frequencies[i] = centre + detuning;
            weights[i] = Density(detuning);
            sum += weights[i];
        }

        for (int i = 0; i < count; i++)
        {
            weights[i] /= sum;
        }

        double tail = BurstBuildUp.TimeConstantSeconds(transmitterQ, nominalFrequency)
            + BurstBuildUp.TimeConstantSeconds(receiverQ, nominalFrequency);
        return new BurstSpectrum(
            [.. frequencies],
            [.. weights],
            spacing,
            Decibels.FromAmplitudeRatio(BurstBuildUp.TwoStage(burstCycles, transmitterQ, receiverQ)),
            (burstCycles / centre) + tail);

        double Density(double detuning)
        {
            double burst = RectangularPiston.Sinc(Math.PI * detuning * burstCycles / centre);
            double ratio = (centre + detuning) / centre;
            double offset = ratio - (1 / ratio);
            return burst * burst
                / ((1 + (transmitterQ * transmitterQ * offset * offset)) * (1 + (receiverQ * receiverQ * offset * offset)));
        }
    }
}
