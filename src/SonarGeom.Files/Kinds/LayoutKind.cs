using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Shapes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>How layouts are written.</summary>
internal static class LayoutKind
{
    /// <summary>The most sensors one layout may have.</summary>
    internal const int MostSensors = 32;

    private const string CycleName = "cycle_ms";
    private const string GroupsName = "groups";

    // A median wearer with a cane has every site; who wears what in earnest is checked with the scenario.
    private static readonly WearerSpec Anyone = new() { CaneSide = BodySide.Right };

    private static readonly ObjectShape<MountTolerance> Tolerance = new("mount_tolerance", "How far a mount may be off when worn, each both ways.", m =>
    {
        NumberShape degrees = new(0, 45);
        Member<double> tilt = m.Optional("tilt_deg", degrees, 0, "Of the tilt. [°]");
        Member<double> azimuth = m.Optional("azimuth_deg", degrees, 0, "Of the azimuth. [°]");
        Member<double> roll = m.Optional("roll_deg", degrees, 0, "Of the roll. [°]");
        Member<double> position = m.Optional("position_m", new NumberShape(0, 0.2), 0, "Of the position, in any direction. [m]");
        return v => new MountTolerance(Angle.FromDegrees(tilt.From(v)), Angle.FromDegrees(azimuth.From(v)), Angle.FromDegrees(roll.From(v)), position.From(v));
    });

    private static readonly ObjectShape<MountSway?> Sway = new("mount_sway", "How a sensor on a garment or a lanyard swings about its place while its wearer walks.", m =>
    {
        NumberShape degrees = new(0, 45);
        Member<double> tilt = m.Optional("tilt_deg", degrees, 0, "How far it nods each way, twice in a stride. [°]");
        Member<double> azimuth = m.Optional("azimuth_deg", degrees, 0, "How far it turns each way, once in a stride. [°]");
        Member<double> lag = m.Optional("lag_percent", new NumberShape(0, 100), 0, "By how much of a stride it lags behind the left heel strike; trials draw it. [%]");
        return v => new MountSway(Angle.FromDegrees(tilt.From(v)), Angle.FromDegrees(azimuth.From(v)), lag.From(v) / 100);
    });

    private static readonly ObjectShape<Mount> MountShape = new("mount", "Where a sensor is worn and where it looks, with the wearer upright in the neutral pose.", m =>
    {
        Member<string> site = m.Required("site", new TextShape(60), "The mounting site, such as brow, chest left or belt front.");
        Member<Vec3> offset = m.Optional("offset_m", new Vec3Shape(-0.5, 0.5), Vec3.Zero, null, "From the site to the middle of the sensor: ahead, left, up. [m]");
        Member<double> azimuth = m.Optional("azimuth_deg", new NumberShape(-180, 180), 0, "The boresight against straight ahead, positive left. [°]");
        Member<double> tilt = m.Optional("tilt_deg", new NumberShape(-90, 90), 0, "The boresight against the horizontal, positive up; applied after the azimuth. [°]");
        Member<double> roll = m.Optional("roll_deg", new NumberShape(-180, 180), 0, "The right-handed turn about the boresight; applied last. [°]");
        Member<MountTolerance> tolerance = m.Optional("tolerance", Tolerance, MountTolerance.None, null, "How far all this may be off when worn.");
        Member<MountSway?> sway = m.Optional("sway", Sway, null, null, "How it swings while the wearer walks. Without it the mount is firm on the body.");
        return v =>
        {
            Mount mount = new(
                site.From(v),
                offset.From(v),
                Angle.FromDegrees(azimuth.From(v)),
                Angle.FromDegrees(tilt.From(v)),
                Angle.FromDegrees(roll.From(v)),
                tolerance.From(v))
            {
                Sway = sway.From(v),
            };
            if (v.Reading.ChecksBodies && v.Reading.BodyOf(Anyone, out _) is { } body)
            {
                CheckSite(v, site, mount, body);
            }

            return mount;
        };
    });

    private static readonly ObjectShape<SensorPlacement> Sensor = new("sensor", "One sensor of the layout.", m =>
    {
        Member<string> name = m.Required("name", new TextShape(40), "The name under which results are told.");
        Member<TransducerFile> transducer = m.Required("transducer", TransducerKind.Kind.Reference, "What it sends and listens with: a name of the catalogue, a path, or the transducer itself.");
        Member<Mount> mount = m.Required("mount", MountShape, "Where it is worn and where it looks.");
        Member<AnnouncedSide> announces = m.Required("announces", ChoiceShape.OfEnum<AnnouncedSide>(), "The side that its alert announces.");
        return v => new SensorPlacement(name.From(v), transducer.From(v).Transducer, mount.From(v), announces.From(v));
    });

