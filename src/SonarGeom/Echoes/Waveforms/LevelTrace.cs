using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>What one source adds to a trace.</summary>
/// <param name="Label">The source.</param>
/// <param name="LevelsDecibels">Its level at each range of the trace; −300 where it is silent. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Half the path of its first or dominant return; 0 when it is silent. [m]</param>
/// <param name="PeakDecibels">Its greatest level in the listening window. [dB re 20 µPa]</param>
/// <param name="LargestMarginDecibels">Its greatest level over threshold or noise in the window, alone. [dB]</param>
/// <param name="FirstCrossingMetres">Where it would cross the threshold first if it were alone; null if nowhere. [m]</param>
/// <param name="Withheld">Why no verdict may rest on it; empty when one may.</param>
public sealed record TraceContribution(
    string Label,
    ImmutableArray<double> LevelsDecibels,
    double RangeMetres,
    double PeakDecibels,
    double LargestMarginDecibels,
    double? FirstCrossingMetres,
    ImmutableArray<string> Withheld);

/// <summary>
/// What a receiver hears after one burst: level against range with every source labelled, the threshold, the noise and the first
/// crossing.
/// </summary>
/// <remarks>The range axis is half the sound speed times the time since the start of the burst, as an ideal device counts. Sources
/// that have a phase add as waves, rough ground and foliage as power.</remarks>
public sealed record LevelTrace
{
    private LevelTrace()
    {
    }

    /// <summary>Gets the ranges. [m]</summary>
    public required ImmutableArray<double> RangesMetres { get; init; }

    /// <summary>Gets what each source adds, in the order in which they were given.</summary>
    public required ImmutableArray<TraceContribution> Contributions { get; init; }

    /// <summary>Gets the level of all sources together. [dB re 20 µPa]</summary>
    public required ImmutableArray<double> TotalDecibels { get; init; }

    /// <summary>Gets the detection threshold. [dB re 20 µPa]</summary>
    public required ImmutableArray<double> ThresholdDecibels { get; init; }

    /// <summary>Gets the noise. [dB re 20 µPa]</summary>
    public required double NoiseDecibels { get; init; }

    /// <summary>Gets the range below which nothing is heard. [m]</summary>
    public required double DeadZoneMetres { get; init; }

    /// <summary>Gets the range at which listening ends. [m]</summary>
    public required double WindowRangeMetres { get; init; }

    /// <summary>Gets where the total first crosses threshold and noise beyond the dead zone; null if nowhere. [m]</summary>
    public double? FirstCrossingMetres { get; init; }

    /// <summary>Gets the source that is strongest there; null without a crossing.</summary>
    public string? FirstCrossingLabel { get; init; }

    /// <summary>Gets the speed of sound that the range axis is counted with. [m/s]</summary>
    public required double SoundSpeedMetresPerSecond { get; init; }

    /// <summary>Returns the range that a device reports which takes the round trip to last a fixed time for each centimetre; null
    /// without a crossing. [m]</summary>
    /// <param name="assumedMicrosecondsPerCentimetre">The assumed constant, above 0. [µs/cm]</param>
    public double? ReportedRangeMetres(double assumedMicrosecondsPerCentimetre) => assumedMicrosecondsPerCentimetre > 0
        ? FirstCrossingMetres * 2e4 / SoundSpeedMetresPerSecond / assumedMicrosecondsPerCentimetre
        : throw new ArgumentOutOfRangeException(
            nameof(assumedMicrosecondsPerCentimetre), $"The assumed constant is {assumedMicrosecondsPerCentimetre} µs/cm; it must be above 0.");

    /// <summary>Computes a trace.</summary>
    /// <param name="sensor">The sensor at its pose.</param>
    /// <param name="sources">What can be heard.</param>
    /// <param name="stepMetres">Step of the range axis, from 0.5 mm to 0.1 m. [m]</param>
    public static LevelTrace Of(SensorAtPose sensor, IReadOnlyList<TraceSource> sources, double stepMetres = 0.004)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(sources);
        Finite.Within(stepMetres, 5e-4, 0.1, nameof(stepMetres), "m");
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        BurstDrive drive = BurstDrive.Of(sensor.Transducer);
        double window = sensor.Prepared.WindowRangeMetres;
        double dead = sensor.Prepared.DeadZoneMetres;
        int count = (int)Math.Floor(window / stepMetres) + 1;
        double[] ranges = [.. Enumerable.Range(0, count).Select(i => i * stepMetres)];
        double[] required = [.. ranges.Select(sensor.Prepared.DetectionThresholdDecibels)];

