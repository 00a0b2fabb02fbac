using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.Firmware;

/// <summary>Works out the numbers that the firmware of a layout needs.</summary>
public static class FirmwareStudy
{
    // From a slow cane user to a brisk walker.
    private static readonly double[] SpeedsMetresPerSecond = [0.5, 0.8, 1.0, 1.2, 1.4, 1.6, 1.8];

    private static readonly CylinderPart Pole = new("pole", new Vec3(0, 0, -1), new Vec3(0, 0, 1), 0.0375);

    /// <summary>Works out a pack.</summary>
    /// <param name="scenario">The scenario: its layout, walk and ground.</param>
    /// <param name="wearer">The wearer.</param>
    /// <param name="tables">The body tables.</param>
    /// <param name="demand">What is asked.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The wearer or a mount is impossible, or the firing cycle is too short to listen.</exception>
    public static FirmwarePack Of(
        Scenario scenario, WearerSpec wearer, BodyTables tables, FirmwareDemand demand, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(demand);
        ClimateRange climate = demand.Climate;
        SensorLayout layout = scenario.Layout;
        var own = FiringSchedule.Of(layout);
        ImmutableArray<PosedLayout> posed =
            [.. climate.Corners.AsParallel().AsOrdered().WithCancellation(cancellation).Select(air => ScenarioStudy.Pose(scenario with { Air = air }, wearer, tables))];
        var thresholds = new ThresholdDesign[layout.Sensors.Length];
        Parallel.For(0, thresholds.Length, new ParallelOptions { CancellationToken = cancellation }, s =>
            thresholds[s] = ThresholdDesigner.Of(posed, s, layout.Firing.CycleSeconds, demand.ThresholdMarginDecibels));
        SensorLayout designed = layout.WithSensors([.. layout.Sensors.Select((s, i) => s with { Transducer = s.Transducer with { Threshold = thresholds[i].Profile } })]);
        cancellation.ThrowIfCancellationRequested();

        FiringMargins[] margins = [.. posed.Select(p => new FiringMargins(FiringCoupling.Of(p.WithLayout(designed)), p.Medium.SoundSpeedMetresPerSecond))];
        FiringReading ownReading = Worst(own, out AirState ownAir);
        FiringSchedule?[] shortest = [.. margins.Select(m => m.Shortest(demand.FiringMarginDecibels))];
        AirState shortestAir = ownAir;
        FiringReading? shortestReading = shortest.Any(s => s is null)
            ? null
            : shortest.OrderByDescending(s => s!.CycleSeconds).Select(s => Worst(s!, out shortestAir))
                .FirstOrDefault(r => r.SmallestMarginDecibels >= demand.FiringMarginDecibels - 1e-6);
        bool keepsOwn = ownReading.SmallestMarginDecibels >= demand.FiringMarginDecibels || shortestReading is null;
        FiringReading firing = keepsOwn ? ownReading : shortestReading!;
        FiringPlan plan = new(firing.Schedule.CycleSeconds, layout.Firing.RequiredHits, layout.Firing.WindowPings, layout.Firing.AlertLatencySeconds)
        {
            JitterSeconds = layout.Firing.JitterSeconds,
        };
        double slowest = posed.Min(p => p.Medium.SoundSpeedMetresPerSecond), fastest = posed.Max(p => p.Medium.SoundSpeedMetresPerSecond);
        var compensation = SpeedCompensation.Fit(climate, scenario.SoundSpeedModel);
        ImmutableArray<SensorFirmware> sensors = [.. Enumerable.Range(0, layout.Sensors.Length).Select(s => SensorOf(posed, designed, s, firing.Schedule, thresholds[s], slowest, fastest))];
        return new FirmwarePack
        {
            Layout = layout,
            Demand = demand,
            SpeedModel = scenario.SoundSpeedModel,
            FixedMicrosecondsPerCentimetre = scenario.Device.AssumedMicrosecondsPerCentimetre,
            RoundTrips = [.. climate.Temperatures(demand.StepCelsius).Select(t => RoundTripAt(scenario, climate, compensation, t))],
            Compensation = compensation,
            Checks = [.. ChecksOf(climate, compensation)],
            Sensors = sensors,
            Firing = firing,
            OwnFiring = ownReading,
            ShortestFiring = shortestReading,
            FiringAir = keepsOwn ? ownAir : shortestAir,
            OwnFiringAir = ownAir,
            AlertDistances = [.. SpeedsMetresPerSecond.Select(v => DistanceAt(scenario.Walk with { SpeedMetresPerSecond = v }, plan))],
            FastestWalkMetresPerSecond = FastestWalk(scenario.Walk, plan, sensors, slowest),
            Cautions = [.. Cautions(demand, firing, ownReading, ownAir, shortestReading)],
        };

        FiringReading Worst(FiringSchedule schedule, out AirState air)
        {
            FiringReading[] readings = [.. margins.Select(m => FiringStudy.Of(designed, schedule, m))];
            int worst = Enumerable.Range(0, readings.Length).MinBy(i => readings[i].SmallestMarginDecibels);
            air = climate.Corners[worst];
            return readings[worst];
        }
    }