    private static readonly ObjectShape<FiringPlan> Firing = new("firing", "When the sensors fire and how many hits make an alert.", m =>
    {
        Member<double> cycle = m.Required(CycleName, new NumberShape(1, 5000), "The time in which every sensor fires once: at least the listening windows of the groups one after the other. [ms]");
        Member<int> hits = m.Optional("required_hits", new WholeNumberShape(1, 32), 2, "The hits needed among the last pings of a sensor.");
        Member<int> window = m.Optional("window_pings", new WholeNumberShape(1, 32), 3, "The number of last pings looked at.");
        Member<ImmutableArray<ImmutableArray<string>>> groups = m.Optional(
            GroupsName, new ListShape<ImmutableArray<string>>(new ListShape<string>(new TextShape(40), 1, MostSensors), 1, MostSensors), [], null,
            "The firing order: lists of names of sensors that fire together, every sensor in exactly one of them. Without it each fires alone, in the order of the sensors.");
        Member<double> jitter = m.Optional(
            "jitter_ms", new NumberShape(0, 1000 * FiringPlan.MostJitterSeconds), 0, "The most by which a cycle is lengthened, drawn anew for each. [ms]");
        Member<bool> overlap = m.Optional(
            "overlap", new FlagShape(), false, "Whether a group may fire while sensors of the group before still listen; the crosstalk is then computed and told.");
        Member<double> latency = m.Optional("alert_latency_ms", new NumberShape(0, 2000), 100, "The time from the deciding ping to an alert that can be felt or heard. [ms]");
        return v =>
        {
            if (hits.From(v) > window.From(v))
            {
                v.Fault(hits, $"required_hits is {hits.From(v)}; it must be at most window_pings, which is {window.From(v)}.");
                return new FiringPlan(cycle.From(v) / 1000, 1, 1, 0);
            }

            return new FiringPlan(cycle.From(v) / 1000, hits.From(v), window.From(v), latency.From(v) / 1000)
            {
                Groups = groups.From(v),
                JitterSeconds = jitter.From(v) / 1000,
                Overlaps = overlap.From(v),
            };
        };
    });

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<SensorLayout> Kind { get; } = new(
        "layout",
        "layouts",
        "A named set of sensors worn on one body.",
        m =>
        {
            Member<string> name = m.Required("name", new TextShape(60), "The name under which results are told.");
            Member<string> description = m.Optional("description", new TextShape(1000, mayBeEmpty: true), string.Empty, "What it is meant for.");
            Member<ImmutableArray<SensorPlacement>> sensors = m.Required("sensors", new ListShape<SensorPlacement>(Sensor, 1, MostSensors), "The sensors.");
            Member<FiringPlan> firing = m.Required("firing", Firing, "When the sensors fire and how many hits make an alert.");
            Member<AlertPlan?> alerts = m.Optional("alerts", AlertShapes.Plan, null, null, "Which reports become which alerts. Without it every report alerts to the side that its sensor announces.");
            return v =>
            {
                var layout = new SensorLayout(name.From(v), description.From(v), sensors.From(v), firing.From(v));
                CheckFiring(v, v.PlaceOf(firing), layout);
                return alerts.From(v) is { } plan && AlertShapes.AreOf(plan, layout, v) ? layout with { Alerts = plan } : layout;
            };
        });

    private static void CheckFiring(MemberValues v, PlacedValue firing, SensorLayout layout)
    {
        string[] known = [.. layout.Sensors.Select(s => s.Name)];
        string[] named = [.. layout.Firing.Groups.SelectMany(g => g)];
        if (named.Length > 0 && firing.Member(GroupsName) is { } groups)
        {
            if (named.FirstOrDefault(n => !known.Contains(n)) is { } unknown)
            {
                v.Reading.Fault(groups, $"{GroupsName} names \"{PlacedValue.Short(unknown)}\", which is no sensor of the layout; {Faults.NearestName.Advice(unknown, known)}");
                return;
            }

            if (named.GroupBy(n => n).FirstOrDefault(g => g.Count() > 1)?.Key is { } twice)
            {
                v.Reading.Fault(groups, $"{GroupsName} names {twice} twice; every sensor must be in exactly one group.");
                return;
            }

            if (known.FirstOrDefault(n => !named.Contains(n)) is { } missing)
            {
                v.Reading.Fault(groups, $"{GroupsName} does not name {missing}; every sensor must be in exactly one group.");
                return;
            }
        }

        if (layout.HasTimeToListen)
        {
            return;
        }

        string given = Milliseconds(layout.Firing.CycleSeconds), least = Milliseconds(layout.ShortestCycleSeconds);
        string windows = string.Join(" + ", layout.FiringGroups.Select(g => Milliseconds(layout.GroupWindowSeconds(g))));
        v.Reading.Fault(
            firing.Member(CycleName) ?? firing,
            layout.Firing.Overlaps || layout.Sensors.Length == 1
                ? $"{CycleName} is {given}; it must be at least {least}, the longest listening window: a sensor cannot fire again while it still listens."
                : $"{CycleName} is {given}; it must be at least {least}, the listening windows one after the other ({windows} ms), "
                    + $"unless {GroupsName} lets sensors fire together or overlap is true.");
    }

    private static string Milliseconds(double seconds) => NumberShape.Digits(Math.Round(seconds * 1000, 6));

    private static void CheckSite(MemberValues v, Member site, Mount mount, Body body)
    {
        string[] known = [.. body.AllSites.Select(s => s.Name)];
        if (!known.Contains(mount.Site.Trim().Replace('-', ' ').Replace('_', ' ').ToLowerInvariant(), StringComparer.Ordinal))
        {
            v.Fault(site, $"site is \"{PlacedValue.Short(mount.Site)}\", which the body does not have; {Faults.NearestName.Advice(mount.Site, known)}");
            return;
        }

        try
        {
            Mounter.SegmentFromSensor(body, mount);
        }
        catch (ArgumentException e)
        {
            v.Fault($"mount cannot be used: {Sentences.Of(e)}");
        }
    }
}
