using System.Collections.Immutable;
using System.Numerics;
using MathNet.Numerics.IntegralTransforms;
using SonarGeom.Echoes.Facets;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>The envelope of an echo in time, after transmitter and receiver, for a source of unit pressure at 1 m.</summary>
/// <remarks>Time counts from the start of the driving tone. The envelope repeats after the inverse of the spacing of the frequencies
/// it was made from; it starts at the arrival over the shortest path and ends before it repeats.</remarks>
public sealed class EchoEnvelope
{
    private EchoEnvelope(double startSeconds, double stepSeconds, ImmutableArray<Complex> samples)
    {
        StartSeconds = startSeconds;
        StepSeconds = stepSeconds;
        Samples = samples;
    }

    /// <summary>Gets the time of the first sample. [s]</summary>
    public double StartSeconds { get; }

    /// <summary>Gets the time between samples. [s]</summary>
    public double StepSeconds { get; }

    /// <summary>Gets the complex envelope about the nominal frequency, exp(−iωt) left out. [unitless]</summary>
    public ImmutableArray<Complex> Samples { get; }

    /// <summary>Gets the greatest magnitude. [unitless]</summary>
    public double PeakAmplitude => Samples.IsEmpty ? 0.0 : Samples.Max(sample => sample.Magnitude);

    /// <summary>Makes the envelope of an echo.</summary>
    /// <param name="echo">The echo at frequencies about the nominal one; see <see cref="BurstDrive.BandFor"/>.</param>
    /// <param name="drive">The burst.</param>
    /// <param name="soundSpeedMetresPerSecond">Sound speed. [m/s]</param>
    /// <param name="leastStepsPerTone">Samples over the length of the tone, at least 8.</param>
    public static EchoEnvelope Of(EchoSpectrum echo, BurstDrive drive, double soundSpeedMetresPerSecond, int leastStepsPerTone = 64)
    {
        ArgumentNullException.ThrowIfNull(echo);
        ArgumentNullException.ThrowIfNull(drive);
        FrequencyBand band = echo.Band;
        if (band.Count < 2)
        {
            throw new ArgumentException("An envelope needs an echo at two frequencies or more.", nameof(echo));
        }

        double start = echo.NearestPathMetres / soundSpeedMetresPerSecond;
        double period = 1.0 / band.StepHertz;
        int count = 1;
        while (count < band.Count || count < period / drive.ToneSeconds * Math.Max(8, leastStepsPerTone))
        {
            count *= 2;
        }

        // e(t) = Σ H B exp(−i2π(f − f₀)t) Δf, with the delay of the shortest path taken out first.
        double nominal = drive.NominalFrequency.Hertz;
        double step = period / count;
        var bins = new Complex[count];
        for (int j = 0; j < band.Count; j++)
        {
            double hertz = band.Hertz(j);
            Complex undelayed = Complex.FromPolarCoordinates(1.0, -2.0 * Math.PI * (hertz - nominal) * start);
            bins[j] = echo.Pressures[j] * drive.Spectrum(hertz) * undelayed * band.StepHertz;
        }

        // The library's forward transform is Σ x exp(−i2πjn/N).
        Fourier.Forward(bins, FourierOptions.AsymmetricScaling);
        var samples = ImmutableArray.CreateBuilder<Complex>(count);
        double lowest = band.LowestHertz - nominal;
        for (int n = 0; n < count; n++)
        {
            samples.Add(bins[n] * Complex.FromPolarCoordinates(1.0, -2.0 * Math.PI * lowest * n * step));
        }

        return new EchoEnvelope(start, step, samples.MoveToImmutable());
    }

    /// <summary>Returns the envelope at a time, by straight lines between samples; zero before the first and after the last.</summary>
    /// <param name="seconds">Time since the start of the tone. [s]</param>
    public Complex At(double seconds)
    {
        double position = (seconds - StartSeconds) / StepSeconds;
        int n = (int)Math.Floor(position);
        if (n < 0 || n + 1 >= Samples.Length)
        {
            return Complex.Zero;
        }

        double share = position - n;
        return ((1.0 - share) * Samples[n]) + (share * Samples[n + 1]);
    }

    /// <summary>Returns the level at the peak for a source level. [dB re 20 µPa]</summary>
    /// <param name="sourceLevelDecibels">Level of a continuous tone at 1 m. [dB re 20 µPa]</param>
    public double PeakLevelDecibels(double sourceLevelDecibels) => sourceLevelDecibels + Decibels.FromAmplitudeRatio(PeakAmplitude);
}
