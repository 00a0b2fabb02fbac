using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>The main job: everything that one layout on one scenario catches, misses, and why.</summary>
public static class ScenarioStudy
{
    // Shares are steady on these coarser grids; the maps themselves keep the scenario's cells.
    private const double ShareCellMetres = 0.05;
    private const double CurveCellMetres = 0.08;

    // A thin sign post, a bus-stop or guard-rail tube, a lamp column: usual street diameters.
    private static readonly double[] PoleDiametersMetres = [0.025, 0.075, 0.114];

    /// <summary>Runs the study.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="resources">Body tables and parts.</param>
    /// <param name="progress">Told of each stage; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">A wearer or a mount is impossible.</exception>
    public static StudyReport Run(
        Scenario scenario, StudyResources resources, IProgress<StudyProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(resources);
        progress?.Report(new("posing the wearer", 0.02));
        PosedLayout posed = Pose(scenario, scenario.MainWearer, resources.Tables);
        var mapper = new ApproachMapper(posed, scenario.Walk, scenario.Maps);
        var maps = ImmutableArray.CreateBuilder<ApproachMap>();
        for (int i = 0; i < scenario.Probes.Length; i++)
        {
            progress?.Report(new($"approach map, {scenario.Probes[i].Name}", 0.05 + (0.45 * i / scenario.Probes.Length)));
            maps.Add(mapper.Map(scenario.Probes[i], cancellation));
        }

        progress?.Report(new("verdicts", 0.5));
        VerdictBoard board = VerdictBoard.Of(posed, scenario.Walk, scenario.Maps, scenario.Obstacles, scenario.VerdictEngines, cancellation);
        ImmutableArray<ObstacleVerdict> verdicts = board.Verdicts();
        progress?.Report(new("smallest changes", 0.6));
        ImmutableSortedDictionary<string, SmallestChange> changes = Changes(scenario, resources, board, verdicts, maps, cancellation);
        progress?.Report(new("other wearers, tilts, directions, outages", 0.75));
        Probe first = scenario.Probes[0];
        MapSettings curve = scenario.Maps with { CellMetres = CurveCellMetres };
        var wearers = new WearerShare[scenario.Wearers.Length];
        var tilts = new TiltCurve[posed.SensorCount];
        ImmutableArray<MarginSlice> slices = [];
        ImmutableArray<AzimuthShare> azimuths = [];
        ImmutableArray<TurningSector> turning = [];
        ImmutableArray<SensorOutage> outages = [];

        ImmutableArray<ApproachStrip> strips = [];

        // Small studies one beside the other: each alone has stretches that only one processor can work on.
        Action[] studies =
        [
            .. Enumerable.Range(0, wearers.Length).Select<int, Action>(w => () => wearers[w] = ShareOf(scenario, resources, scenario.Wearers[w], posed, maps[0])),
            .. Enumerable.Range(0, tilts.Length).Select<int, Action>(s => () => tilts[s] = TiltStudy.Of(posed, s, first, scenario.Walk, curve, board, maps[0].Shares())),
            () => azimuths = AzimuthStudy.Of(posed, first, scenario.Walk, curve),
            () => slices = SlicesOf(posed, scenario),
            () => strips = [.. PoleDiametersMetres.Select(d => mapper.PoleStrip(d, cancellation))],
            () => turning = TurningStudy.Of(posed, first, scenario.Walk),
            () => outages = OutageStudy.Of(board),
        ];
        Parallel.Invoke(new ParallelOptions { CancellationToken = cancellation }, studies);
        ImmutableArray<BlindZone> zones = [.. maps.SelectMany(m => BlindZoneFinder.Find(m))];
        ImmutableArray<RequirementResult> requirements = [.. scenario.Requirements.Select(r => Check(r, maps))];
        var report = new StudyReport
        {
            Scenario = scenario,
            Air = AirProperties.Of(scenario.Air, scenario.Layout.Sensors[0].Transducer.NominalFrequency, scenario.SoundSpeedModel),
            Posed = posed,
            TimeNeededSeconds = StoppingModel.TimeNeededSeconds(scenario.Walk, scenario.Layout.Firing),
            Maps = maps.ToImmutable(),
            PoleStrips = strips,
            BlindZones = zones,
            Slices = slices,
            Verdicts = verdicts,
            Changes = changes,
            Wearers = [.. wearers],
            TiltCurves = [.. tilts],
            Azimuths = azimuths,
            Turning = turning,
            Outages = outages,
            SelfEchoes = [.. Enumerable.Range(0, posed.SensorCount).Select(s => SelfEchoOf(posed, s))],
            Firing = FiringStudy.Of(posed),
            Requirements = requirements,
            WorstFinding = Findings.Worst(verdicts, maps, zones),
            Assumptions = Findings.Assumptions(scenario, posed),
        };
        progress?.Report(new("done", 1));
        return report;
    }

