using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Studies;

/// <summary>
/// A wearer among obstacles, as each receiver hears the whole scene after one burst: obstacles, floor and own limbs together.
/// </summary>
public sealed class TraceStage
{
    // Obstacles are labelled "id: part"; these two hold no colon.
    private const string FloorPrefix = "floor of ";
    private const string OwnPrefix = "own ";

    private readonly PosedLayout _layout;
    private readonly ObstacleSet _set;
    private readonly ImmutableArray<Contact> _contacts;
    private readonly ImmutableArray<Screen?> _others;
    private readonly ImmutableArray<BoundingBox> _bounds;

    private TraceStage(PosedLayout layout, ObstacleSet set)
    {
        _layout = layout;
        _set = set;
        var contacts = new Contact[set.Obstacles.Length];
        var others = new Screen?[set.Obstacles.Length];
        Parallel.For(0, contacts.Length, i => (contacts[i], others[i]) = (Contact.Of(layout, set.Obstacles[i]), Screen.OthersThan(set, i)));
        _contacts = ImmutableArray.Create(contacts);
        _others = ImmutableArray.Create(others);
        _bounds = [.. set.Obstacles.Select(o => o.Bounds())];
    }

    /// <summary>Gets the layout on its wearer.</summary>
    public PosedLayout Layout => _layout;

    /// <summary>Gets the obstacles.</summary>
    public ObstacleSet Obstacles => _set;

    /// <summary>Sets the stage.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="obstacles">The obstacles.</param>
    public static TraceStage Of(PosedLayout layout, ObstacleSet obstacles)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(obstacles);
        return new TraceStage(layout, obstacles);
    }

    /// <summary>Returns where the wearer's origin is when an obstacle is a distance ahead of the body. [m]</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="distanceMetres">Distance from the body to the obstacle along the path. [m]</param>
    public double WalkerXMetres(int obstacle, double distanceMetres) => _contacts[obstacle].WalkerXMetres - distanceMetres;

    /// <summary>Returns everything that a sensor may hear from a place on the path, each with a label of its own.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="walkerXMetres">X of the wearer's origin. [m]</param>
    /// <param name="withIntegral">Whether parts that have a surface are computed by surface integral, so that each point of them arrives in
    /// its own time.</param>
    /// <returns>The parts of the obstacles within the listening window, the floor, and the limbs and the cane that the body does not hide.
    /// Obstacles are hidden by the body and by one another as in the verdicts.</returns>
    public ImmutableArray<TraceSource> Sources(int sensor, int phase, double walkerXMetres, bool withIntegral = false)
    {
        SensorAtPose pose = _layout.Sensor(sensor, phase);
        var offset = new Vec3(-walkerXMetres, 0, 0);
        double window = pose.Prepared.WindowRangeMetres;
        var near = new Dictionary<Obstacle, int>(ReferenceEqualityComparer.Instance);
        for (int i = 0; i < _set.Obstacles.Length; i++)
        {
            if (Distance(_bounds[i], pose.MidpointMetres - offset) <= window)
            {
                Obstacle obstacle = _set.Obstacles[i];
                near.Add(obstacle with { PositionMetres = obstacle.PositionMetres + offset }, i);
            }
        }

        ImmutableArray<TraceSource> sources = TraceSources.Of([.. near.Keys], _set.Ground ?? _layout.Ground, o => Occluders(near[o]), o => Leaves(near[o]));
        return
        [
            .. sources.Select(Chosen),
            .. _layout.OwnParts(sensor, phase).Where(p => !p.IsHidden).Select(p => new PartSource($"{OwnPrefix}{p.Name}", p.Part)),
        ];

        IRayScene Occluders(int obstacle) => new JoinedScene(
            _layout.WearerScene(phase), _others[obstacle] is { } screen ? new MovedScene(screen.Scene, offset) : null, pose);

        ImmutableArray<FoliagePart> Leaves(int obstacle) =>
            [.. (_others[obstacle]?.Leaves ?? []).Select(p => (FoliagePart)p.Moved(new RigidTransform(Rotation.Identity, offset)))];

        TraceSource Chosen(TraceSource source) => source switch
        {
            FloorSource floor => floor with { Label = FloorPrefix + floor.Ground.Name, MirrorFreeFraction = _layout.FloorFreeFraction(sensor, phase) },
            PartSource part when withIntegral && PartSurface.Of(part.Part, WavelengthMetres(pose)) is not null => part with { Engine = EchoEngine.SurfaceIntegral },
            _ => source,
        };
    }

    /// <summary>Returns what a sensor hears after one burst.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="walkerXMetres">X of the wearer's origin. [m]</param>
    /// <param name="withIntegral">Whether parts that have a surface are computed by surface integral.</param>
    public LevelTrace Trace(int sensor, int phase, double walkerXMetres, bool withIntegral = false) =>
        LevelTrace.Of(_layout.Sensor(sensor, phase), Sources(sensor, phase, walkerXMetres, withIntegral));

    /// <summary>Returns the obstacles on whose echo no verdict may rest for a sensor, each with the reason.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public ImmutableArray<(string ObstacleId, string Reason)> Withheld(int sensor)
    {
        SensorAtPose pose = _layout.Sensor(sensor, 0);
        double highest = SensorBands.Burst(pose).HighestHertz;
        return
        [
            .. _set.Obstacles.Where(o => o.Shape is not null)
                .SelectMany(o => MeshSurfaces.WithheldFor(o.Shape!, highest, WavelengthMetres(pose)).Select(reason => (o.Id, reason))),
        ];
    }

    /// <summary>Returns what a device reports of a trace; null when nothing crosses the threshold.</summary>
    /// <param name="trace">The trace.</param>
    /// <param name="device">What the device assumes.</param>
    public static TraceReading? Reading(LevelTrace trace, DeviceSettings device)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(device);
        if (trace.FirstCrossingMetres is not { } crossing || trace.FirstCrossingLabel is not { } label)
        {
            return null;
        }

        TraceKind kind = KindOf(label);
        double reported = trace.ReportedRangeMetres(device.AssumedMicrosecondsPerCentimetre)!.Value;
        double? range = kind == TraceKind.Floor ? null : trace.Contributions.First(c => c.Label == label).RangeMetres;
        return new TraceReading(label, kind, crossing, reported, range);
    }

    /// <summary>Returns what a label of a trace of this stage stands for.</summary>
    /// <param name="label">The label.</param>
    public static TraceKind KindOf(string label)
    {
        ArgumentNullException.ThrowIfNull(label);
        return label.Contains(": ", StringComparison.Ordinal) ? TraceKind.Obstacle
            : label.StartsWith(FloorPrefix, StringComparison.Ordinal) ? TraceKind.Floor
            : label.StartsWith(OwnPrefix, StringComparison.Ordinal) ? TraceKind.Own
            : TraceKind.Obstacle;
    }

    private static double WavelengthMetres(SensorAtPose pose) =>
        pose.Prepared.Medium.SoundSpeedMetresPerSecond / SensorBands.Burst(pose).HighestHertz;

    private static double Distance(in BoundingBox box, Vec3 from)
    {
        double x = Math.Max(0, Math.Max(box.LowMetres.X - from.X, from.X - box.HighMetres.X));
        double y = Math.Max(0, Math.Max(box.LowMetres.Y - from.Y, from.Y - box.HighMetres.Y));
        double z = Math.Max(0, Math.Max(box.LowMetres.Z - from.Z, from.Z - box.HighMetres.Z));
        return Math.Sqrt((x * x) + (y * y) + (z * z));
    }
}
