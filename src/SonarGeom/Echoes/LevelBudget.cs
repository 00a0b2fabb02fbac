using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>
/// The echo of an obstacle line by line: the lines from source level to occlusion add up to the echo level, and that less the
/// detection threshold is the margin. Losses are negative.
/// </summary>
public sealed record LevelBudget
{
    /// <summary>Gets the part of the obstacle that answers strongest.</summary>
    public required string PartName { get; init; }

    /// <summary>Gets the point it answers from. [m]</summary>
    public required Vec3 GlintMetres { get; init; }

    /// <summary>Gets half the path: the range a finder would report. [m]</summary>
    public required double RangeMetres { get; init; }

    /// <summary>Gets the source level: loss-free continuous tone on the boresight. [dB re 20 µPa at 1 m]</summary>
    public required double SourceLevelDecibels { get; init; }

    /// <summary>Gets what a burst falls short of a continuous tone. [dB]</summary>
    public required double BuildUpDecibels { get; init; }

    /// <summary>Gets the beam of the transmitter towards the glint, nominal frequency. [dB]</summary>
    public required double TransmitBeamDecibels { get; init; }

    /// <summary>Gets the beam of the receiver towards the glint, nominal frequency. [dB]</summary>
    public required double ReceiveBeamDecibels { get; init; }

    /// <summary>Gets spherical spreading out and back, −20 log r₁ − 20 log r₂. [dB]</summary>
    public required double SpreadingDecibels { get; init; }

    /// <summary>Gets absorption out and back, nominal frequency. [dB]</summary>
    public required double AbsorptionDecibels { get; init; }

    /// <summary>
    /// Gets the target strength in use at this range and attitude, band mean (of foliage the mean over pings): all that shape, size, attitude and nearness do. It is
    /// the level that closes the sum. [dB re 1 m]
    /// </summary>
    public required double TargetStrengthDecibels { get; init; }

    /// <summary>Gets the loss of the material. [dB]</summary>
    public required double MaterialDecibels { get; init; }

    /// <summary>Gets the loss of coherence by roughness, of the obstacle and of the ground where it takes part. [dB]</summary>
    public required double RoughnessDecibels { get; init; }

    /// <summary>
    /// Gets what the echo of foliage swings down from ping to ping: nine in ten are above the echo level, the mean lies this much higher;
    /// 0 for steady echoes. [dB]
    /// </summary>
    public double SwingDecibels { get; init; }

    /// <summary>Gets the mean echo level over many pings. [dB re 20 µPa]</summary>
    public double MeanEchoLevelDecibels => EchoLevelDecibels - SwingDecibels;

    /// <summary>Gets what the wearer's body takes away. [dB]</summary>
    public required double WearerOcclusionDecibels { get; init; }

    /// <summary>Gets what other obstacles take away. [dB]</summary>
    public required double ObstacleOcclusionDecibels { get; init; }

    /// <summary>Gets the echo level at the receiver, band mean of the burst. [dB re 20 µPa]</summary>
    public required double EchoLevelDecibels { get; init; }

    /// <summary>Gets the echo level of a continuous tone at the nominal frequency, build-up counted. [dB re 20 µPa]</summary>
    public required double ToneEchoLevelDecibels { get; init; }

    /// <summary>Gets the threshold when the echo arrives. [dB re 20 µPa]</summary>
    public required double ThresholdDecibels { get; init; }

    /// <summary>Gets the noise. [dB re 20 µPa]</summary>
    public required double NoiseDecibels { get; init; }

    /// <summary>Gets the range below which nothing is heard. [m]</summary>
    public required double DeadZoneMetres { get; init; }

    /// <summary>Gets the range at which listening ends. [m]</summary>
    public required double WindowRangeMetres { get; init; }

    /// <summary>Gets the one factor that stands in the way.</summary>
    public required LimitingCause Cause { get; init; }

    /// <summary>Gets what each factor costs, in the order in which they were weighed. [dB]</summary>
    public required IReadOnlyList<FactorLoss> Losses { get; init; }

    /// <summary>Gets the level an echo must reach: threshold or noise, whichever is higher. [dB re 20 µPa]</summary>
    public double RequiredLevelDecibels => Math.Max(ThresholdDecibels, NoiseDecibels);

    /// <summary>Gets the detection margin, band mean. [dB]</summary>
    public double MarginDecibels => EchoLevelDecibels - RequiredLevelDecibels;

    /// <summary>Gets the detection margin of a continuous tone. [dB]</summary>
    public double ToneMarginDecibels => ToneEchoLevelDecibels - RequiredLevelDecibels;

    /// <summary>Gets whether the obstacle is detected.</summary>
    public bool IsDetected => Cause == LimitingCause.None;

    /// <summary>Gets the sum of the lines from source level to occlusion, which is the echo level. [dB re 20 µPa]</summary>
    public double SumOfLinesDecibels => SourceLevelDecibels + BuildUpDecibels + TransmitBeamDecibels + ReceiveBeamDecibels
        + SpreadingDecibels + AbsorptionDecibels + TargetStrengthDecibels + MaterialDecibels + RoughnessDecibels + SwingDecibels
        + WearerOcclusionDecibels + ObstacleOcclusionDecibels;
}

/// <summary>What one factor costs.</summary>
/// <param name="Cause">The factor.</param>
/// <param name="LossDecibels">What its removal would bring, 0 or more; +∞ for what hides an echo altogether. [dB]</param>
public readonly record struct FactorLoss(LimitingCause Cause, double LossDecibels);
