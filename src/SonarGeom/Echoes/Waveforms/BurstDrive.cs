using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>
/// The burst as it comes out of transmitter and receiver: a tone of some cycles through two resonators at its own frequency, as a
/// complex envelope about that frequency.
/// </summary>
/// <param name="NominalFrequency">Frequency of the tone and of both resonances.</param>
/// <param name="Cycles">Number of cycles of the tone, at least 1.</param>
/// <param name="TransmitterQ">Quality factor of the transmitter, above 0. [unitless]</param>
/// <param name="ReceiverQ">Quality factor of the receiver, above 0. [unitless]</param>
/// <remarks>
/// About its centre a resonator of quality Q follows a first-order law with the time constant τ = Q/(πf₀); the envelope of 1 is that
/// of a tone that lasts for ever. Linear systems theory.
/// </remarks>
public sealed record BurstDrive(Frequency NominalFrequency, int Cycles, double TransmitterQ, double ReceiverQ)
{
    private const double EqualTimeConstants = 1e-6;

    /// <summary>Gets the length of the tone. [s]</summary>
    public double ToneSeconds => Cycles / NominalFrequency.Hertz;

    /// <summary>Gets the time constant of the transmitter. [s]</summary>
    public double TransmitterSeconds => BurstBuildUp.TimeConstantSeconds(TransmitterQ, NominalFrequency);

    /// <summary>Gets the time constant of the receiver. [s]</summary>
    public double ReceiverSeconds => BurstBuildUp.TimeConstantSeconds(ReceiverQ, NominalFrequency);

    /// <summary>Gets the time after which the envelope stays below a thousandth of its peak. [s]</summary>
    public double RingSeconds => ToneSeconds + (7.0 * (TransmitterSeconds + ReceiverSeconds));

    /// <summary>Returns the drive of a transducer.</summary>
    /// <param name="transducer">The transducer.</param>
    public static BurstDrive Of(Transducer transducer)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        return new(transducer.NominalFrequency, transducer.BurstCycles, transducer.TransmitterQ, transducer.ReceiverQ);
    }

    /// <summary>Returns the envelope of an echo without delay. [unitless]</summary>
    /// <param name="seconds">Time since the start of the tone. [s]</param>
    public double Envelope(double seconds) => StepResponse(seconds) - StepResponse(seconds - ToneSeconds);

    /// <summary>Returns the spectrum of the envelope, ∫ envelope(t) exp(i2π(f − f₀)t) dt. [s]</summary>
    /// <param name="hertz">The frequency f. [Hz]</param>
    public Complex Spectrum(double hertz)
    {
        double omega = 2.0 * Math.PI * (hertz - NominalFrequency.Hertz);
        double half = 0.5 * omega * ToneSeconds;
        var tone = Complex.FromPolarCoordinates(ToneSeconds * TrianglePhaseIntegral.Sinc(half), half);
        return tone / (new Complex(1.0, -omega * TransmitterSeconds) * new Complex(1.0, -omega * ReceiverSeconds));
    }

    /// <summary>
    /// Returns frequencies at which an echo must be known, so that its envelope can be made from them: a third of the nominal
    /// frequency either way, close enough together that echoes over a span of paths do not fold onto one another.
    /// </summary>
    /// <param name="soundSpeedMetresPerSecond">Sound speed. [m/s]</param>
    /// <param name="pathSpanMetres">Difference between the longest and the shortest path. [m]</param>
    public FrequencyBand BandFor(double soundSpeedMetresPerSecond, double pathSpanMetres)
    {
        double window = (pathSpanMetres / soundSpeedMetresPerSecond) + (1.3 * RingSeconds);
        double half = NominalFrequency.Hertz / 3.0;
        int count = (2 * (int)Math.Ceiling(half * window)) + 1;
        return FrequencyBand.Between(NominalFrequency.Hertz - half, NominalFrequency.Hertz + half, count);
    }

    private double StepResponse(double seconds)
    {
        if (!(seconds > 0))
        {
            return 0.0;
        }

        double a = TransmitterSeconds;
        double b = ReceiverSeconds;
        if (Math.Abs(a - b) < EqualTimeConstants * (a + b))
        {
            double u = 2.0 * seconds / (a + b);
            return 1.0 - ((1.0 + u) * Math.Exp(-u));
        }

        return 1.0 - (((a * Math.Exp(-seconds / a)) - (b * Math.Exp(-seconds / b))) / (a - b));
    }
}
