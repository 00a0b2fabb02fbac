using SonarGeom.Layouts;

namespace SonarGeom.Coverage;

/// <summary>How long before a collision an alert must come, and how far the wearer goes until stopped.</summary>
/// <remarks>
/// Time needed = k · cycle (k reports of the filter, each cycle with all of its jitter) + alert latency + reaction + v / (2a). It is the stopping distance
/// v · (delays) + v² / (2a) divided by the walking speed v.
/// </remarks>
public static class StoppingModel
{
    /// <summary>Returns the time needed from the first report of a hazard to the moment of contact. [s]</summary>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="firing">Cycle, filter and alert latency of the layout.</param>
    public static double TimeNeededSeconds(WalkSettings walk, FiringPlan firing) =>
        (firing.RequiredHits * firing.LongestCycleSeconds) + firing.AlertLatencySeconds + walk.ReactionSeconds
        + (walk.SpeedMetresPerSecond / (2 * walk.DecelerationMetresPerSecondSquared));

    /// <summary>Returns the distance covered until the wearer stands, for a device latency. [m]</summary>
    /// <param name="speedMetresPerSecond">Walking speed. [m/s]</param>
    /// <param name="reactionSeconds">Reaction time. [s]</param>
    /// <param name="deviceLatencySeconds">Everything the device adds. [s]</param>
    /// <param name="decelerationMetresPerSecondSquared">Deceleration. [m/s²]</param>
    public static double StoppingDistanceMetres(
        double speedMetresPerSecond, double reactionSeconds, double deviceLatencySeconds, double decelerationMetresPerSecondSquared) =>
        (speedMetresPerSecond * (reactionSeconds + deviceLatencySeconds))
        + (speedMetresPerSecond * speedMetresPerSecond / (2 * decelerationMetresPerSecondSquared));
}
