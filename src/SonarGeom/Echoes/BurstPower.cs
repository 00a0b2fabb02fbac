using SonarGeom.Echoes.Waveforms;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>The power of a burst in time, as steps of half a path: what many small echoes that arrive one after the other add up by.</summary>
/// <remarks>Power of the envelope after both resonators (<see cref="BurstDrive"/>) over that of its peak, up to where it stays 30 dB below.</remarks>
internal sealed class BurstPower
{
    private const double FaintestPower = 1e-3;
    private const double StepsPerHalfLength = 6;
    private const int MostSteps = 64;

    internal BurstPower(Transducer transducer, double soundSpeedMetresPerSecond)
    {
        BurstDrive drive = BurstDrive.Of(transducer);
        const int Looks = 4000;
        double end = drive.RingSeconds, best = 0, peak = 0;
        for (int i = 0; i <= Looks; i++)
        {
            double seconds = end * i / Looks, value = drive.Envelope(seconds);
            (best, peak) = value > best ? (value, seconds) : (best, peak);
        }

        double Power(double seconds)
        {
            double value = drive.Envelope(seconds) / best;
            return value * value;
        }

        double half = 0, last = 0;
        for (int i = 0; i <= Looks; i++)
        {
            double power = Power(end * i / Looks);
            half += power > 0.5 ? end / Looks : 0;
            last = power > FaintestPower ? end * i / Looks : last;
        }

        double step = Math.Max(half / StepsPerHalfLength, last / (MostSteps - 2));
        PeakSeconds = peak;
        PeakStep = (int)(peak / step);
        StepMetres = 0.5 * soundSpeedMetresPerSecond * step;
        ApartSteps = Math.Max(1, (int)Math.Ceiling(Scale(drive, end) / step));
        Shares = new double[Math.Min(PeakStep + (int)((last - peak) / step) + 1, MostSteps)];
        for (int i = 0; i < Shares.Length; i++)
        {
            Shares[i] = Power(peak + ((i - PeakStep) * step));
        }
    }

    /// <summary>Gets the step. [m]</summary>
    internal double StepMetres { get; }

    /// <summary>Gets how many steps apart two moments are that hear leaves independently.</summary>
    internal int ApartSteps { get; }

    /// <summary>Gets when the envelope peaks, since the start of the tone. [s]</summary>
    internal double PeakSeconds { get; }

    /// <summary>Gets which step is the peak.</summary>
    internal int PeakStep { get; }

    /// <summary>Gets the power at each step; 1 at the peak.</summary>
    internal double[] Shares { get; }

    // The integral scale ∫ρ² dτ of the power of noise that the burst is convolved with, ρ the autocorrelation of its envelope. [s]
    private static double Scale(BurstDrive drive, double end)
    {
        const int Points = 400;
        double step = end / Points;
        double[] envelope = [.. Enumerable.Range(0, Points).Select(i => drive.Envelope(i * step))];
        double energy = envelope.Sum(e => e * e), scale = 0;
        for (int lag = 0; lag < Points; lag++)
        {
            double overlap = 0;
            for (int i = 0; i + lag < Points; i++)
            {
                overlap += envelope[i] * envelope[i + lag];
            }

            scale += (lag == 0 ? 1 : 2) * (overlap / energy) * (overlap / energy) * step;
        }

        return scale;
    }
}