        var total = new Complex[count];
        var power = new double[count];
        var contributions = ImmutableArray.CreateBuilder<TraceContribution>(sources.Count);
        foreach (TraceSource source in sources)
        {
            SourceWave wave = source.Wave(sensor);
            var levels = new double[count];
            for (int i = 0; i < count; i++)
            {
                Complex value = wave.At(2.0 * ranges[i] / speed, drive, speed);
                double rings = Decibels.ToPowerRatio(wave.RingDecibels(ranges[i]) - sensor.Transducer.SourceLevelDecibels);
                total[i] += value;
                power[i] += rings;
                levels[i] = Level(sensor, (value.Real * value.Real) + (value.Imaginary * value.Imaginary) + rings);
            }

            contributions.Add(Contribution(source.Label, wave, ranges, levels, required, dead));
        }

        ImmutableArray<TraceContribution> added = contributions.MoveToImmutable();
        var sums = new double[count];
        for (int i = 0; i < count; i++)
        {
            sums[i] = Level(sensor, (total[i].Real * total[i].Real) + (total[i].Imaginary * total[i].Imaginary) + power[i]);
        }

        double? crossing = FirstCrossing(ranges, sums, required, dead);
        return new LevelTrace
        {
            RangesMetres = [.. ranges],
            Contributions = added,
            TotalDecibels = [.. sums],
            ThresholdDecibels = [.. ranges.Select(range => sensor.Transducer.Threshold.LevelDecibels(2.0 * range / speed))],
            NoiseDecibels = sensor.Transducer.NoiseLevelDecibels,
            DeadZoneMetres = dead,
            SoundSpeedMetresPerSecond = speed,
            WindowRangeMetres = window,
            FirstCrossingMetres = crossing,
            FirstCrossingLabel = crossing is { } at ? Strongest(added, (int)Math.Ceiling(at / stepMetres), count) : null,
        };
    }

    /// <summary>Where a level first reaches what is required beyond the dead zone, straight in decibels between samples; null if
    /// nowhere.</summary>
    private static double? FirstCrossing(double[] ranges, double[] levels, double[] required, double dead)
    {
        for (int i = 0; i < ranges.Length; i++)
        {
            double margin = levels[i] - required[i];
            if (ranges[i] < dead || margin < 0)
            {
                continue;
            }

            if (i == 0 || ranges[i - 1] < dead)
            {
                return ranges[i];
            }

            double before = levels[i - 1] - required[i - 1];
            double share = before < 0 ? before / (before - margin) : 1.0;
            return ranges[i - 1] + (share * (ranges[i] - ranges[i - 1]));
        }

        return null;
    }

    private static TraceContribution Contribution(
        string label, SourceWave wave, double[] ranges, double[] levels, double[] required, double dead)
    {
        double peak = PartEcho.SilentDecibels;
        double margin = PartEcho.SilentDecibels;
        for (int i = 0; i < ranges.Length; i++)
        {
            if (ranges[i] >= dead)
            {
                peak = Math.Max(peak, levels[i]);
                margin = Math.Max(margin, levels[i] - required[i]);
            }
        }

        return new TraceContribution(
            label, [.. levels], wave.RangeMetres, peak, margin, FirstCrossing(ranges, levels, required, dead), wave.Withheld);
    }

    private static string Strongest(ImmutableArray<TraceContribution> contributions, int index, int count)
    {
        int at = Math.Min(index, count - 1);
        TraceContribution best = contributions[0];
        foreach (TraceContribution contribution in contributions)
        {
            best = contribution.LevelsDecibels[at] > best.LevelsDecibels[at] ? contribution : best;
        }

        return best.Label;
    }

    private static double Level(SensorAtPose sensor, double power) =>
        power > 0
            ? Math.Max(sensor.Transducer.SourceLevelDecibels + Decibels.FromPowerRatio(power), PartEcho.SilentDecibels)
            : PartEcho.SilentDecibels;
}
