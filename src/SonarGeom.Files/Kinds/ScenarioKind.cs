using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Shapes;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Studies;
using SonarGeom.Walks;

namespace SonarGeom.Files.Kinds;

/// <summary>How scenarios are written.</summary>
internal static class ScenarioKind
{
    private static readonly ObjectShape<DeviceSettings> Device = new("device", "What the device takes for granted.", m =>
    {
        Member<double> assumed = m.Optional(
            "assumed_us_per_cm", new NumberShape(45, 75), DeviceSettings.UsualMicrosecondsPerCentimetre, "The round-trip time that the device assumes for a centimetre of range. [µs/cm]");
        return v => new DeviceSettings(assumed.From(v));
    });

    private static readonly ObjectShape<WalkSettings> Walk = new("walk", "How the wearer walks, reacts and stops, and how the stride is sampled.", m =>
    {
        WalkSettings usual = new();
        Member<double> speed = m.Optional("speed_m_s", new NumberShape(0.1, 3), usual.SpeedMetresPerSecond, "The walking speed. [m/s]");
        Member<double> reaction = m.Optional("reaction_s", new NumberShape(0, 5), usual.ReactionSeconds, "The time from alert to the start of braking. [s]");
        Member<double> deceleration = m.Optional("deceleration_m_s2", new NumberShape(0.1, 10), usual.DecelerationMetresPerSecondSquared, "The deceleration while stopping. [m/s²]");
        Member<int> phases = m.Optional("stride_phases", new WholeNumberShape(2, 64), usual.StridePhases, "The number of moments of a stride that are looked at; even, so that both steps are treated alike.");
        Member<HoldRule> hold = m.Optional("hold_to", ChoiceShape.OfEnum<HoldRule>(), usual.Hold, "How near the reports must hold without a break for a first report to count.");
        Member<double> share = m.Optional("reliable_share_percent", new NumberShape(1, 100), usual.ReliableShare * 100, "The share of stride moments in which a hazard must be reported. [%]");
        Member<WalkMotion> motion = m.Optional("motion", ChoiceShape.OfEnum<WalkMotion>(), usual.Motion, "How the body moves: a standing body that sways, or joints by published curves.");
        Member<CaneTechnique> cane = m.Optional("cane_technique", ChoiceShape.OfEnum<CaneTechnique>(), usual.CaneTechnique, "How a cane is swept; needs the motion gait to make a difference.");
        return v =>
        {
            if (cane.From(v) != usual.CaneTechnique && motion.From(v) != WalkMotion.Gait)
            {
                v.Fault(cane, "cane_technique makes a difference only with the motion gait; a swaying body keeps the tip on the ground.");
            }

            if (phases.From(v) % 2 != 0)
            {
                v.Fault(phases, $"stride_phases is {phases.From(v)}; it must be an even number from 2 to 64.");
            }

            return new WalkSettings(speed.From(v), reaction.From(v), deceleration.From(v), phases.From(v), hold.From(v), share.From(v) / 100)
            {
                Motion = motion.From(v),
                CaneTechnique = cane.From(v),
            };
        };
    });

    private static readonly ObjectShape<(MapSettings Grid, ImmutableArray<Probe> Probes)> Maps = new("maps", "The grid and the probes of the approach maps.", m =>
    {
        MapSettings usual = new();
        Member<double> cell = m.Optional("cell_m", new NumberShape(0.005, 0.2), usual.CellMetres, "The edge of a cell. [m]");
        Member<double> margin = m.Optional("margin_m", new NumberShape(0, 1), usual.MarginMetres, "The border around the swept silhouette. [m]");
        Member<double> horizon = m.Optional("horizon_m", new NumberShape(0.5, 20), usual.HorizonMetres, "The farthest distance ahead that is searched for a first report. [m]");
        Member<double> step = m.Optional("distance_step_m", new NumberShape(0.005, 0.5), usual.DistanceStepMetres, "The largest step of that search before it is refined; nearer than 0.9 m the steps grow finer, to a tenth of it. [m]");
        Member<ImmutableArray<Probe>> probes = m.Optional(
            "probes", new ListShape<Probe>(ProbeKind.Kind.Reference, 1, 20), [.. Probe.Defaults], null, "The probes: names of the catalogue, paths, or the probes themselves.");
        return v =>
        {
            RefuseTwice(v, probes, probes.From(v).Select(p => p.Name), "probe");
            return (new MapSettings(cell.From(v), margin.From(v), horizon.From(v), step.From(v)), probes.From(v));
        };
    });

