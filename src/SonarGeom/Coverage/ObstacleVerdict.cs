using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>What a layout makes of one obstacle.</summary>
public enum VerdictOutcome
{
    /// <summary>Reliably reported, on the right side, at least the time needed before contact.</summary>
    WarnedInTime,

    /// <summary>Reliably reported, but too near to stop.</summary>
    TooLate,

    /// <summary>Reported in time, but announced on the other side.</summary>
    WrongSide,

    /// <summary>Not reliably reported at any distance.</summary>
    Missed,

    /// <summary>Reported early enough, but lost again farther off than the dead zone.</summary>
    LostAgain,

    /// <summary>Reported in time, but not on a collision course.</summary>
    PassedBesideHeard,

    /// <summary>Not on a collision course, and not reliably reported.</summary>
    PassedBesideSilent,

    /// <summary>No verdict: the mesh of the obstacle is too coarse for the wavelength. Counts as a danger on course.</summary>
    Withheld,
}

/// <summary>The answer for one obstacle: whether it is caught, how far off, by which sensor, and if not, why.</summary>
/// <param name="Obstacle">The obstacle.</param>
/// <param name="Outcome">The answer.</param>
/// <param name="IsOnCourse">Whether the wearer's swept silhouette meets it.</param>
/// <param name="LowBand">Lowest height band that it can touch.</param>
/// <param name="HighBand">Highest height band that it can touch.</param>
/// <param name="Side">The side on which it lies.</param>
/// <param name="ClosingSpeedMetresPerSecond">Closing speed. [m/s]</param>
/// <param name="FirstReliableMetres">Distance ahead of the body at the first reliable report; 0 if none. [m]</param>
/// <param name="HeldFromMetres">Distance from which it is reported early enough, at least for a while; 0 if it is not. [m]</param>
/// <param name="LostAgainBelowMetres">Distance below which those reports break off again before the dead zone; 0 if they hold. [m]</param>
/// <param name="WarningSeconds">Warning time left at that distance. [s]</param>
/// <param name="TimeNeededSeconds">Time needed. [s]</param>
/// <param name="MarginAtNeedDecibels">Margin of the best sensor at the last useful distance, in the least good phase that must still report. [dB]</param>
/// <param name="Sensor">Name of the sensor that reports it, or of the one that comes nearest to it.</param>
/// <param name="Announced">The side that this sensor announces.</param>
/// <param name="Cause">The one cause that limits it; none when warned in time.</param>
/// <param name="Part">The part of the obstacle that answers.</param>
public sealed record ObstacleVerdict(
    Obstacle Obstacle,
    VerdictOutcome Outcome,
    bool IsOnCourse,
    HeightBand LowBand,
    HeightBand HighBand,
    HazardSide Side,
    double ClosingSpeedMetresPerSecond,
    double FirstReliableMetres,
    double HeldFromMetres,
    double LostAgainBelowMetres,
    double WarningSeconds,
    double TimeNeededSeconds,
    double MarginAtNeedDecibels,
    string Sensor,
    AnnouncedSide Announced,
    LimitingCause Cause,
    string Part)
{
    /// <summary>Gets whether reports begin at the farthest distance that was looked at: the first one lies there or beyond.</summary>
    public bool IsAtSearchEnd { get; init; }

    /// <summary>Gets the name of the obstacle that hides it, if that is the cause; else empty.</summary>
    public string HiddenBy { get; init; } = string.Empty;

    /// <summary>Gets the engine that computed its echoes.</summary>
    public EchoEngine Engine { get; init; }

    /// <summary>Gets what the echo level may be off by that engine, either way; null when no part answers. [dB]</summary>
    public double? EstimatedErrorDecibels { get; init; }

    /// <summary>Gets why the verdict is withheld, in one sentence; empty when it is not.</summary>
    public string Withheld { get; init; } = string.Empty;

    /// <summary>Gets whether the wearer is in danger from it: on course and not warned in time on the right side.</summary>
    public bool IsDanger => IsOnCourse && Outcome != VerdictOutcome.WarnedInTime;
}
