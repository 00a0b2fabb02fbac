using System.Collections.Concurrent;
using SonarGeom.Echoes.Facets;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>
/// A transducer in given air, made ready once: wavenumbers, absorption and beam patterns at the frequencies of its burst and at
/// its nominal frequency. Immutable; share it between poses and threads.
/// </summary>
public sealed class PreparedTransducer
{
    private readonly Lazy<PreparedTransducer> _withEvenBeams;
    private readonly Lazy<BurstPower> _burstPower;
    private readonly ConcurrentDictionary<int, BurstSpectrum> _spectra = [];

    /// <summary>Makes a transducer ready.</summary>
    /// <param name="transducer">The transducer.</param>
    /// <param name="medium">The air.</param>
    public PreparedTransducer(Transducer transducer, EchoMedium medium)
        : this(transducer, medium, isLossless: false)
    {
    }

    /// <summary>The same with or without absorption: comparisons with lossless solutions leave it out.</summary>
    internal PreparedTransducer(Transducer transducer, EchoMedium medium, bool isLossless)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        ArgumentNullException.ThrowIfNull(medium);
        Transducer = transducer;
        _withEvenBeams = new(() => new PreparedTransducer(
            transducer with { Transmit = EvenBeam.Instance, Receive = EvenBeam.Instance }, medium, isLossless));
        Medium = medium;
        _burstPower = new(() => new BurstPower(transducer, medium.SoundSpeedMetresPerSecond));
        FaceArmMetres = 0.5 * transducer.TransmitterOffsetMetres.DistanceTo(transducer.ReceiverOffsetMetres);
        ReadOnlySpan<ThresholdPoint> threshold = transducer.Threshold.Points.AsSpan();
        for (int i = 1; i < threshold.Length; i++)
        {
            double perSecond = (threshold[i].LevelDecibels - threshold[i - 1].LevelDecibels) / (threshold[i].TimeSeconds - threshold[i - 1].TimeSeconds);
            SteepestThresholdDecibelsPerMetre = Math.Max(
                SteepestThresholdDecibelsPerMetre, Math.Abs(perSecond) * 2 / medium.SoundSpeedMetresPerSecond);
        }

        Spectrum = BurstSpectrum.Of(transducer, LaneBlock.Lanes);
        WavenumberRadiansPerMetre = medium.WavenumberRadiansPerMetre(transducer.NominalFrequency);
        AbsorptionDecibelsPerMetre = isLossless ? 0 : medium.AbsorptionDecibelsPerMetre(transducer.NominalFrequency);
        Band = new LaneBlock(transducer, medium, Spectrum.FrequenciesHertz.AsSpan(), Spectrum.PowerWeights.AsSpan(), isLossless);
        Span<double> nominal = stackalloc double[LaneBlock.Lanes];
        Span<double> even = stackalloc double[LaneBlock.Lanes];
        nominal.Fill(transducer.NominalFrequency.Hertz);
        even.Fill(1.0 / LaneBlock.Lanes);
        Centre = new LaneBlock(transducer, medium, nominal, even, isLossless);
    }

    /// <summary>Gets the transducer.</summary>
    public Transducer Transducer { get; }

    /// <summary>Gets the air.</summary>
    public EchoMedium Medium { get; }

    /// <summary>Gets the frequencies of the burst over which band means are taken.</summary>
    public BurstSpectrum Spectrum { get; }

    /// <summary>Gets the wavenumber at the nominal frequency. [rad/m]</summary>
    public double WavenumberRadiansPerMetre { get; }

    /// <summary>Gets the absorption at the nominal frequency, one way. [dB/m]</summary>
    public double AbsorptionDecibelsPerMetre { get; }

    /// <summary>Gets the range below which ringing or blanking hides everything. [m]</summary>
    public double DeadZoneMetres => Transducer.DeadZoneMetres(Medium.SoundSpeedMetresPerSecond);

    /// <summary>Gets the range at which listening ends. [m]</summary>
    public double WindowRangeMetres => Transducer.WindowRangeMetres(Medium.SoundSpeedMetresPerSecond);

    /// <summary>The same transducer with even beams in all directions, made when first asked for: what the beams cost.</summary>
    internal PreparedTransducer WithEvenBeams => _withEvenBeams.Value;

    /// <summary>The power of the burst in time, made when first asked for.</summary>
    internal BurstPower BurstPower => _burstPower.Value;

    /// <summary>The burst's band cut into more parts than usual: meshes answer over a span of paths.</summary>
    internal BurstSpectrum SpectrumOf(int count) => _spectra.GetOrAdd(count, n => BurstSpectrum.Of(Transducer, n));

    /// <summary>Half the distance between transmitter and receiver. [m]</summary>
    internal double FaceArmMetres { get; }

    /// <summary>The steepest that the threshold falls or rises over the range of an echo. [dB/m]</summary>
    internal double SteepestThresholdDecibelsPerMetre { get; }

    internal LaneBlock Band { get; }

    internal LaneBlock Centre { get; }

    /// <summary>Returns the level that an echo from a range must reach: the threshold then, or the noise. [dB re 20 µPa]</summary>
    /// <param name="rangeMetres">Half the length of the path. [m]</param>
    public double DetectionThresholdDecibels(double rangeMetres) =>
        Transducer.DetectionThresholdDecibels(2 * rangeMetres / Medium.SoundSpeedMetresPerSecond);
}