    private static readonly ObjectShape<Requirement> Demand = new("requirement", "A demand on the approach maps; the run says whether it holds.", m =>
    {
        Member<string> text = m.Required("text", new TextShape(300), "The demand in words.");
        Member<HeightBand> band = m.Required("band", ChoiceShape.OfEnum<HeightBand>(), "The band of body height.");
        Member<string> probe = m.Required("probe", new TextShape(40), "The name of one of the probes of the maps.");
        Member<double> warning = m.Required("warning_s", new NumberShape(0, 60), "The least warning time. [s]");
        Member<double> share = m.Optional("share_percent", new NumberShape(0, 100, aboveLeast: true), 100, "The least share of the band's cells. [%]");
        return v => new Requirement(text.From(v), band.From(v), probe.From(v), warning.From(v), share.From(v) / 100);
    });

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<Scenario> Kind { get; } = new(
        "scenario",
        "scenarios",
        "Everything that a study starts from: the air, who wears which sensors, what stands in the way, and what is asked.",
        Describe);

    private static Func<MemberValues, Scenario> Describe(MemberSet m)
    {
        Member<string> name = m.Required("name", new TextShape(80), "The name under which results are told.");
        Member<string> description = m.Optional("description", new TextShape(2000, mayBeEmpty: true), string.Empty, "What it stands for.");
        Member<(AirState State, SoundSpeedModel Model)> air = m.Optional(
            "air", AirShapes.StateAndModel, (AirState.Standard, SoundSpeedModel.Humid), null, "The air; 20 °C, 50 % and 101 325 Pa when left out.");
        Member<DeviceSettings> device = m.Optional("device", Device, new DeviceSettings(), null, "What the device takes for granted.");
        Member<ImmutableArray<WearerSpec>> wearers = m.Required("wearers", new ListShape<WearerSpec>(WearerKind.Kind.Reference, 1, 50), "The wearers, the main one first: names of the catalogue, paths, or the wearers themselves.");
        Member<SensorLayout> layout = m.Required("layout", LayoutKind.Kind.Reference, "The layout: a name of the catalogue, a path, or the layout itself.");
        Member<ImmutableArray<SensorLayout>> compare = m.Optional(
            "compare_layouts", new ListShape<SensorLayout>(LayoutKind.Kind.Reference, 0, 20), [], null, "The layouts with which it is compared.");
        Member<ImmutableArray<Obstacle>> obstacles = m.Required("obstacles", new ObstacleListShape(), "What stands in the way: a set of the catalogue, the path of a table (CSV), or a list.");
        Member<Ground?> ground = m.Optional("ground", GroundShapes.Ground, Ground.Paving, "paving", "The ground: a preset, its figures, or none.");
        Member<WalkSettings> walk = m.Optional("walk", Walk, new WalkSettings(), null, "How the wearer walks, reacts and stops.");
        Member<(MapSettings Grid, ImmutableArray<Probe> Probes)> maps = m.Optional("maps", Maps, (new MapSettings(), [.. Probe.Defaults]), null, "The grid and the probes of the approach maps.");
        Member<EngineRequests> verdicts = m.Optional("verdicts", EngineShapes.Verdicts, EngineRequest.Suitable, null, "How verdicts on obstacles are reached.");
        Member<ImmutableArray<Requirement>> requirements = m.Optional(
            "requirements", new ListShape<Requirement>(Demand, 0, 100), [], null, "Demands on the approach maps.");
        return v =>
        {
            RefuseTwice(v, wearers, wearers.From(v).Select(w => w.Name), "wearer");
            EngineShapes.Check(v, verdicts, obstacles.From(v));
            RefuseTwice(v, compare, [layout.From(v).Name, .. compare.From(v).Select(l => l.Name)], "layout");
            CheckProbes(v, requirements, maps.From(v).Probes);
            CheckHorizon(v, maps, maps.From(v).Grid, walk.From(v), [layout.From(v), .. compare.From(v)]);
            CheckWorn(v, v.PlaceOf(layout), layout.From(v), wearers.From(v));
            for (int i = 0; i < compare.From(v).Length; i++)
            {
                CheckWorn(v, v.PlaceOf(compare).Items[i], compare.From(v)[i], wearers.From(v));
            }

            string obstacleName = v.Has(obstacles) && v.PlaceOf(obstacles) is { Kind: System.Text.Json.JsonValueKind.String } place
                ? System.IO.Path.GetFileNameWithoutExtension(place.Text.Replace('\\', '/'))
                : "obstacles";
            return new Scenario(
                name.From(v),
                description.From(v),
                wearers.From(v),
                layout.From(v),
                new ObstacleSet(obstacleName, string.Empty, ground.From(v), obstacles.From(v)),
                maps.From(v).Probes,
                [.. requirements.From(v).Where(r => maps.From(v).Probes.Any(p => p.Name == r.ProbeName))])
            {
                Air = air.From(v).State,
                SoundSpeedModel = air.From(v).Model,
                Device = device.From(v),
                CompareLayouts = compare.From(v),
                Walk = walk.From(v),
                Maps = maps.From(v).Grid,
                VerdictEngines = verdicts.From(v),
            };
        };
    }

