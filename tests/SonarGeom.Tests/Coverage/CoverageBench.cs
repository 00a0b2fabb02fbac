using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Bodies;
using SonarGeom.Transducers;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Coverage;

/// <summary>Layouts, probes and maps for tests of coverage: few stride phases, coarse grids.</summary>
internal static class CoverageBench
{
    internal const int Phases = 4;

    internal static readonly WalkSettings Walk = new(StridePhases: Phases, Hold: HoldRule.TimeNeeded);

    internal static readonly MapSettings Coarse = new(CellMetres: 0.10);

    internal static readonly FiringPlan Firing = new(0.24, 2, 3, 0.05);

    private static readonly Lazy<PosedLayout> StandardPosed = new(() => Pose(Standard!));

    /// <summary>A wide open pair with 40 dB between its source and its late threshold, less the build-up of the burst.</summary>
    internal static Transducer WidePair { get; } = new(
        "wide pair", "for tests", Frequency.FromKilohertz(40), new CircularPiston(0.0065), new CircularPiston(0.0065),
        new Vec3(0, 0.013, 0), new Vec3(0, -0.013, 0), 107, new ThresholdProfile([new(0.002, 82), new(0.004, 72), new(0.007, 64), new(0.012, 59), new(0.018, 58)]),
        45, 16, 25, 25, 0.0013, 0.05, new TransducerEvidence("75 mm tube", "made up for a test", 3, "for tests"));

    /// <summary>A brow, a belt and two splayed chest sensors, each announcing its own side.</summary>
    internal static SensorLayout Standard { get; } = Layout(
        Sensor("brow", "brow", 0, 0),
        Sensor("chest-left", "chest left", 20, 10, AnnouncedSide.Left),
        Sensor("chest-right", "chest right", -20, 10, AnnouncedSide.Right),
        Sensor("belt", "belt front", 0, -5));

    /// <summary>The standard layout on the median man, over smooth tile.</summary>
    internal static PosedLayout OnMan => StandardPosed.Value;

    internal static Probe Branch => Probe.Defaults[0];

    internal static Probe Sphere => Probe.Defaults[2];

    internal static SensorPlacement Sensor(
        string name, string site, double azimuthDegrees, double tiltDegrees, AnnouncedSide announces = AnnouncedSide.Ahead,
        Transducer? transducer = null, double rollDegrees = 0, Vec3 offset = default) =>
        new(name, transducer ?? WidePair, new Mount(
            site, offset, Angle.FromDegrees(azimuthDegrees), Angle.FromDegrees(tiltDegrees), Angle.FromDegrees(rollDegrees), MountTolerance.None), announces);

    internal static SensorLayout Layout(params SensorPlacement[] sensors) => new("for tests", string.Empty, [.. sensors], Firing);

    internal static PosedLayout Pose(SensorLayout layout, Body? body = null, Ground? ground = null, int phases = Phases)
    {
        Body wearer = body ?? Wearers.MedianMan;
        return PosedLayout.Prepare(wearer, SwayEnvelope.Of(wearer, Walk.SpeedMetresPerSecond), layout, EchoMedium.Standard, ground ?? Ground.SmoothTile, phases);
    }

    internal static ApproachMap Map(PosedLayout layout, Probe probe, WalkSettings? walk = null, MapSettings? settings = null) =>
        new ApproachMapper(layout, walk ?? Walk, settings ?? Coarse).Map(probe);

    internal static VerdictBoard Board(PosedLayout layout, WalkSettings walk, Ground? ground, params Obstacle[] obstacles) =>
        VerdictBoard.Of(layout, walk, Coarse, new ObstacleSet("for tests", string.Empty, ground, [.. obstacles]));

    internal static VerdictBoard Board(PosedLayout layout, params Obstacle[] obstacles) => Board(layout, Walk, null, obstacles);

    internal static ObstacleVerdict Verdict(PosedLayout layout, Obstacle obstacle) => Board(layout, obstacle).Verdict(0);

    /// <summary>The layout as a mirror along the middle plane shows it; sensors keep their places in the list.</summary>
    internal static SensorLayout Mirrored(SensorLayout layout) => layout.WithSensors([.. layout.Sensors.Select(Mirrored)]);

    internal static SensorPlacement Mirrored(SensorPlacement sensor) => sensor with
    {
        Transducer = sensor.Transducer with
        {
            TransmitterOffsetMetres = sensor.Transducer.TransmitterOffsetMetres.MirroredLeftRight(),
            ReceiverOffsetMetres = sensor.Transducer.ReceiverOffsetMetres.MirroredLeftRight(),
        },
        Mount = sensor.Mount with
        {
            Site = OtherSide(sensor.Mount.Site),
            OffsetMetres = sensor.Mount.OffsetMetres.MirroredLeftRight(),
            Azimuth = -sensor.Mount.Azimuth,
            Roll = -sensor.Mount.Roll,
        },
        Announces = sensor.Announces switch
        {
            AnnouncedSide.Left => AnnouncedSide.Right,
            AnnouncedSide.Right => AnnouncedSide.Left,
            _ => AnnouncedSide.Ahead,
        },
    };

    /// <summary>A map drawn by hand: '.' warned in time, '#' never heard, '~' heard too late, ' ' outside the silhouette; the top line first.</summary>
    internal static ApproachMap Drawn(double cellMetres, IReadOnlyList<string> lines, Func<int, HeightBand>? band = null)
    {
        int rows = lines.Count, columns = lines[0].Length;
        char[] cells = [.. Enumerable.Range(0, rows * columns).Select(i => lines[rows - 1 - (i / columns)][i % columns])];
        return new ApproachMap
        {
            Probe = Branch,
            Grid = new CoverageGrid(cellMetres, -(columns - 1) * 0.5 * cellMetres, 0.5 * cellMetres, columns, rows),
            InSilhouette = [.. cells.Select(c => c != ' ')],
            RowBands = [.. Enumerable.Range(0, rows).Select(r => band?.Invoke(r) ?? HeightBand.Head)],
            WarningSeconds = [.. cells.Select(c => c switch { '.' => 3f, '~' => 1f, _ => 0f })],
            UnbrokenWarningSeconds = [.. cells.Select(c => c switch { '.' => 3f, '~' => 1f, _ => 0f })],
            HeldWarningSeconds = [.. cells.Select(c => c switch { '.' => 3f, '~' => 1f, _ => 0f })],
            Causes = [.. cells.Select(c => c switch { '#' => LimitingCause.OutOfBeam, '~' => LimitingCause.TooLate, _ => LimitingCause.None })],
            FirstSensor = [.. cells.Select(c => (sbyte)(c is '.' or '~' ? 0 : -1))],
            SensorsHearing = [.. cells.Select(c => (byte)(c == '.' ? 1 : 0))],
            SensorNames = ["one"],
            TimeNeededSeconds = 2,
            SpeedMetresPerSecond = 0.8,
            Evaluations = 0,
        };
    }

    private static string OtherSide(string site) =>
        site.EndsWith(" left", StringComparison.Ordinal) ? site[..^4] + "right"
        : site.EndsWith(" right", StringComparison.Ordinal) ? site[..^5] + "left" : site;
}