    /// <summary>Poses the scenario's layout on one of its wearers.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="wearer">The wearer.</param>
    /// <param name="tables">The body tables.</param>
    public static PosedLayout Pose(Scenario scenario, WearerSpec wearer, BodyTables tables)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        Body body = Body.Build(wearer, tables);
        var medium = new EchoMedium(scenario.Air, scenario.SoundSpeedModel);
        return PosedLayout.Prepare(
            body, scenario.Walk.MotionOf(body), scenario.Layout, medium, scenario.Obstacles.Ground, scenario.Walk.StridePhases);
    }

    /// <summary>Checks one requirement against the maps.</summary>
    /// <param name="requirement">The requirement.</param>
    /// <param name="maps">The maps.</param>
    public static RequirementResult Check(Requirement requirement, IEnumerable<ApproachMap> maps)
    {
        ArgumentNullException.ThrowIfNull(requirement);
        ApproachMap map = maps.First(m => m.Probe.Name == requirement.ProbeName);
        BandShare share = map.ShareOf(requirement.Band, requirement.WarningSeconds);
        bool met = share.WarnedFraction >= requirement.ShareFraction - 1e-9;
        string sentence =
            $"{(met ? "Met" : "Not met")}: {share.WarnedFraction:P0} of the {requirement.Band.ToString().ToLowerInvariant()} band is warned at least "
            + $"{requirement.WarningSeconds:0.0#} s ahead for {requirement.ProbeName}; {requirement.ShareFraction:P0} is required.";
        return new RequirementResult(requirement, share.WarnedFraction, met, sentence);
    }

    private static ImmutableSortedDictionary<string, SmallestChange> Changes(
        Scenario scenario, StudyResources resources, VerdictBoard board, ImmutableArray<ObstacleVerdict> verdicts,
        IReadOnlyList<ApproachMap> maps, CancellationToken cancellation)
    {
        if (!verdicts.Any(v => v.IsDanger))
        {
            return ImmutableSortedDictionary<string, SmallestChange>.Empty;
        }

        MapSettings coarse = scenario.Maps with { CellMetres = CurveCellMetres };
        var search = new ChangeSearch(
            board, resources.Parts, [.. board.Layout.Body.AllSites.Select(s => s.Name)],
            [.. scenario.Probes.Select(p => p.Name)], (layout, p) => new ApproachMapper(layout, scenario.Walk, coarse).Shares(scenario.Probes[p]),
            [.. maps.Select(m => m.Shares())]);
        var changes = ImmutableSortedDictionary.CreateBuilder<string, SmallestChange>(StringComparer.Ordinal);
        for (int i = 0; i < verdicts.Length; i++)
        {
            if (verdicts[i].IsDanger && search.Find(i, cancellation) is { } change)
            {
                changes.Add(verdicts[i].Obstacle.Id, change);
            }
        }

        return changes.ToImmutable();
    }

    private static WearerShare ShareOf(Scenario scenario, StudyResources resources, WearerSpec wearer, PosedLayout main, ApproachMap map)
    {
        bool isMain = ReferenceEquals(wearer, scenario.MainWearer);
        PosedLayout posed = isMain ? main : Pose(scenario, wearer, resources.Tables);
        ImmutableArray<BandShare> shares = isMain ? map.Shares() : new ApproachMapper(posed, scenario.Walk, scenario.Maps with { CellMetres = ShareCellMetres }).Shares(scenario.Probes[0]);
        return new WearerShare(wearer.Name, posed.Body.Dimensions.StatureMetres, posed.Body.CrownHeightMetres, scenario.Probes[0].Name, shares);
    }

    private static ImmutableArray<MarginSlice> SlicesOf(PosedLayout posed, Scenario scenario)
    {
        double reach = Math.Min(4, scenario.Maps.HorizonMetres);
        Probe probe = scenario.Probes[0];
        return
        [
            Slicer.Plan(posed, probe, posed.BandMiddleMetres(HeightBand.Head), reach, 0.02),
            Slicer.Plan(posed, probe, posed.BandMiddleMetres(HeightBand.Waist), reach, 0.02),
            Slicer.Side(posed, probe, 0, reach, 0.02),
        ];
    }

    private static SelfEcho SelfEchoOf(PosedLayout posed, int sensor)
    {
        (double range, string limb) = posed.LimbEcho(sensor);
        return new SelfEcho(
            posed.Layout.Sensors[sensor].Name, posed.FloorMarginDecibels(sensor), posed.FloorRangeMetres(sensor),
            posed.FloorPhasesFraction(sensor), range, limb);
    }
}
