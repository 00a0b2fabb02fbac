using System.Collections.Concurrent;
using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Obstacles;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>Everything that trials start from but the layouts.</summary>
/// <param name="Tables">The body tables.</param>
/// <param name="Wearer">Who walks.</param>
/// <param name="Obstacles">What stands in the way.</param>
/// <param name="Walk">How the wearer walks, reacts and stops.</param>
/// <param name="Air">The air on an average day.</param>
/// <param name="SoundSpeed">The formula for the speed of sound.</param>
/// <param name="AssumedMicrosecondsPerCentimetre">The round trip that the device takes for a centimetre of range. [µs/cm]</param>
/// <param name="Settings">How many walks, and what differs between them.</param>
public sealed record TrialCourse(
    BodyTables Tables,
    WearerSpec Wearer,
    ObstacleSet Obstacles,
    WalkSettings Walk,
    AirState Air,
    SoundSpeedModel SoundSpeed,
    double AssumedMicrosecondsPerCentimetre,
    TrialSettings Settings)
{
    /// <summary>Gets the line that is walked.</summary>
    public TrialPath Path => MainPlace.Path;

    internal TrialPlace MainPlace { get; } = TrialPlace.Of(Obstacles.Name, Obstacles, Settings.Path);

    internal ImmutableArray<TrialPlace> Nuisances { get; } = Settings.NuisanceWalksPerOuting == 0
        ? []
        : [.. NuisancePlaces.All.Select(s => TrialPlace.Of(s.Name, s, TrialPath.Ahead(NuisancePlaces.LengthMetres)))];

    // One for each transducer, shared by all outings: what a part can answer at most does not hinge on the day.
    private readonly ConcurrentDictionary<Transducer, Lazy<EchoBounds>> _bounds = new(ReferenceEqualityComparer.Instance);

    internal EchoBounds BoundsOf(Transducer transducer) => _bounds.GetOrAdd(transducer, t => new Lazy<EchoBounds>(() => EchoBounds.Of(
        t, new EchoMedium(Air, SoundSpeed), Nuisances.Append(MainPlace).SelectMany(p => p.Hazards).SelectMany(h => h.Parts)))).Value;
}
