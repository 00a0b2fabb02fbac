using System.Numerics;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>What a range finder reports of an echo: the time at which the envelope first crosses the threshold, as a range.</summary>
/// <param name="PeakLevelDecibels">Greatest level of the echo. [dB re 20 µPa]</param>
/// <param name="CrossingSeconds">Time of the first crossing since the start of the tone; null when there is none. [s]</param>
/// <param name="ReportedRangeMetres">The range that the device makes of it; null without a crossing. [m]</param>
/// <param name="ErrorMetres">Reported less true range; null without a crossing. [m]</param>
public readonly record struct DeviceReading(
    double PeakLevelDecibels, double? CrossingSeconds, double? ReportedRangeMetres, double? ErrorMetres)
{
    /// <summary>Gets whether the device reports anything.</summary>
    public bool IsDetected => CrossingSeconds.HasValue;

    /// <summary>Reads an echo as the device does.</summary>
    /// <param name="envelope">The echo.</param>
    /// <param name="transducer">The device: its source level, threshold, noise, blanking and listening window.</param>
    /// <param name="trueRangeMetres">Half the shortest path. [m]</param>
    /// <param name="assumedMicrosecondsPerCentimetre">Time of the round trip for each centimetre of range that the device
    /// assumes, above 0. [µs/cm]</param>
    /// <remarks>The envelope is compared with the threshold or the noise, whichever is higher, from the end of blanking to the end
    /// of the window; between samples its level runs straight in decibels.</remarks>
    public static DeviceReading Of(
        EchoEnvelope envelope, Transducer transducer, double trueRangeMetres, double assumedMicrosecondsPerCentimetre)
    {
        ArgumentNullException.ThrowIfNull(envelope);
        ArgumentNullException.ThrowIfNull(transducer);
        if (!(assumedMicrosecondsPerCentimetre > 0))
        {
            throw new ArgumentOutOfRangeException(
                nameof(assumedMicrosecondsPerCentimetre), $"The assumed constant is {assumedMicrosecondsPerCentimetre} µs/cm; it must be above 0.");
        }

        double peak = envelope.PeakLevelDecibels(transducer.SourceLevelDecibels);
        double? crossing = FirstCrossing(envelope, transducer);
        double? range = crossing * 1e6 / assumedMicrosecondsPerCentimetre * 1e-2;
        return new DeviceReading(peak, crossing, range, range - trueRangeMetres);
    }

    private static double? FirstCrossing(EchoEnvelope envelope, Transducer transducer)
    {
        double before = double.NegativeInfinity;
        double beforeSeconds = 0.0;
        for (int n = 0; n < envelope.Samples.Length; n++)
        {
            double seconds = envelope.StartSeconds + (n * envelope.StepSeconds);
            if (seconds > transducer.ListeningWindowSeconds)
            {
                return null;
            }

            Complex sample = envelope.Samples[n];
            double margin = transducer.SourceLevelDecibels + Decibels.FromAmplitudeRatio(sample.Magnitude)
                - transducer.DetectionThresholdDecibels(seconds);
            if (seconds >= transducer.BlankingSeconds)
            {
                if (margin >= 0)
                {
                    // Heard at the very end of blanking: the device reports that moment.
                    double share = double.IsFinite(before) && before < 0 ? before / (before - margin) : 1.0;
                    return beforeSeconds + (share * (seconds - beforeSeconds));
                }

                before = margin;
            }

            beforeSeconds = seconds;
        }

        return null;
    }
}
