using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>A layout as worn on one day, with what it needs to know of each ground and of its own bursts.</summary>
internal sealed class DayLayout
{
    private readonly List<(Ground? Ground, double[][] RangesMetres)> _floors;

    private readonly Dictionary<TrialPlace, DayBounds[]> _bounds = [];
    private readonly TrialCourse _course;
    private readonly SensorLayout _asDesigned;

    private DayLayout(PosedLayout posed, List<(Ground?, double[][])> floors, FiringSchedule schedule, TrialCourse course, SensorLayout asDesigned)
    {
        (_course, _asDesigned) = (course, asDesigned);
        Posed = posed;
        _floors = floors;
        Schedule = schedule;
        Alerts = posed.Layout.AlertsInForce;
        double trueRoundTrip = 2e4 / posed.Medium.SoundSpeedMetresPerSecond;
        ReportedOverTrue = trueRoundTrip / course.AssumedMicrosecondsPerCentimetre;
        Offsets = [.. Enumerable.Range(0, posed.SensorCount).Select(schedule.OffsetSeconds)];
        Farthest = [.. Enumerable.Range(0, posed.SensorCount).Select(s => FarthestTrue(s, course.Settings.RangeStepMetres))];
        Noise = [.. Enumerable.Range(0, posed.SensorCount).Select(s => NoiseReports.Of(posed.Sensor(s, 0).Prepared))];
        var heard = Enumerable.Range(0, posed.SensorCount).Select(s => Interference.Of(this, s)).ToArray();
        Interferences = [.. heard.Select(h => h.Echoes)];
        DirectMetres = [.. heard.Select(h => h.DirectMetres)];
    }

    internal PosedLayout Posed { get; }

    internal FiringSchedule Schedule { get; }

    internal AlertPlan Alerts { get; }

    /// <summary>Gets by how much the device overstates ranges in this air. [unitless]</summary>
    internal double ReportedOverTrue { get; }

    /// <summary>Gets when each sensor fires in a cycle. [s]</summary>
    internal ImmutableArray<double> Offsets { get; }

    /// <summary>Gets the true range beyond which a report of a sensor can alert no more. [m]</summary>
    internal ImmutableArray<double> Farthest { get; }

    internal ImmutableArray<NoiseReports> Noise { get; }

    /// <summary>Gets, sensor by sensor, the earlier bursts that can be heard at all.</summary>
    internal ImmutableArray<ImmutableArray<Interference>> Interferences { get; }

    /// <summary>Gets the range at which each sensor reports the burst of another straight across; infinite where it does not. [m]</summary>
    internal ImmutableArray<double> DirectMetres { get; }

    internal static DayLayout Of(PosedLayout posed, TrialCourse course, SensorLayout asDesigned)
    {
        var floors = new List<(Ground?, double[][])>();
        foreach (Ground? ground in course.Nuisances.Select(p => p.Ground).Append(course.MainPlace.Ground).Distinct())
        {
            floors.Add((ground, [.. Enumerable.Range(0, posed.SensorCount).Select(s => ground == posed.Ground ? posed.Ear(s).FloorRangeMetres : FloorOf(posed, s, ground))]));
        }

        return new DayLayout(posed, floors, FiringSchedule.Of(posed.Layout), course, asDesigned);
    }

    /// <summary>Returns the range at which the floor is reported first at each stride phase, sensor by sensor; infinite where it is not. [m]</summary>
    internal double[][] FloorOf(Ground? ground) => _floors.First(f => f.Ground == ground).RangesMetres;

    /// <summary>Returns the bounds of every sensor at a place. Made when first asked for, by the one thread that walks the day.</summary>
    internal DayBounds[] BoundsOf(TrialPlace place)
    {
        if (!_bounds.TryGetValue(place, out DayBounds[]? bounds))
        {
            bounds =
            [
                .. Enumerable.Range(0, Posed.SensorCount).Select(s => new DayBounds(
                    _course.BoundsOf(_asDesigned.Sensors[s].Transducer), Posed.Ear(s).Poses[0].Prepared, place, Interferences.Any(i => !i.IsEmpty))),
            ];
            _bounds.Add(place, bounds);
        }

        return bounds;
    }

    private static double[] FloorOf(PosedLayout posed, int sensor, Ground? ground) =>
    [
        .. Enumerable.Range(0, posed.PhaseCount).Select(p => ground is null
            ? double.PositiveInfinity
            : GroundEcho.Of(posed.Sensor(sensor, p), ground, mirrorFreeFraction: posed.Ear(sensor).Shadows[p].FreeFractionBelow(posed.Sensor(sensor, p).MidpointMetres.Z))
                .FirstCrossingMetres ?? double.PositiveInfinity),
    ];

    private double FarthestTrue(int sensor, double step)
    {
        string name = Posed.Layout.Sensors[sensor].Name;
        double farthest = Alerts.Zones.Where(z => z.Sensor == name).Select(z => z.ToMetres + Alerts.HysteresisMetres).Append(0).Max();
        return Math.Min(Posed.Ear(sensor).WindowRangeMetres, (farthest + step) / ReportedOverTrue);
    }
}
