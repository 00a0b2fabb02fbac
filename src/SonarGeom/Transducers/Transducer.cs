using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>An ultrasonic range finder: one part that sends and listens, or two side by side, with the figures that decide what it hears.</summary>
/// <param name="Name">The name.</param>
/// <param name="Description">What it is, in a sentence.</param>
/// <param name="NominalFrequency">The frequency of the burst and of both resonances, from 15 to 500 kHz.</param>
/// <param name="Transmit">The beam of the transmitter.</param>
/// <param name="Receive">The beam of the receiver.</param>
/// <param name="TransmitterOffsetMetres">The transmitter face in the sensor frame (X boresight, Y left, Z up), within 1 m. [m]</param>
/// <param name="ReceiverOffsetMetres">The receiver face in the sensor frame, within 1 m; equal to the transmitter's for a single part. [m]</param>
/// <param name="SourceLevelDecibels">The loss-free continuous-tone rms level on the boresight at 1 m, 0 to 180. [dB re 20 µPa]</param>
/// <param name="Threshold">The detection threshold against time: rms level at the receiver face. [dB re 20 µPa]</param>
/// <param name="NoiseLevelDecibels">The noise in the receiver's band as a level at its face, −60 to 140. [dB re 20 µPa]</param>
/// <param name="BurstCycles">The number of cycles sent, 1 to 1000.</param>
/// <param name="TransmitterQ">The quality factor of the transmitter, centre frequency over −3 dB bandwidth, 0.5 to 1000. [unitless]</param>
/// <param name="ReceiverQ">The quality factor of the receiver, 0.5 to 1000. [unitless]</param>
/// <param name="BlankingSeconds">The time from the start of the burst during which nothing is heard, 0 or above. [s]</param>
/// <param name="ListeningWindowSeconds">The time from the start of the burst at which listening ends, above the blanking and at most 1. [s]</param>
/// <param name="Evidence">Where the figures come from and how sure they are.</param>
/// <exception cref="ArgumentException">A value is outside its range; the message names it, what was given and what is allowed.</exception>
public sealed record Transducer(
    string Name,
    string Description,
    Frequency NominalFrequency,
    Directivity Transmit,
    Directivity Receive,
    Vec3 TransmitterOffsetMetres,
    Vec3 ReceiverOffsetMetres,
    double SourceLevelDecibels,
    ThresholdProfile Threshold,
    double NoiseLevelDecibels,
    int BurstCycles,
    double TransmitterQ,
    double ReceiverQ,
    double BlankingSeconds,
    double ListeningWindowSeconds,
    TransducerEvidence Evidence)
{
    /// <summary>The distance at which data sheets usually state a level. [m]</summary>
    public const double DataSheetRangeMetres = 0.30;

    /// <summary>Gets the name.</summary>
    public string Name { get; init => field = NotBlank(value); } = NotBlank(Name);

    /// <summary>Gets the frequency of the burst and of both resonances.</summary>
    public Frequency NominalFrequency { get; init => field = Ultrasonic(value); } = Ultrasonic(NominalFrequency);

    /// <summary>Gets the beam of the transmitter.</summary>
    public Directivity Transmit { get; init => field = NotNull(value); } = NotNull(Transmit);

    /// <summary>Gets the beam of the receiver.</summary>
    public Directivity Receive { get; init => field = NotNull(value); } = NotNull(Receive);

    /// <summary>Gets the transmitter face in the sensor frame. [m]</summary>
    public Vec3 TransmitterOffsetMetres { get; init => field = Near(value); } = Near(TransmitterOffsetMetres);

    /// <summary>Gets the receiver face in the sensor frame. [m]</summary>
    public Vec3 ReceiverOffsetMetres { get; init => field = Near(value); } = Near(ReceiverOffsetMetres);

    /// <summary>Gets the loss-free continuous-tone rms level on the boresight at 1 m. [dB re 20 µPa]</summary>
    public double SourceLevelDecibels { get; init => field = SourceLevel(value); } = SourceLevel(SourceLevelDecibels);

    /// <summary>Gets the detection threshold against time.</summary>
    public ThresholdProfile Threshold { get; init => field = NotNull(value); } = NotNull(Threshold);

    /// <summary>Gets the noise in the receiver's band as a level at its face. [dB re 20 µPa]</summary>
    public double NoiseLevelDecibels { get; init => field = Noise(value); } = Noise(NoiseLevelDecibels);

    /// <summary>Gets the number of cycles sent.</summary>
    public int BurstCycles { get; init => field = Cycles(value); } = Cycles(BurstCycles);

    /// <summary>Gets the quality factor of the transmitter. [unitless]</summary>
    public double TransmitterQ { get; init => field = Quality(value, nameof(TransmitterQ)); } = Quality(TransmitterQ, nameof(TransmitterQ));

    /// <summary>Gets the quality factor of the receiver. [unitless]</summary>
    public double ReceiverQ { get; init => field = Quality(value, nameof(ReceiverQ)); } = Quality(ReceiverQ, nameof(ReceiverQ));

    /// <summary>Gets the time from the start of the burst during which nothing is heard. [s]</summary>
    public double BlankingSeconds { get; init => field = Duration(value, nameof(BlankingSeconds)); } =
        Duration(BlankingSeconds, nameof(BlankingSeconds));

    /// <summary>Gets the time from the start of the burst at which listening ends. [s]</summary>
    public double ListeningWindowSeconds { get; init => field = Duration(value, nameof(ListeningWindowSeconds)); } =
        ListeningWindowSeconds > BlankingSeconds
            ? Duration(ListeningWindowSeconds, nameof(ListeningWindowSeconds))
            : throw new ArgumentOutOfRangeException(
                nameof(ListeningWindowSeconds),
                $"The listening window ends at {ListeningWindowSeconds} s; it must end after the blanking of {BlankingSeconds} s.");

    /// <summary>Gets where the figures come from and how sure they are.</summary>
    public TransducerEvidence Evidence { get; init => field = NotNull(value); } = NotNull(Evidence);

    /// <summary>Gets the time from the start of the burst until the transducer's own ringing is below the threshold; 0 when it is not stated. [s]</summary>
    public double RingDownSeconds { get; init => field = Duration(value, nameof(RingDownSeconds)); }

    /// <summary>Gets whether transmitter and receiver are apart.</summary>
    public bool IsBistatic => TransmitterOffsetMetres != ReceiverOffsetMetres;

    /// <summary>Gets the distance between transmitter and receiver. [m]</summary>
    public double SeparationMetres => TransmitterOffsetMetres.DistanceTo(ReceiverOffsetMetres);

    /// <summary>Gets the length of the driving burst. [s]</summary>
    public double BurstSeconds => BurstCycles / NominalFrequency.Hertz;

    /// <summary>Gets how far the peak of the burst stays below a continuous tone, below 0. [dB]</summary>
    public double BuildUpDecibels =>
        Decibels.FromAmplitudeRatio(BurstBuildUp.TwoStage(BurstCycles, TransmitterQ, ReceiverQ));

    /// <summary>Gets the figure of merit at the end of the listening window, where modules are most sensitive. [dB]</summary>
    public double LateFigureOfMeritDecibels => FigureOfMeritDecibels(ListeningWindowSeconds);

    /// <summary>Returns the source level that belongs to a level stated at another distance. [dB re 20 µPa at 1 m]</summary>
    /// <param name="levelDecibels">The stated rms level on the boresight. [dB re 20 µPa]</param>
    /// <param name="distanceMetres">The distance at which it was stated, above 0; data sheets use 0.30. [m]</param>
    /// <param name="absorptionDecibelsPerMetre">The absorption of the air in which it was measured. [dB/m]</param>
    /// <remarks>Formula: <c>SL = L + 20·log₁₀(d) + α·d</c>: spherical spreading, losses taken out.</remarks>
    public static double SourceLevelFrom(double levelDecibels, double distanceMetres, double absorptionDecibelsPerMetre) =>
        levelDecibels + Decibels.FromAmplitudeRatio(distanceMetres) + (absorptionDecibelsPerMetre * distanceMetres);

    /// <summary>Returns the level that an echo must reach: the threshold or the noise, whichever is higher. [dB re 20 µPa]</summary>
    /// <param name="timeSeconds">The time since the start of the burst. [s]</param>
    public double DetectionThresholdDecibels(double timeSeconds) =>
        Math.Max(Threshold.LevelDecibels(timeSeconds), NoiseLevelDecibels);

    /// <summary>Returns the figure of merit: source level and burst build-up over the detection threshold; all two-way losses together may be as large. [dB]</summary>
    /// <param name="timeSeconds">The time since the start of the burst. [s]</param>
    public double FigureOfMeritDecibels(double timeSeconds) =>
        SourceLevelDecibels + BuildUpDecibels - DetectionThresholdDecibels(timeSeconds);

    /// <summary>Returns the range below which nothing is heard, because of blanking or ringing, whichever lasts longer. [m]</summary>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    public double DeadZoneMetres(double soundSpeedMetresPerSecond) =>
        0.5 * soundSpeedMetresPerSecond * Math.Max(BlankingSeconds, RingDownSeconds);

    /// <summary>Returns the range at which the listening window ends. [m]</summary>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    public double WindowRangeMetres(double soundSpeedMetresPerSecond) =>
        0.5 * soundSpeedMetresPerSecond * ListeningWindowSeconds;

    private static string NotBlank(string name) =>
        string.IsNullOrWhiteSpace(name) ? throw new ArgumentException("A transducer needs a name.", nameof(name)) : name;

    private static T NotNull<T>(T part)
        where T : class =>
        part ?? throw new ArgumentNullException(nameof(part));

    private static Frequency Ultrasonic(Frequency frequency)
    {
        Finite.Within(frequency.Kilohertz, 15, 500, nameof(NominalFrequency), "kHz");
        return frequency;
    }

    private static Vec3 Near(Vec3 offsetMetres) =>
        offsetMetres.IsFinite && offsetMetres.Length <= 1
            ? offsetMetres
            : throw new ArgumentOutOfRangeException(
                nameof(offsetMetres), $"A transducer offset is {offsetMetres} m; it must be finite and within 1 m of the sensor origin.");

    private static double SourceLevel(double decibels) =>
        Finite.Within(decibels, 0, 180, nameof(SourceLevelDecibels), "dB re 20 µPa");

    private static double Noise(double decibels) =>
        Finite.Within(decibels, -60, 140, nameof(NoiseLevelDecibels), "dB re 20 µPa");

    private static int Cycles(int cycles)
    {
        Finite.Within(cycles, 1, 1000, nameof(BurstCycles), "cycles");
        return cycles;
    }

    private static double Quality(double quality, string name) => Finite.Within(quality, 0.5, 1000, name, "(no unit)");

    private static double Duration(double seconds, string name) => Finite.Within(seconds, 0, 1, name, "s");
}
