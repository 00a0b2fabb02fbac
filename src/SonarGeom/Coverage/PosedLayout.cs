using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>
/// A layout on one wearer at every sampled stride phase: where each sensor is, what the body hides from it, and from which
/// range on its own floor or limb echo comes first. Immutable; replacing one sensor shares all the rest.
/// </summary>
public sealed partial class PosedLayout
{
    private readonly PosedSensor[] _sensors;
    private readonly WearerAtPhases _wearer;
    private readonly PreparedParts _parts;
    private readonly Quantities.Angle _turn;

    private PosedLayout(WearerAtPhases wearer, SensorLayout layout, PreparedParts parts, Ground? ground, PosedSensor[] sensors, Quantities.Angle turn = default)
    {
        _turn = turn;
        _wearer = wearer;
        _parts = parts;
        Layout = layout;
        Ground = ground;
        _sensors = sensors;
    }

    /// <summary>Gets the layout.</summary>
    public SensorLayout Layout { get; }

    /// <summary>Gets the air.</summary>
    public EchoMedium Medium => _parts.Medium;

    /// <summary>Gets the ground under the wearer; null for none: nothing comes back from below, and feet make no corners.</summary>
    public Ground? Ground { get; }

    /// <summary>Gets the wearer.</summary>
    public Body Body => _wearer.Body;

    /// <summary>Gets the wearer at each stride phase.</summary>
    public ImmutableArray<PosedBody> Poses => _wearer.Poses;

    /// <summary>Gets the swept silhouette.</summary>
    public Silhouette Silhouette => _wearer.Silhouette;

    /// <summary>Gets the notes of the walking motion.</summary>
    public ImmutableArray<string> MotionNotes => _wearer.Notes;

    /// <summary>Gets the number of sensors.</summary>
    public int SensorCount => _sensors.Length;

    /// <summary>Gets the number of stride phases.</summary>
    public int PhaseCount => _wearer.Poses.Length;

    /// <summary>Gets the height of the head band's top edge. [m]</summary>
    public double TopMetres => Body.Bands.Head.TopMetres;

    /// <summary>Gets the largest distance of the swept silhouette from the middle plane. [m]</summary>
    public double HalfWidthMetres => Math.Max(Silhouette.LeftMetres, -Silhouette.RightMetres);

    /// <summary>Poses a layout on a walking wearer.</summary>
    /// <param name="body">The wearer.</param>
    /// <param name="motion">How the wearer walks.</param>
    /// <param name="layout">The layout.</param>
    /// <param name="medium">The air.</param>
    /// <param name="ground">The ground, or null for none.</param>
    /// <param name="phases">Number of stride phases, even, from 2 to 64.</param>
    /// <exception cref="ArgumentException">A mount names no site of this wearer, or its sensor would sit inside the body.</exception>
    public static PosedLayout Prepare(Body body, IWalkingMotion motion, SensorLayout layout, EchoMedium medium, Ground? ground, int phases)
    {
        ArgumentNullException.ThrowIfNull(layout);
        if (phases is < 2 or > 64 || phases % 2 != 0)
        {
            throw new ArgumentOutOfRangeException(nameof(phases), $"The number of stride phases is {phases}; it must be even and from 2 to 64.");
        }

        var wearer = WearerAtPhases.Of(body, motion, phases);
        var parts = new PreparedParts(medium);
        wearer.MakeScenes();
        var sensors = new PosedSensor[layout.Sensors.Length];
        Parallel.For(0, sensors.Length, s => sensors[s] = PosedSensor.Of(wearer, layout.Sensors[s], parts, ground));
        return new PosedLayout(wearer, layout, parts, ground, sensors);
    }

    /// <summary>Returns the same wearer with another layout.</summary>
    /// <param name="layout">The other layout.</param>
    public PosedLayout WithLayout(SensorLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        var sensors = new PosedSensor[layout.Sensors.Length];
        Parallel.For(0, sensors.Length, s => sensors[s] = PosedSensor.Of(_wearer, layout.Sensors[s], _parts, Ground));
        return new PosedLayout(_wearer, layout, _parts, Ground, sensors, _turn);
    }

    /// <summary>Returns the layout with one sensor replaced.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="placement">What takes its place.</param>
    public PosedLayout WithSensor(int sensor, SensorPlacement placement)
    {
        PosedSensor[] sensors = [.. _sensors];
        Mount before = Layout.Sensors[sensor].Mount;
        bool stays = before.Site == placement.Mount.Site && before.OffsetMetres == placement.Mount.OffsetMetres;
        sensors[sensor] = PosedSensor.Of(_wearer, placement, _parts, Ground, stays ? _sensors[sensor] : null);
        return new PosedLayout(
            _wearer, Layout.WithSensors(Layout.Sensors.SetItem(sensor, placement)), _parts, Ground, sensors, _turn);
    }

    /// <summary>Returns where a sensor would be at every stride phase, and nothing else of it.</summary>
    /// <param name="placement">The sensor and its mount.</param>
    /// <exception cref="ArgumentException">The mount is impossible.</exception>
    public ImmutableArray<SensorAtPose> BarePoses(SensorPlacement placement)
    {
        ArgumentNullException.ThrowIfNull(placement);
        PreparedTransducer prepared = _parts.Of(placement.Transducer);
        SegmentId segment = Body.Site(placement.Mount.Site).Segment;
        RigidTransform segmentFromSensor = Mounter.SegmentFromSensor(Body, placement.Mount);
        return
        [
            .. Poses.Select((p, i) => new SensorAtPose(
                prepared, p.WorldFromSegment(segment) * Mounter.Swayed(segmentFromSensor, placement.Mount, (double)i / PhaseCount))),
        ];
    }

