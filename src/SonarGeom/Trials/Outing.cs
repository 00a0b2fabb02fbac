using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>One day: a wearer of some posture at some speed in some air, with sensors that sit as they were put on. All of it follows
/// from the seed and the number of the outing, sensors from their names too, so that layouts are compared like with like.</summary>
internal sealed class Outing
{
    private readonly Dictionary<(TrialPlace, int, int, int), Touch> _touches = [];

    private Outing(TrialCourse course, int number, WalkSettings walk, IWalkingMotion motion, ImmutableArray<DayLayout> layouts)
    {
        Course = course;
        Number = number;
        Walk = walk;
        StrideSeconds = motion.StrideSeconds;
        Layouts = layouts;
    }

    internal TrialCourse Course { get; }

    internal int Number { get; }

    internal WalkSettings Walk { get; }

    internal double StrideSeconds { get; }

    internal ImmutableArray<DayLayout> Layouts { get; }

    internal double StepMetres => 0.5 * StrideSeconds * Walk.SpeedMetresPerSecond;

    internal Silhouette Silhouette => Layouts[0].Posed.Silhouette;

    /// <summary>Draws an outing.</summary>
    internal static Outing Of(TrialCourse course, ImmutableArray<SensorLayout> layouts, int number)
    {
        TrialSettings settings = course.Settings;
        var draws = new SeededDraws(settings.Seed, 1, (ulong)number);
        double speed = course.Walk.SpeedMetresPerSecond * (1 + (settings.SpeedSpreadFraction * draws.Bounded()));
        WalkSettings walk = course.Walk with { SpeedMetresPerSecond = Math.Clamp(speed, 0.1, 3) };
        Posture usual = course.Wearer.Posture;
        var posture = new Posture(
            Angle.FromDegrees(Math.Clamp(usual.TrunkFlexion.Degrees + (settings.TrunkSpreadDegrees * draws.Bounded()), 0, 60)),
            Angle.FromDegrees(Math.Clamp(usual.HeadDown.Degrees + (settings.HeadSpreadDegrees * draws.Bounded()), -30, 60)),
            usual.SlumpMetres);
        double celsius = course.Air.Temperature.DegreesCelsius + (settings.TemperatureSpreadKelvins * draws.Bounded());
        AirState air = course.Air with
        {
            Temperature = Temperature.FromDegreesCelsius(Math.Clamp(celsius, AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius)),
            RelativeHumidityPercent = Math.Clamp(course.Air.RelativeHumidityPercent + (settings.HumiditySpreadPercent * draws.Bounded()), 0, 100),
        };
        var body = Body.Build(course.Wearer with { Posture = posture }, course.Tables);
        IWalkingMotion motion = walk.MotionOf(body);
        var medium = new EchoMedium(air, course.SoundSpeed);
        var days = ImmutableArray.CreateBuilder<DayLayout>(layouts.Length);
        PosedLayout? first = null;
        foreach (SensorLayout layout in layouts)
        {
            SensorLayout worn = layout.WithSensors([.. layout.Sensors.Select(s => AsWorn(s, body, settings, number))]);
            PosedLayout posed = first?.WithLayout(worn) ?? PosedLayout.Prepare(body, motion, worn, medium, course.MainPlace.Ground, walk.StridePhases);
            first ??= posed;
            days.Add(DayLayout.Of(posed, course, layout));
        }

        return new Outing(course, number, walk, motion, days.ToImmutable());
    }

    /// <summary>Returns where an obstacle is first touched by a wearer who walks so many cells to the left of the line.</summary>
    internal Touch TouchAt(TrialPlace place, int hazard, int stretch, int shift)
    {
        if (!_touches.TryGetValue((place, hazard, stretch, shift), out Touch touch))
        {
            touch = place.Hazards[hazard].Fronts[stretch].At(Silhouette, shift);
            _touches.Add((place, hazard, stretch, shift), touch);
        }

        return touch;
    }

    // Evenly within the tolerance; sideways and up only, since what carries a sensor keeps it on the body. A place inside the body is
    // drawn back towards where it should be.
    private static SensorPlacement AsWorn(SensorPlacement sensor, Body body, TrialSettings settings, int number)
    {
        var draws = new SeededDraws(settings.Seed, 2, (ulong)number, SeededDraws.KeyOf(sensor.Name));
        MountTolerance t = sensor.Mount.Tolerance;
        double share = settings.MountSpreadFraction;
        var off = new Vec3(0, t.PositionMetres * share * draws.Symmetric(), t.PositionMetres * share * draws.Symmetric());
        Mount turned = sensor.Mount with
        {
            Azimuth = sensor.Mount.Azimuth + (share * draws.Symmetric() * t.Azimuth),
            Tilt = sensor.Mount.Tilt + (share * draws.Symmetric() * t.Tilt),
            Roll = sensor.Mount.Roll + (share * draws.Symmetric() * t.Roll),
        };

        // How a garment falls and a cord hangs is another matter every day: from half of the stated sway to half as much again.
        double swing = 1 + (0.5 * draws.Symmetric()), lag = draws.Uniform();
        if (turned.Sway is { } sway)
        {
            Angle most = Angle.FromDegrees(45);
            turned = turned with { Sway = new MountSway(Least(swing * sway.Tilt, most), Least(swing * sway.Azimuth, most), lag) };
        }

        double part = settings.PartSpreadDecibels * draws.Bounded();
        Transducer transducer = part == 0
            ? sensor.Transducer
            : sensor.Transducer with { SourceLevelDecibels = Math.Clamp(sensor.Transducer.SourceLevelDecibels + part, 0, 180) };
        for (double reach = 1; reach > 0.1; reach *= 0.5)
        {
            Mount mount = turned with { OffsetMetres = sensor.Mount.OffsetMetres + (reach * off) };
            if (CanBeWorn(body, mount))
            {
                return sensor with { Mount = mount, Transducer = transducer };
            }
        }

        return sensor with { Mount = turned, Transducer = transducer };
    }

    private static Angle Least(Angle a, Angle b) => a < b ? a : b;

    private static bool CanBeWorn(Body body, Mount mount)
    {
        try
        {
            Mounter.SegmentFromSensor(body, mount);
            return true;
        }
        catch (ArgumentException)
        {
            return false;
        }
    }
}
