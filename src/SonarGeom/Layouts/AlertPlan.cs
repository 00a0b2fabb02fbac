using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Layouts;

/// <summary>Which reports become which alerts.</summary>
public sealed record AlertPlan
{
    /// <summary>Makes a plan.</summary>
    /// <param name="zones">The zones; those of one sensor may overlap.</param>
    /// <param name="hysteresisMetres">How much farther than its far end a zone reaches once it has alerted, from 0 to 2. [m]</param>
    /// <param name="messageSeconds">How long a message lasts, from 0 to 10; another of the same or lower urgency waits. [s]</param>
    public AlertPlan(ImmutableArray<AlertZone> zones, double hysteresisMetres = 0.1, double messageSeconds = 0.25)
    {
        Zones = zones.IsDefault ? [] : zones;
        HysteresisMetres = Finite.Within(hysteresisMetres, 0, 2, "Hysteresis of alert zones", "m");
        MessageSeconds = Finite.Within(messageSeconds, 0, 10, "Length of a message", "s");
    }

    /// <summary>Gets the zones.</summary>
    public ImmutableArray<AlertZone> Zones { get; }

    /// <summary>Gets how much farther than its far end a zone reaches once it has alerted. [m]</summary>
    public double HysteresisMetres { get; }

    /// <summary>Gets how long a message lasts. [s]</summary>
    public double MessageSeconds { get; }

    /// <summary>Makes the plan in which every report of a sensor, at whatever range, alerts to the side that it announces.</summary>
    /// <param name="sensors">The sensors.</param>
    public static AlertPlan EveryReport(ImmutableArray<SensorPlacement> sensors) => new(
    [
        .. sensors.Select(s => new AlertZone(s.Name, 0, double.PositiveInfinity, s.Announces switch
        {
            AnnouncedSide.Left => AlertMessage.Left,
            AnnouncedSide.Right => AlertMessage.Right,
            _ => AlertMessage.Ahead,
        })),
    ]);
}
