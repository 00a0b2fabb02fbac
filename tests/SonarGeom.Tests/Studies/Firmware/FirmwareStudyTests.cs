using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Studies.Firmware;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies.Firmware;

public class FirmwareStudyTests
{
    private const double Margin = 6;

    // Warm air: walls are not heard so far, so that the layout's own cycle is long enough.
    private static readonly ClimateRange Warm = new(Temperature.FromDegreesCelsius(15), Temperature.FromDegreesCelsius(30), 40, 60);

    private static readonly Scenario Walk = Quick(InputFiles.ReadScenario("harbour-promenade").Scenario);

    private static readonly Lazy<FirmwarePack> InWarmAir = new(() => Pack(Walk, new FirmwareDemand(Warm, Margin, 0)));

    private static readonly Lazy<FirmwarePack> OnTheStreet = new(() => Pack(Walk, new FirmwareDemand(ClimateRange.Street, Margin, Margin)));

    // Straight from the echoes: floor and limbs at every phase stay under the threshold by the margin at every moment of listening.
    [Fact]
    public void Thresholds_clear_the_floor_and_the_wearer_by_the_margin()
    {
        foreach (var air in Warm.Corners)
        {
            PosedLayout posed = ScenarioStudy.Pose(Walk with { Air = air }, Walk.MainWearer, BodyTableFiles.Shipped);
            for (int s = 0; s < posed.SensorCount; s++)
            {
                ThresholdProfile threshold = InWarmAir.Value.Sensors[s].Threshold.Profile;
                double dead = InWarmAir.Value.Sensors[s].BlankingSeconds;
                for (int p = 0; p < posed.PhaseCount; p++)
                {
                    LevelTrace trace = LevelTrace.Of(
                        posed.Sensor(s, p),
                        [new FloorSource("floor", posed.Ground!) { MirrorFreeFraction = posed.FloorFreeFraction(s, p) }, .. posed.OwnParts(s, p).Where(o => !o.IsHidden).Select(o => new PartSource(o.Name, o.Part))], 0.02);
                    for (int i = 0; i < trace.RangesMetres.Length; i++)
                    {
                        double time = 2 * trace.RangesMetres[i] / posed.Medium.SoundSpeedMetresPerSecond;
                        Assert.True(
                            time < dead || threshold.LevelDecibels(time) >= trace.TotalDecibels[i] + Margin - 1e-6,
                            $"{posed.Layout.Sensors[s].Name}, phase {p}, {time * 1000:0.00} ms: {trace.TotalDecibels[i]:0.0} dB against {threshold.LevelDecibels(time):0.0} dB");
                    }
                }
            }
        }
    }

    [Fact]
    public void Thresholds_never_lie_below_the_part_and_say_why_they_lie_higher()
    {
        foreach (SensorFirmware sensor in InWarmAir.Value.Sensors)
        {
            Transducer part = sensor.Placement.Transducer;
            for (double time = sensor.BlankingSeconds; time <= part.ListeningWindowSeconds; time += 1e-4)
            {
                Assert.True(sensor.Threshold.Profile.LevelDecibels(time) >= part.DetectionThresholdDecibels(time) - 1e-6);
            }

            Assert.All(sensor.Threshold.Points, p => Assert.Equal(p.LevelDecibels - p.PartLevelDecibels < 1e-9, p.Reason == "the part's own threshold"));
            Assert.True(sensor.Threshold.FalseAlarmsPerHour <= 1.001);
            Assert.True(sensor.PoleRangeAfterMetres <= sensor.PoleRangeBeforeMetres);
        }

        // The belt sensor looks down past the hands.
        Assert.Contains(InWarmAir.Value.Sensors[3].Threshold.Points, p => p.Reason.StartsWith("6 dB over the wearer's hand", StringComparison.Ordinal));
    }

    // Noise 10 dB below the threshold, 48.9 ms of listening in bursts of 0.4 ms, 5 pings a second: 122.25 · 18 000 · exp(−10) = 99.9 an hour,
    // so the threshold is raised until less than one is left: 10·lg(ln(122.25 · 18 000)) = 11.65 dB over the noise.
    [Fact]
    public void Noise_alone_seldom_crosses()
    {
        Transducer part = Walk.Layout.Sensors[0].Transducer with { Threshold = ThresholdProfile.Constant(55), NoiseLevelDecibels = 45, BlankingSeconds = 0.0011, RingDownSeconds = 0 };
        SensorLayout layout = new("one", string.Empty, [Walk.Layout.Sensors[0] with { Transducer = part }], new FiringPlan(0.2, 2, 3, 0.1));
        DesignedPoint late = Pack(Walk with { Layout = layout }, new FirmwareDemand(Warm, Margin, 0)).Sensors[0].Threshold.Points[^1];
        Assert.Equal(45 + (10 * Math.Log10(Math.Log(122.25 * 18_000))), late.LevelDecibels, 0.1);
        Assert.Equal("noise alone crosses it less than once an hour", late.Reason);
    }