    /// <summary>Puts a sensor on this wearer beside the layout.</summary>
    internal PosedSensor Pose(SensorPlacement placement) => PosedSensor.Of(_wearer, placement, _parts, Ground);

    /// <summary>Returns the layout with one sensor only.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public PosedLayout Only(int sensor) =>
        new(_wearer, Layout.WithSensors([Layout.Sensors[sensor]]), _parts, Ground, [_sensors[sensor]], _turn);

    /// <summary>Returns the layout and its wearer turned about the upright axis, so that the path comes from another side.</summary>
    /// <param name="yaw">The turn, positive left.</param>
    public PosedLayout TurnedBy(Quantities.Angle yaw)
    {
        PosedSensor[] sensors = [.. _sensors.Select(s => s.TurnedBy(yaw))];
        return new PosedLayout(_wearer.TurnedBy(yaw), Layout, _parts, Ground, sensors, _turn + yaw);
    }

    /// <summary>Returns the grid of the approach maps: the swept silhouette with a margin, symmetric about the middle line.</summary>
    /// <param name="settings">Cell and margin.</param>
    public CoverageGrid GridFor(MapSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return CoverageGrid.Covering(
            settings.CellMetres, HalfWidthMetres + settings.MarginMetres, Math.Max(TopMetres, Silhouette.TopMetres + settings.MarginMetres));
    }

    /// <summary>Returns the height band of a height; heights above the head band count as head.</summary>
    /// <param name="zMetres">Height. [m]</param>
    public HeightBand BandAt(double zMetres) =>
        zMetres >= Body.Bands.Head.BottomMetres ? HeightBand.Head
        : zMetres >= Body.Bands.Chest.BottomMetres ? HeightBand.Chest
        : zMetres >= Body.Bands.Waist.BottomMetres ? HeightBand.Waist
        : zMetres >= Body.Bands.Knee.BottomMetres ? HeightBand.Knee
        : HeightBand.Foot;

    /// <summary>Returns the lower edge of a height band. [m]</summary>
    /// <param name="band">The band.</param>
    public double BandLowMetres(HeightBand band) => band switch
    {
        HeightBand.Head => Body.Bands.Head.BottomMetres,
        HeightBand.Chest => Body.Bands.Chest.BottomMetres,
        HeightBand.Waist => Body.Bands.Waist.BottomMetres,
        HeightBand.Knee => Body.Bands.Knee.BottomMetres,
        _ => 0,
    };

    /// <summary>Returns the upper edge of a height band. [m]</summary>
    /// <param name="band">The band.</param>
    public double BandHighMetres(HeightBand band) => band == HeightBand.Head ? TopMetres : BandLowMetres(band + 1);

    /// <summary>Returns the middle of a height band. [m]</summary>
    /// <param name="band">The band.</param>
    public double BandMiddleMetres(HeightBand band) => 0.5 * (BandLowMetres(band) + BandHighMetres(band));

    /// <summary>Returns how far to the left of where the wearer faces a place lies. [m]</summary>
    /// <param name="xMetres">X from the wearer's origin, along the path. [m]</param>
    /// <param name="yMetres">Y from the path. [m]</param>
    public double LeftwardMetres(double xMetres, double yMetres) => (Math.Cos(_turn.Radians) * yMetres) - (Math.Sin(_turn.Radians) * xMetres);

    /// <summary>Returns a sensor at one stride phase.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    public SensorAtPose Sensor(int sensor, int phase) => _sensors[sensor].Poses[phase];

    /// <summary>Returns the range below which a sensor hears nothing. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double DeadZoneMetres(int sensor) => _sensors[sensor].DeadZoneMetres;

    /// <summary>Returns the shortest range at which a sensor reports the bare floor over the stride; infinite if never. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double FloorRangeMetres(int sensor) => _sensors[sensor].FloorRangeMetres.Min();

    /// <summary>Returns the share of the way straight down from a sensor that the wearer's body leaves free, 0 to 1. [unitless]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    public double FloorFreeFraction(int sensor, int phase) =>
        _sensors[sensor].Shadows[phase].FreeFractionBelow(_sensors[sensor].Poses[phase].MidpointMetres.Z);

    /// <summary>Returns the share of stride phases in which a sensor reports the bare floor. [unitless]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double FloorPhasesFraction(int sensor) => _sensors[sensor].FloorRangeMetres.Average(r => double.IsFinite(r) ? 1.0 : 0.0);

    /// <summary>Returns the largest margin of a sensor's floor echo over the stride. [dB]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double FloorMarginDecibels(int sensor) => _sensors[sensor].FloorMarginDecibels;

    /// <summary>Returns the shortest range at which a sensor reports one of the wearer's limbs, and which; infinite if never. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public (double RangeMetres, string Limb) LimbEcho(int sensor) => _sensors[sensor].NearestLimb;

    /// <summary>Returns the foremost body point that a target of given extents would touch when it comes along the path. [m]</summary>
    /// <param name="yMetres">Y of its middle. [m]</param>
    /// <param name="zMetres">Z of its middle. [m]</param>
    /// <param name="halfWidthMetres">Half its width. [m]</param>
    /// <param name="halfHeightMetres">Half its height. [m]</param>
    public double ForemostXMetres(double yMetres, double zMetres, double halfWidthMetres, double halfHeightMetres) =>
        _wearer.ForemostXMetres(
            yMetres - halfWidthMetres, yMetres + halfWidthMetres, zMetres - halfHeightMetres, zMetres + halfHeightMetres);
}
