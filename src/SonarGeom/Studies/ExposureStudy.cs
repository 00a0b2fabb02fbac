using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies;

/// <summary>Works out the sound level of a layout at the ears of its wearer, of people nearby and of a guide dog.</summary>
/// <remarks>
/// <para>Every sensor is judged at its own loudest place for the listener, over the stride. Nothing is taken off for what the body hides, and
/// a beam is taken to fall by no more than 30 dB, since piston formulas know nothing of what leaks to the side and behind (assumptions).</para>
/// <para>Bursts sent together add as amplitudes. The mean over the cycle adds all bursts as power, each as if it were at its peak from
/// beginning to end. A burst of some cycles stays within its third-octave band but for a small part.</para>
/// </remarks>
public static class ExposureStudy
{
    private const double LeakDecibels = -30;
    private const double NearestMetres = 0.02;
    private const double StepDegrees = 5;
    private const double StepMetres = 0.05;

    // Off the boresight a stated beam is known to some decibels only (a judgement).
    private const double BeamUncertaintyDecibels = 2;

    // Measured absorption lies up to a quarter below ISO 9613-1 (Lawrence and Simmons 1982).
    private const double AbsorptionUncertaintyFraction = 0.25;

    /// <summary>Works out the levels.</summary>
    /// <param name="posed">The layout on its wearer.</param>
    /// <exception cref="ArgumentException">The firing cycle is too short to listen.</exception>
    public static ExposureReport Of(PosedLayout posed)
    {
        ArgumentNullException.ThrowIfNull(posed);
        var schedule = FiringSchedule.Of(posed.Layout);
        return new ExposureReport(
            posed.Layout, schedule.CycleSeconds,
            [.. Listeners().Select(listener => Read(posed, schedule, listener))],
            [.. posed.Layout.Sensors.Select(s => s.Transducer).DistinctBy(t => t.Name).Select(t => Reach(t, posed.Medium.Air, schedule.CycleSeconds))]);
    }

    // Ear heights and distances of people nearby, and where a guide dog's head is, are assumptions.
    private static IEnumerable<Listener> Listeners()
    {
        yield return new("wearer, left ear", ListenerKind.Wearer, "at the ear", (posed, _, phase) => [posed.Poses[phase].LandmarkMetres("tragion left")]);
        yield return new("wearer, right ear", ListenerKind.Wearer, "at the ear", (posed, _, phase) => [posed.Poses[phase].LandmarkMetres("tragion right")]);
        foreach (double distance in new[] { 0.3, 1.0 })
        {
            yield return new(
                "bystander", ListenerKind.Bystander, $"{distance:0.0} m from the sensor on any side, ear 1.2 to 1.8 m high",
                (posed, sensor, phase) => Around(posed.Sensor(sensor, phase), distance, 1.2, 1.8));
        }

        foreach (double distance in new[] { 0.3, 1.0 })
        {
            yield return new(
                "child", ListenerKind.Child, $"{distance:0.0} m from the sensor on any side, ear 0.7 to 1.3 m high",
                (posed, sensor, phase) => Around(posed.Sensor(sensor, phase), distance, 0.7, 1.3));
        }

        yield return new("guide dog, left", ListenerKind.Dog, "head 0.2 to 0.8 m ahead, 0.25 to 0.6 m to the left, 0.45 to 0.75 m high", (_, _, _) => Box(0.25, 0.6));
        yield return new("guide dog, right", ListenerKind.Dog, "head 0.2 to 0.8 m ahead, 0.25 to 0.6 m to the right, 0.45 to 0.75 m high", (_, _, _) => Box(-0.6, -0.25));
    }