    [Fact]
    public void The_own_cycle_is_kept_where_it_keeps_the_margin()
    {
        FirmwarePack pack = InWarmAir.Value;
        Assert.True(pack.KeepsFiringMargin);
        Assert.Equal(0.2, pack.Firing.Schedule.CycleSeconds, 1e-12);
        Assert.NotNull(pack.ShortestFiring);
        Assert.True(pack.ShortestFiring.Schedule.CycleSeconds <= 0.2);
        Assert.True(pack.ShortestFiring.SmallestMarginDecibels >= -1e-6);
        Assert.DoesNotContain(pack.Cautions, c => c.Contains("own cycle", StringComparison.Ordinal));
    }

    // At −10 °C and 20 % absorption is 0.25 dB/m, five times less than at 20 °C and 50 %: walls are heard from far.
    [Fact]
    public void Cold_dry_air_asks_for_a_longer_cycle()
    {
        FirmwarePack pack = OnTheStreet.Value;
        Assert.True(pack.OwnFiring.SmallestMarginDecibels < Margin);
        Assert.Equal(-10, pack.OwnFiringAir.Temperature.DegreesCelsius, 1e-9);
        Assert.True(pack.Firing.Schedule.CycleSeconds > 0.3);
        Assert.True(pack.KeepsFiringMargin);
        Assert.Contains("own cycle of 200 ms is too short", pack.Cautions[0], StringComparison.Ordinal);
        Assert.Equal(pack.Firing.Schedule.OffsetSeconds(2), pack.Sensors[2].OffsetSeconds, 1e-12);
        Assert.All(pack.Sensors, s => Assert.Contains(pack.Sensors.IndexOf(s), pack.Firing.Schedule.Groups[s.Group]));
    }

    // 0.8 m/s: 2 · 0.2 + 0.1 + 1.0 + 0.8/2 = 1.9 s; 1.52 m; of it 0.8 + 0.32 = 1.12 m after the alert.
    [Fact]
    public void Alert_distances_are_those_of_the_stopping_model()
    {
        AlertDistance slow = InWarmAir.Value.AlertDistances.First(d => d.SpeedMetresPerSecond == 0.8);
        Assert.Equal((1.9, 1.52, 1.12, 0.32), (Math.Round(slow.TimeNeededSeconds, 9), Math.Round(slow.FirstReportMetres, 9), Math.Round(slow.AlertMetres, 9), Math.Round(slow.StoppingMetres, 9)));
        FirmwarePack pack = InWarmAir.Value;
        double v = pack.FastestWalkMetresPerSecond;
        double reach = pack.Sensors.Min(s => (s.Placement.Transducer.ListeningWindowSeconds * 0.5 * SoundSpeed.InMetresPerSecond(Warm.Corners[0])) - s.BehindForemostMetres);
        Assert.Equal(reach, (v * 1.5) + (v * v / 2), 0.01);
    }

    [Fact]
    public void The_round_trip_is_the_fixed_one_where_it_is_right()
    {
        // 58 µs/cm means 344.83 m/s: dry air of 22.8 °C; a little cooler in damp air.
        ImmutableArray<RoundTripRow> rows = InWarmAir.Value.RoundTrips;
        Assert.Equal([15.0, 20, 25, 30], rows.Select(r => Math.Round(r.Temperature.DegreesCelsius, 9)));
        Assert.All(rows, r => Assert.InRange(r.MicrosecondsPerCentimetre, r.DampestMicrosecondsPerCentimetre, r.DriestMicrosecondsPerCentimetre));
        Assert.True(rows[1].FixedErrorFraction > 0 && rows[2].FixedErrorFraction < 0);
        Assert.All(rows, r => Assert.Equal((r.MicrosecondsPerCentimetre / 58) - 1, r.FixedErrorFraction, 1e-12));
        Assert.All(rows, r => Assert.True(Math.Abs(r.FormulaErrorFraction) <= InWarmAir.Value.Compensation.LargestErrorFraction));
    }

    private static FirmwarePack Pack(Scenario scenario, FirmwareDemand demand) =>
        FirmwareStudy.Of(scenario, scenario.MainWearer, BodyTableFiles.Shipped, demand);

    private static Scenario Quick(Scenario scenario) => scenario with { Walk = scenario.Walk with { StridePhases = 4 } };
}
