using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Coverage;

namespace SonarGeom.Studies;

/// <summary>Everything that the main job finds out about one layout on one scenario.</summary>
public sealed record StudyReport
{
    /// <summary>Gets the scenario.</summary>
    public required Scenario Scenario { get; init; }

    /// <summary>Gets the air and its derived figures, with flags where a formula left its stated range.</summary>
    public required AirProperties Air { get; init; }

    /// <summary>Gets the layout on the first wearer, posed over the stride.</summary>
    public required PosedLayout Posed { get; init; }

    /// <summary>Gets the time needed from first report to contact at walking speed. [s]</summary>
    public required double TimeNeededSeconds { get; init; }

    /// <summary>Gets the approach maps, one for each probe.</summary>
    public required ImmutableArray<ApproachMap> Maps { get; init; }

    /// <summary>Gets the strips of poles that stand over the whole height of the wearer.</summary>
    public required ImmutableArray<ApproachStrip> PoleStrips { get; init; }

    /// <summary>Gets the blind zones of all maps, worst first within each map, maps in the order of <see cref="Maps"/>.</summary>
    public required ImmutableArray<BlindZone> BlindZones { get; init; }

    /// <summary>Gets the plan and side slices.</summary>
    public required ImmutableArray<MarginSlice> Slices { get; init; }

    /// <summary>Gets the verdict on each obstacle, in the order of the set.</summary>
    public required ImmutableArray<ObstacleVerdict> Verdicts { get; init; }

    /// <summary>Gets the smallest change found for an obstacle in danger, by obstacle id; no entry when none was found.</summary>
    public required ImmutableSortedDictionary<string, SmallestChange> Changes { get; init; }

    /// <summary>Gets the shares on every wearer of the scenario.</summary>
    public required ImmutableArray<WearerShare> Wearers { get; init; }

    /// <summary>Gets the tilt curve of each sensor.</summary>
    public required ImmutableArray<TiltCurve> TiltCurves { get; init; }

    /// <summary>Gets the shares by approach direction.</summary>
    public required ImmutableArray<AzimuthShare> Azimuths { get; init; }

    /// <summary>Gets what is heard while turning on the spot.</summary>
    public required ImmutableArray<TurningSector> Turning { get; init; }

    /// <summary>Gets what is left with each sensor dead or covered.</summary>
    public required ImmutableArray<SensorOutage> Outages { get; init; }

    /// <summary>Gets each sensor's floor and limb echoes.</summary>
    public required ImmutableArray<SelfEcho> SelfEchoes { get; init; }

    /// <summary>Gets the firing schedule, and the ghosts and the crosstalk that it allows.</summary>
    public required FiringReading Firing { get; init; }

    /// <summary>Gets the requirements and whether they hold.</summary>
    public required ImmutableArray<RequirementResult> Requirements { get; init; }

    /// <summary>Gets the worst finding in one sentence.</summary>
    public required string WorstFinding { get; init; }

    /// <summary>Gets the assumptions behind the figures, each with its source or marked as assumed.</summary>
    public required ImmutableArray<string> Assumptions { get; init; }

    /// <summary>Gets whether every stated requirement holds.</summary>
    public bool AllRequirementsMet => Requirements.All(r => r.IsMet);
}
