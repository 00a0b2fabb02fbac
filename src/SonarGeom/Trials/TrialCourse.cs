using System.Collections.Concurrent;
using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Obstacles;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>Everything that trials start from but the layouts, with the places made ready.</summary>
/// <param name="tables">The body tables.</param>
/// <param name="wearer">Who walks.</param>
/// <param name="obstacles">What stands in the way, and the ground or none.</param>
/// <param name="walk">How the wearer walks, reacts and stops.</param>
/// <param name="air">The air on an average day.</param>
/// <param name="soundSpeed">The formula for the speed of sound.</param>
/// <param name="assumedMicrosecondsPerCentimetre">The round trip that the device takes for a centimetre of range. [µs/cm]</param>
/// <param name="settings">How many walks, and what differs between them.</param>
public sealed class TrialCourse(
    BodyTables tables,
    WearerSpec wearer,
    ObstacleSet obstacles,
    WalkSettings walk,
    AirState air,
    SoundSpeedModel soundSpeed,
    double assumedMicrosecondsPerCentimetre,
    TrialSettings settings)
{
    // One for each transducer, shared by all outings: what a part can answer at most does not hinge on the day.
    private readonly ConcurrentDictionary<Transducer, Lazy<EchoBounds>> _bounds = new(ReferenceEqualityComparer.Instance);

    /// <summary>Gets the body tables.</summary>
    public BodyTables Tables { get; } = tables;

    /// <summary>Gets who walks.</summary>
    public WearerSpec Wearer { get; } = wearer;

    /// <summary>Gets what stands in the way.</summary>
    public ObstacleSet Obstacles { get; } = obstacles;

    /// <summary>Gets how the wearer walks, reacts and stops.</summary>
    public WalkSettings Walk { get; } = walk;

    /// <summary>Gets the air on an average day.</summary>
    public AirState Air { get; } = air;

    /// <summary>Gets the formula for the speed of sound.</summary>
    public SoundSpeedModel SoundSpeed { get; } = soundSpeed;

    /// <summary>Gets the round trip that the device takes for a centimetre of range. [µs/cm]</summary>
    public double AssumedMicrosecondsPerCentimetre { get; } = assumedMicrosecondsPerCentimetre;

    /// <summary>Gets how many walks, and what differs between them.</summary>
    public TrialSettings Settings { get; } = settings;

    /// <summary>Gets the line that is walked.</summary>
    public TrialPath Path => MainPlace.Path;

    internal TrialPlace MainPlace { get; } = TrialPlace.Of(obstacles.Name, obstacles, settings.Path);

    internal ImmutableArray<TrialPlace> Nuisances { get; } = settings.NuisanceWalksPerOuting == 0
        ? []
        : [.. NuisancePlaces.All.Select(s => TrialPlace.Of(s.Name, s, TrialPath.Ahead(NuisancePlaces.LengthMetres)))];

    internal EchoBounds BoundsOf(Transducer transducer) => _bounds.GetOrAdd(transducer, t => new Lazy<EchoBounds>(() => EchoBounds.Of(
        t, new EchoMedium(Air, SoundSpeed), Nuisances.Append(MainPlace).SelectMany(p => p.Hazards).SelectMany(h => h.Parts)))).Value;
}
