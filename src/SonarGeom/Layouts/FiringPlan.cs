using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Layouts;

/// <summary>When the sensors fire and how many hits make an alert.</summary>
public sealed record FiringPlan
{
    /// <summary>The most by which a cycle may be lengthened. [s]</summary>
    public const double MostJitterSeconds = 1;

    private const int LongestWindow = 32;

    /// <summary>Makes a plan.</summary>
    /// <param name="cycleSeconds">Time in which every sensor fires once, above 0 and up to 5. [s]</param>
    /// <param name="requiredHits">Hits (k) needed among the last pings of a sensor; from 1 to the window.</param>
    /// <param name="windowPings">Number of last pings (n) looked at; up to 32.</param>
    /// <param name="alertLatencySeconds">Time from the deciding ping to an alert that can be felt or heard, from 0 to 2. [s]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public FiringPlan(double cycleSeconds, int requiredHits, int windowPings, double alertLatencySeconds)
    {
        Finite.Within(cycleSeconds, 0.001, 5, "Firing cycle", "s");
        Finite.Within(windowPings, 1, LongestWindow, "Window of pings", "pings");
        Finite.Within(requiredHits, 1, windowPings, "Number of required hits", "hits");
        Finite.Within(alertLatencySeconds, 0, 2, "Alert latency", "s");
        CycleSeconds = cycleSeconds;
        RequiredHits = requiredHits;
        WindowPings = windowPings;
        AlertLatencySeconds = alertLatencySeconds;
    }

    /// <summary>Gets the time in which every sensor fires once, without jitter. [s]</summary>
    public double CycleSeconds { get; }

    /// <summary>Gets the hits (k) needed among the last pings of a sensor.</summary>
    public int RequiredHits { get; }

    /// <summary>Gets the number of last pings (n) looked at.</summary>
    public int WindowPings { get; }

    /// <summary>Gets the time from the deciding ping to an alert that can be felt or heard. [s]</summary>
    public double AlertLatencySeconds { get; }

    /// <summary>Gets the groups of sensors in the order in which they fire, those of a group together; empty when each fires alone, in
    /// the order of the layout.</summary>
    public ImmutableArray<ImmutableArray<string>> Groups { get; init; } = [];

    /// <summary>Gets the most by which a cycle is lengthened, drawn anew for each, from 0 to 1; 0 for a steady cycle. [s]</summary>
    public double JitterSeconds { get; init => field = Finite.Within(value, 0, MostJitterSeconds, "Firing jitter", "s"); }

    /// <summary>Gets whether a group may fire while sensors of the one before still listen.</summary>
    public bool Overlaps { get; init; }

    /// <summary>Gets the longest time from one ping of a sensor to its next, with all of the jitter. [s]</summary>
    public double LongestCycleSeconds => CycleSeconds + JitterSeconds;
}