    private static SensorFirmware SensorOf(
        ImmutableArray<PosedLayout> posed, SensorLayout designed, int sensor, FiringSchedule schedule, ThresholdDesign threshold, double slowest, double fastest)
    {
        SensorPlacement placement = posed[0].Layout.Sensors[sensor];
        Transducer part = placement.Transducer;
        double across = part.BurstSeconds + (part.SeparationMetres / slowest);
        double blanking = Math.Max(across, Math.Max(part.BlankingSeconds, part.RingDownSeconds));
        string reason = blanking == part.BlankingSeconds ? "the part's stated blanking, which covers its ring-down"
            : blanking == part.RingDownSeconds ? "the ring-down of the part, which outlasts its stated blanking"
            : "the burst as it passes straight from transmitter to receiver";
        double foremost = posed[0].ForemostXMetres(0, 0.5 * posed[0].TopMetres, posed[0].HalfWidthMetres, 0.5 * posed[0].TopMetres);
        double rearmost = Enumerable.Range(0, posed[0].PhaseCount).Min(p => posed[0].Sensor(sensor, p).MidpointMetres.X);
        EchoMedium medium = EchoMedium.Standard;
        return new SensorFirmware(
            placement, schedule.Groups.ToList().FindIndex(g => g.Contains(sensor)), schedule.OffsetSeconds(sensor), blanking, reason,
            0.5 * fastest * blanking, Math.Max(0, foremost - rearmost), threshold,
            HearingRange.FarthestMetres(new PreparedTransducer(part, medium), Pole),
            HearingRange.FarthestMetres(new PreparedTransducer(designed.Sensors[sensor].Transducer, medium), Pole));
    }

    private static RoundTripRow RoundTripAt(Scenario scenario, ClimateRange climate, SpeedCompensation compensation, Temperature temperature)
    {
        double middle = Speed(0.5 * (climate.DriestPercent + climate.DampestPercent));
        return new RoundTripRow(
            temperature, RoundTrip.MicrosecondsPerCentimetre(middle), RoundTrip.MicrosecondsPerCentimetre(Speed(climate.DriestPercent)),
            RoundTrip.MicrosecondsPerCentimetre(Speed(climate.DampestPercent)),
            RoundTrip.RangeErrorFraction(scenario.Device.AssumedMicrosecondsPerCentimetre, middle),
            (compensation.SpeedMetresPerSecond(temperature) / middle) - 1);

        double Speed(double humidity) => SoundSpeed.InMetresPerSecond(climate.At(temperature, humidity), scenario.SoundSpeedModel);
    }

    // At both ends of the climate and in its middle, in round echo times.
    private static IEnumerable<WorkedCheck> ChecksOf(ClimateRange climate, SpeedCompensation compensation)
    {
        double cold = climate.Coldest.DegreesCelsius, warm = climate.Warmest.DegreesCelsius;
        foreach ((double celsius, int time) in new[] { (cold, 20000), (0.5 * (cold + warm), 10000), (warm, 5000) })
        {
            int tenths = (int)Math.Round(10 * celsius);
            yield return new WorkedCheck(time, tenths, compensation.RangeMillimetres(time, tenths));
        }
    }

    private static AlertDistance DistanceAt(WalkSettings walk, FiringPlan plan)
    {
        double v = walk.SpeedMetresPerSecond, time = StoppingModel.TimeNeededSeconds(walk, plan);
        double braking = v * v / (2 * walk.DecelerationMetresPerSecondSquared);
        return new AlertDistance(v, time, v * time, (v * walk.ReactionSeconds) + braking, braking);
    }

    private static double FastestWalk(WalkSettings walk, FiringPlan plan, ImmutableArray<SensorFirmware> sensors, double slowest)
    {
        double reach = sensors.Min(s => (0.5 * slowest * s.Placement.Transducer.ListeningWindowSeconds) - s.BehindForemostMetres);
        double slow = 0, fast = 5;
        for (int i = 0; i < 50; i++)
        {
            double middle = 0.5 * (slow + fast);
            (slow, fast) = DistanceAt(walk with { SpeedMetresPerSecond = middle }, plan).FirstReportMetres <= reach ? (middle, fast) : (slow, middle);
        }

        return slow;
    }

    private static IEnumerable<string> Cautions(FirmwareDemand demand, FiringReading firing, FiringReading own, AirState ownAir, FiringReading? shortest)
    {
        if (firing.SmallestMarginDecibels < demand.FiringMarginDecibels - 1e-9)
        {
            yield return shortest is null
                ? $"No firing cycle up to half a second a slot keeps ghosts and crosstalk {demand.FiringMarginDecibels:0.#} dB below the thresholds; the layout's own is given as it is. {firing.Sentence}"
                : $"The firing schedule does not keep the margin of {demand.FiringMarginDecibels:0.#} dB. {firing.Sentence}";
        }

        if (!ReferenceEquals(firing, own))
        {
            yield return $"The layout's own cycle of {own.Schedule.CycleSeconds * 1000:0.#} ms is too short in air of {ownAir}. {own.Sentence} "
                + "Cold dry air carries echoes of large walls far. A longer cycle makes every alert later: a jitter, by which such reports wander from ping to ping while real ones stay, or a higher late threshold may serve better; try them.";
        }

        yield return "Levels rest on the stated figures of each part and on simple shapes of the body: measure the threshold and the floor echo on the device as built, on smooth and on rough ground, before it is worn.";
        yield return "A threshold that clears the floor and the wearer hides faint obstacles: see how far a pole is still heard, and study the layout again with it.";
        yield return "Alert distances assume that every ping of a hazard is reported; a reaction of one second and gentle braking are assumptions.";
        foreach (string caution in Findings.Cautions)
        {
            yield return caution;
        }
    }
}