    // Who looks less far ahead than the wearer needs to stop would take every hazard for missed, or for warned of by a hair.
    private static void CheckHorizon(MemberValues v, Member maps, MapSettings grid, WalkSettings walk, IEnumerable<SensorLayout> layouts)
    {
        double need = layouts.Max(l => walk.SpeedMetresPerSecond * StoppingModel.TimeNeededSeconds(walk, l.Firing));
        if (grid.HorizonMetres < need)
        {
            PlacedValue place = v.PlaceOf(maps);
            v.Reading.Fault(
                place.Member("horizon_m") ?? place,
                FormattableString.Invariant($"horizon_m is {grid.HorizonMetres:0.##}; it must be at least {Math.Ceiling(need * 100) / 100:0.00}, the distance at which a wearer at {walk.SpeedMetresPerSecond:0.0##} m/s must already be warned."));
        }
    }

    private static void CheckWorn(MemberValues v, PlacedValue place, SensorLayout layout, ImmutableArray<WearerSpec> wearers)
    {
        if (!v.Reading.ChecksBodies)
        {
            return;
        }

        foreach (WearerSpec wearer in wearers)
        {
            foreach (SensorPlacement sensor in layout.Sensors)
            {
                try
                {
                    if (v.Reading.BodyOf(wearer, out _) is { } body)
                    {
                        Mounter.SegmentFromSensor(body, sensor.Mount);
                    }
                }
                catch (ArgumentException e)
                {
                    v.Reading.Fault(place, $"{place.Name}: {layout.Name} cannot be worn by {wearer.Name}: {Sentences.Of(e)}");
                }
            }
        }
    }

    private static void CheckProbes(MemberValues v, Member<ImmutableArray<Requirement>> requirements, ImmutableArray<Probe> probes)
    {
        if (!requirements.IsGivenIn(v))
        {
            return;
        }

        string[] known = [.. probes.Select(p => p.Name)];
        ImmutableArray<Requirement> all = requirements.From(v);
        for (int i = 0; i < all.Length; i++)
        {
            if (!known.Contains(all[i].ProbeName, StringComparer.Ordinal))
            {
                PlacedValue place = v.PlaceOf(requirements).Items[i];
                v.Reading.Fault(place.Member("probe") ?? place, $"probe is \"{PlacedValue.Short(all[i].ProbeName)}\", which the maps do not have; {Faults.NearestName.Advice(all[i].ProbeName, known)}");
            }
        }
    }

    private static void RefuseTwice(MemberValues v, Member member, IEnumerable<string> names, string what)
    {
        foreach (IGrouping<string, string> twice in names.GroupBy(n => n, StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            v.Fault(member, $"{member.Name} has more than one {what} named {twice.Key}; names must differ.");
        }
    }
}