    private static ExposureReading Read(PosedLayout posed, FiringSchedule schedule, Listener listener)
    {
        int count = posed.SensorCount;
        var level = new double[count];
        var distance = new double[count];
        for (int s = 0; s < count; s++)
        {
            var exposure = new SoundExposure(posed.Sensor(s, 0).Transducer, posed.Medium.Air);
            level[s] = double.NegativeInfinity;
            for (int p = 0; p < posed.PhaseCount; p++)
            {
                SensorAtPose pose = posed.Sensor(s, p);
                foreach (Vec3 ear in listener.Places(posed, s, p))
                {
                    double range = Math.Max(NearestMetres, pose.TransmitterMetres.DistanceTo(ear));
                    double amplitude = Math.Abs(pose.TransmitAmplitude(ear));
                    double beam = Math.Max(LeakDecibels, amplitude > 0 ? Decibels.FromAmplitudeRatio(amplitude) : LeakDecibels);
                    double here = exposure.BurstLevelDecibels(range, Vec3.UnitX) + beam;
                    (level[s], distance[s]) = here > level[s] ? (here, range) : (level[s], distance[s]);
                }
            }
        }

        double burst = schedule.Groups.Max(g => Decibels.FromAmplitudeRatio(g.Sum(s => Decibels.ToAmplitudeRatio(level[s]))));
        double mean = Decibels.FromPowerRatio(Enumerable.Range(0, count)
            .Sum(s => Decibels.ToPowerRatio(level[s]) * posed.Sensor(s, 0).Transducer.BurstSeconds / schedule.CycleSeconds));
        int loudest = Array.IndexOf(level, level.Max());
        Transducer part = posed.Sensor(loudest, 0).Transducer;
        double absorbed = posed.Medium.AbsorptionDecibelsPerMetre(part.NominalFrequency) * distance[loudest];
        double uncertainty = Math.Sqrt(
            Math.Pow(part.Evidence.FigureOfMeritUncertaintyDecibels, 2) + Math.Pow(BeamUncertaintyDecibels, 2) + Math.Pow(AbsorptionUncertaintyFraction * absorbed, 2));
        return new ExposureReading(
            listener.Name, listener.Kind, listener.Where, posed.Layout.Sensors[loudest].Name, part.NominalFrequency, distance[loudest], burst, mean, uncertainty,
            listener.Kind == ListenerKind.Dog ? DogHearing.ThresholdDecibels(part.NominalFrequency) : null,
            listener.Kind == ListenerKind.Dog ? [] : ExposureLimit.For(part.NominalFrequency));
    }

    private static ExposureReach Reach(Transducer part, AirState air, double cycleSeconds)
    {
        var exposure = new SoundExposure(part, air);
        return new ExposureReach(
            part.Name, part.NominalFrequency, exposure.BurstLevelDecibels(1, Vec3.UnitX), exposure.DutyDecibels(cycleSeconds),
            [.. ExposureLimit.For(part.NominalFrequency).Select(l => new LimitDistance(l, exposure.DistanceMetres(l.LevelDecibels)))],
            DogHearing.ThresholdDecibels(part.NominalFrequency) is { } threshold ? exposure.DistanceMetres(threshold) : null);
    }

    private static IEnumerable<Vec3> Around(SensorAtPose pose, double distance, double low, double high)
    {
        Vec3 at = pose.TransmitterMetres;
        for (double degrees = -180; degrees < 180; degrees += StepDegrees)
        {
            var side = Angle.FromDegrees(degrees);
            for (double z = low; z <= high + 1e-9; z += StepMetres)
            {
                yield return new Vec3(at.X + (distance * Math.Cos(side.Radians)), at.Y + (distance * Math.Sin(side.Radians)), z);
            }
        }
    }

    // Head of a guide dog beside the wearer's leg, somewhat ahead (an assumption).
    private static IEnumerable<Vec3> Box(double right, double left)
    {
        for (double x = 0.2; x <= 0.8 + 1e-9; x += 0.1)
        {
            for (double y = right; y <= left + 1e-9; y += 0.05)
            {
                for (double z = 0.45; z <= 0.75 + 1e-9; z += StepMetres)
                {
                    yield return new Vec3(x, y, z);
                }
            }
        }
    }

    private sealed record Listener(string Name, ListenerKind Kind, string Where, Func<PosedLayout, int, int, IEnumerable<Vec3>> Places);
}
