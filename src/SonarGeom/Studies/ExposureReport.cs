using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies;

/// <summary>Who hears a layout.</summary>
public enum ListenerKind
{
    /// <summary>Who wears it.</summary>
    Wearer,

    /// <summary>A grown person nearby.</summary>
    Bystander,

    /// <summary>A child nearby.</summary>
    Child,

    /// <summary>The wearer's guide dog.</summary>
    Dog,
}

/// <summary>How a level stands to a limit.</summary>
public enum LimitStanding
{
    /// <summary>Below it by more than the uncertainty.</summary>
    Below,

    /// <summary>Within the uncertainty of it, on either side.</summary>
    Uncertain,

    /// <summary>Above it by more than the uncertainty.</summary>
    Above,
}

/// <summary>The level of a layout at one listener.</summary>
/// <param name="Listener">Who.</param>
/// <param name="Kind">What kind of listener.</param>
/// <param name="Where">Where the ear is taken to be.</param>
/// <param name="LoudestSensor">The sensor that is loudest there.</param>
/// <param name="Frequency">Its frequency.</param>
/// <param name="DistanceMetres">Its distance at the loudest place. [m]</param>
/// <param name="BurstLevelDecibels">The rms level at the peak of a burst, of all sensors that fire together. [dB re 20 µPa]</param>
/// <param name="MeanLevelDecibels">The level averaged over the firing cycle, of all sensors. [dB re 20 µPa]</param>
/// <param name="UncertaintyDecibels">The uncertainty of the levels: source, beam and absorption together. [dB]</param>
/// <param name="HearingThresholdDecibels">The mean hearing threshold of the listener at that frequency; null where no figure is used. [dB re 20 µPa]</param>
/// <param name="Limits">The published limits; none for dogs.</param>
public sealed record ExposureReading(
    string Listener, ListenerKind Kind, string Where, string LoudestSensor, Frequency Frequency, double DistanceMetres, double BurstLevelDecibels,
    double MeanLevelDecibels, double UncertaintyDecibels, double? HearingThresholdDecibels, ImmutableArray<ExposureLimit> Limits)
{
    /// <summary>Gets how far the burst is above the hearing threshold; null where no figure is used. [dB]</summary>
    public double? AboveHearingDecibels => BurstLevelDecibels - HearingThresholdDecibels;

    /// <summary>Returns how far the burst stays below a limit; below 0 it is louder. [dB]</summary>
    /// <param name="limit">The limit.</param>
    public double MarginDecibels(ExposureLimit limit)
    {
        ArgumentNullException.ThrowIfNull(limit);
        return limit.LevelDecibels - BurstLevelDecibels;
    }

    /// <summary>Returns how the burst stands to a limit.</summary>
    /// <param name="limit">The limit.</param>
    public LimitStanding StandingOf(ExposureLimit limit) => MarginDecibels(limit) switch
    {
        double m when m > UncertaintyDecibels => LimitStanding.Below,
        double m when m < -UncertaintyDecibels => LimitStanding.Above,
        _ => LimitStanding.Uncertain,
    };
}

/// <summary>From where on a burst stays below a limit, on the boresight.</summary>
/// <param name="Limit">The limit.</param>
/// <param name="DistanceMetres">The distance; 0 when it does from 0.02 m on. [m]</param>
public readonly record struct LimitDistance(ExposureLimit Limit, double DistanceMetres);

/// <summary>How far the bursts of one part reach.</summary>
/// <param name="Part">The part.</param>
/// <param name="Frequency">Its frequency.</param>
/// <param name="LevelAtOneMetreDecibels">The burst on the boresight at 1 m. [dB re 20 µPa]</param>
/// <param name="DutyDecibels">How far the mean over the cycle of one sensor is below its burst. [dB]</param>
/// <param name="Limits">The distances of the published limits.</param>
/// <param name="DogHearsToMetres">How far ahead a dog hears it, on the mean threshold, up to 100 m; null where no figure is used. [m]</param>
public sealed record ExposureReach(
    string Part, Frequency Frequency, double LevelAtOneMetreDecibels, double DutyDecibels, ImmutableArray<LimitDistance> Limits, double? DogHearsToMetres);

/// <summary>The sound levels of a layout.</summary>
/// <param name="Layout">The layout.</param>
/// <param name="CycleSeconds">Its firing cycle. [s]</param>
/// <param name="Readings">The levels at each listener.</param>
/// <param name="Reaches">How far each part reaches.</param>
public sealed record ExposureReport(
    SensorLayout Layout, double CycleSeconds, ImmutableArray<ExposureReading> Readings, ImmutableArray<ExposureReach> Reaches)
{
    /// <summary>Gets what to bear in mind with every figure.</summary>
    public static ImmutableArray<string> Cautions { get; } =
    [
        "The evidence behind all published limits of airborne ultrasound is thin, and they differ by 15 dB; several figures here are second-hand or from memory. Read the source before you rely on one.",
        "The limits are levels of a third-octave band at the ear. They do not clearly permit averaging over the pauses between bursts: the burst decides, the mean is told beside it.",
        "Limits for work are for grown people for part of a day. The wearer, bystanders and children are the general public.",
        "No hearing threshold of people is used above 20 kHz: that nobody hears it does not mean that it does nothing.",
        "Dogs hear 40 kHz well. A guide dog beside the wearer hears every burst: ask its trainer, watch the dog, and prefer 58 kHz or a lower level where it is bothered. No dog was measured above 50 kHz; no limit is published for dogs.",
        "Levels rest on the stated source level and beam. Measure them with a microphone that is calibrated at the frequency before anyone wears the device.",
    ];

    /// <summary>Gets the worst standing to a limit for the general public in one sentence.</summary>
    public string Finding
    {
        get
        {
            var worst = Readings.SelectMany(r => r.Limits.Where(l => l.Audience == ExposureAudience.GeneralPublic).Select(l => (Reading: r, Limit: l)))
                .OrderBy(p => p.Reading.MarginDecibels(p.Limit)).FirstOrDefault();
            if (worst.Reading is null)
            {
                return "No published limit for the general public is known here for these frequencies.";
            }

            (ExposureReading reading, ExposureLimit limit) = worst;
            string who = $"{reading.Listener} ({reading.Where})", level = $"{reading.BurstLevelDecibels:0} ± {reading.UncertaintyDecibels:0} dB re 20 µPa";
            return reading.StandingOf(limit) switch
            {
                LimitStanding.Above => $"Above a limit for the general public: {who} gets {level} in a burst of {reading.LoudestSensor}; the limit is {limit.LevelDecibels:0} dB ({limit.Source}).",
                LimitStanding.Uncertain => $"Near a limit for the general public, to be measured: {who} gets {level} in a burst of {reading.LoudestSensor}; the limit is {limit.LevelDecibels:0} dB ({limit.Source}).",
                _ => $"Below the limits for the general public; the loudest is {who} with {level} in a burst of {reading.LoudestSensor}, {reading.MarginDecibels(limit):0} dB below {limit.LevelDecibels:0} dB ({limit.Source}).",
            };
        }
    }
}
