using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>Whom a limit of airborne ultrasound protects.</summary>
public enum ExposureAudience
{
    /// <summary>People at work, for part of a day.</summary>
    Occupational,

    /// <summary>Everybody, always: the wearer, bystanders, children.</summary>
    GeneralPublic,
}

/// <summary>A published limit of airborne ultrasound: the level in a third-octave band at the ear.</summary>
/// <param name="Source">The publication.</param>
/// <param name="Audience">Whom it protects.</param>
/// <param name="LowestKilohertz">The lowest band centre for which it holds. [kHz]</param>
/// <param name="HighestKilohertz">The highest band centre for which it holds. [kHz]</param>
/// <param name="LevelDecibels">The limit. [dB re 20 µPa]</param>
/// <param name="Confidence">How sure the figure is.</param>
/// <remarks>The evidence behind all of them is thin. They do not clearly permit averaging over the pauses between bursts.</remarks>
public sealed record ExposureLimit(
    string Source,
    ExposureAudience Audience,
    double LowestKilohertz,
    double HighestKilohertz,
    double LevelDecibels,
    string Confidence)
{
    private const string SecondHand = "seen second-hand";
    private const string Memory = "from memory";

    /// <summary>Gets the limits known here.</summary>
    public static ImmutableArray<ExposureLimit> Published { get; } =
    [
        new("AGNIR 2010", ExposureAudience.GeneralPublic, 20, 20, 70, SecondHand),
        new("AGNIR 2010", ExposureAudience.GeneralPublic, 25, 100, 100, SecondHand),
        new("INIRC-IRPA 1984, interim", ExposureAudience.GeneralPublic, 20, 20, 70, Memory),
        new("INIRC-IRPA 1984, interim", ExposureAudience.GeneralPublic, 25, 100, 100, Memory),
        new("INIRC-IRPA 1984, interim", ExposureAudience.Occupational, 20, 20, 75, Memory),
        new("INIRC-IRPA 1984, interim", ExposureAudience.Occupational, 25, 100, 110, Memory),
        new("Howard, Hansen and Zander 2004, consensus of a review", ExposureAudience.Occupational, 20, 20, 75, SecondHand),
        new("Howard, Hansen and Zander 2004, consensus of a review", ExposureAudience.Occupational, 25, 50, 110, SecondHand),
        new("Health Canada Safety Code 24, 1991", ExposureAudience.Occupational, 20, 20, 75, Memory),
        new("Health Canada Safety Code 24, 1991", ExposureAudience.Occupational, 25, 100, 110, Memory),
        new("ACGIH threshold limit value, ceiling", ExposureAudience.Occupational, 20, 20, 105, Memory),
        new("ACGIH threshold limit value, ceiling", ExposureAudience.Occupational, 25, 25, 110, Memory),
        new("ACGIH threshold limit value, ceiling", ExposureAudience.Occupational, 31.5, 100, 115, Memory),
    ];

    /// <summary>Returns the limits for the third-octave band of a frequency.</summary>
    /// <param name="frequency">The frequency of the tone.</param>
    public static ImmutableArray<ExposureLimit> For(Frequency frequency)
    {
        // A band reaches a sixth of an octave to either side of its centre.
        double half = Math.Pow(2, 1.0 / 6);
        return
        [
            .. Published.Where(limit => frequency.Kilohertz >= limit.LowestKilohertz / half
                && frequency.Kilohertz < limit.HighestKilohertz * half),
        ];
    }
}
