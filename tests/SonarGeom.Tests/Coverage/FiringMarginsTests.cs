using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Coverage;

public class FiringMarginsTests
{
    private static readonly Lazy<FiringCoupling> Standard = new(() => FiringCoupling.Of(CoverageBench.OnMan));

    private static double Speed => CoverageBench.OnMan.Medium.SoundSpeedMetresPerSecond;

    private static FiringMargins Margins => new(Standard.Value, Speed);

    // A figure of merit of 48.89 dB hears a 75 mm pole to 4 m and a wall to 9.02 m, so that 52.5 ms are needed between bursts
    // (computed with closed forms, 20 °C and 50 %, 343.2 m/s).
    [Fact]
    public void A_strong_part_needs_the_computed_cycle()
    {
        Transducer part = EchoBench.WithFigureOfMerit(new CircularPiston(0.0065), 48.89, separation: 0) with { ListeningWindowSeconds = 0.02 };
        PosedLayout posed = Posed(EchoBench.Medium, CoverageBench.Sensor("brow", "brow", 0, 0, transducer: part));
        var margins = new FiringMargins(FiringCoupling.Of(posed), 343.2);
        Assert.Equal(9.02, margins.SilentRangeMetres(0, 0), 0.01);
        Assert.Equal(0.0525 + (8 / 40e3), margins.SufficientSlotSeconds(0, 0), 1.5e-4);

        // The shortest cycle is found from the ghost itself: the threshold is even, and listening begins 1 ms after the burst.
        Assert.Equal(0.0525 - 0.001, margins.Shortest(0)!.CycleSeconds, 2e-4);
    }

    // The image of a large wall: SL + build-up − 20 log 2R − 2αR, both beams on it.
    [Fact]
    public void A_wall_answers_as_its_image()
    {
        Transducer part = CoverageBench.WidePair;
        double alpha = CoverageBench.OnMan.Medium.AbsorptionDecibelsPerMetre(part.NominalFrequency);
        foreach (double range in new[] { 0.5, 2, 7 })
        {
            double expected = part.SourceLevelDecibels + part.BuildUpDecibels - (20 * Math.Log10(2 * range)) - (2 * alpha * range);
            Assert.Equal(expected, Standard.Value.WallLevelDecibels(0, 0, range), 1e-9);
        }
    }

    // Chest sensors that look 20° apart of each other to both sides: a wall square to straight ahead gives each beam 20° off its axis.
    [Fact]
    public void Neighbours_hear_each_other_by_a_wall_between_their_beams()
    {
        Transducer part = CoverageBench.WidePair;
        double k = CoverageBench.OnMan.Medium.WavenumberRadiansPerMetre(part.NominalFrequency);
        SensorAtPose left = CoverageBench.OnMan.Sensor(1, 0), right = CoverageBench.OnMan.Sensor(2, 0);
        var half = Angle.FromRadians(0.5 * Math.Acos(left.Boresight.Dot(right.Boresight)));
        double loss = 40 * Math.Log10(part.Transmit.AmplitudeAt(half, k, false));
        double own = Standard.Value.WallLevelDecibels(1, 1, 2);

        // Other stride phases bring the beams a little closer together.
        Assert.InRange(Standard.Value.WallLevelDecibels(1, 2, 2) - own, loss - 0.05, loss + 0.5);
        Assert.Equal(Standard.Value.WallLevelDecibels(1, 2, 2), Standard.Value.WallLevelDecibels(2, 1, 2), 1e-6);
    }

    [Fact]
    public void Straight_across_the_level_falls_with_the_distance()
    {
        double distance = Standard.Value.DirectDistanceMetres(1, 2);
        Assert.InRange(distance, 0.05, 0.6);
        Transducer part = CoverageBench.WidePair;
        double most = part.SourceLevelDecibels + part.BuildUpDecibels - (20 * Math.Log10(distance));
        Assert.InRange(Standard.Value.DirectLevelDecibels(1, 2), most - 61, most);
    }

    [Fact]
    public void Reported_margins_are_those_of_the_levels_at_the_reported_ranges()
    {
        FiringSchedule schedule = FiringSchedule.InTurn(4, 0.05);
        ImmutableArray<FiringMargin> all = Margins.ByWalls(schedule);
        Assert.Equal(16, all.Length);
        foreach (FiringMargin m in all)
        {
            double time = 2 * m.ApparentRangeMetres / Speed;
            Assert.InRange(time, 0.0013 - 1e-9, 0.05 + 1e-9);
            Assert.Equal(m.TrueRangeMetres - (0.5 * Speed * m.ElapsedSeconds), m.ApparentRangeMetres, 1e-9);
            Assert.Equal(
                CoverageBench.WidePair.DetectionThresholdDecibels(time) - Standard.Value.WallLevelDecibels(m.Sender, m.Listener, m.TrueRangeMetres),
                m.MarginDecibels, 1e-9);
        }

        // A sensor is its own earlier burst only after a whole cycle.
        Assert.All(all.Where(m => m.Sender == m.Listener), m => Assert.Equal(0.2, m.ElapsedSeconds, 1e-12));
    }

    [Fact]
    public void The_shortest_schedule_keeps_the_margin_and_no_shorter_one_does()
    {
        foreach (double margin in new[] { 0.0, 6, 12 })
        {
            FiringSchedule found = Margins.Shortest(margin)!;
            Assert.True(Margins.SmallestDecibels(found) >= margin);
            Assert.Equal(4, found.SensorCount);
            Assert.All(found.SlotsSeconds, slot => Assert.True(slot >= 0.05, "nobody fires while another listens"));
            if (found.SlotsSeconds.Max() > 0.0501)
            {
                Assert.True(Margins.SmallestDecibels(new FiringSchedule(found.Groups, found.SlotsSeconds.Max() - 2e-4)) < margin);
            }
        }
    }

    // As long as each has its whole window; before that, the sound of a neighbour comes later, and is judged by a lower threshold.
    [Fact]
    public void Longer_slots_never_lower_the_margin()
    {
        double before = double.NegativeInfinity;
        foreach (double slot in new[] { 0.05, 0.055, 0.06, 0.08, 0.12 })
        {
            double margin = Margins.SmallestDecibels(FiringSchedule.InTurn(4, slot));
            Assert.True(margin >= before);
            before = margin;
        }
    }

    // Sensors that share a wall or hear each other straight across must not fire together; ones far apart in frequency may.
    [Fact]
    public void Only_sensors_that_cannot_hear_each_other_fire_together()
    {
        Assert.All(Margins.Shortest(6)!.Groups, g => Assert.Single(g));
        Transducer Sharp(double kilohertz) => EchoBench.Part(new CircularPiston(0.0065), 0, 100, 60, q: 60, kilohertz: kilohertz, window: 0.03);
        PosedLayout posed = Posed(
            EchoMedium.Standard, CoverageBench.Sensor("brow", "brow", 0, 20, transducer: Sharp(40)),
            CoverageBench.Sensor("belt", "belt front", 0, -20, transducer: Sharp(80)));
        var margins = new FiringMargins(FiringCoupling.Of(posed), posed.Medium.SoundSpeedMetresPerSecond);
        FiringSchedule together = margins.Shortest(0)!;
        Assert.Single(together.Groups);
        Assert.All(margins.Direct(together), m => Assert.True(m.MarginDecibels >= 0));
    }

    // Straight across, fired 20 ms after the listener: the sound comes 20 ms and d/c later, as from (d + c · 20 ms)/2.
    [Fact]
    public void A_neighbour_that_fires_while_a_sensor_listens_is_heard_straight_across()
    {
        var overlapping = new FiringSchedule([[0], [1], [2], [3]], 0.02);
        FiringMargin heard = Assert.Single(Margins.Direct(overlapping), m => m is { Listener: 1, Sender: 2 });
        double distance = Standard.Value.DirectDistanceMetres(2, 1);
        Assert.Equal(-0.02, heard.ElapsedSeconds, 1e-12);
        Assert.Equal(0.5 * (distance + (Speed * 0.02)), heard.ApparentRangeMetres, 1e-12);
        Assert.Equal(
            CoverageBench.WidePair.DetectionThresholdDecibels((distance / Speed) + 0.02 + CoverageBench.WidePair.BurstSeconds) - Standard.Value.DirectLevelDecibels(2, 1),
            heard.MarginDecibels, 1e-9);

        // One after the other, each with its whole window, nobody hears another straight across.
        Assert.All(Margins.Direct(FiringSchedule.InTurn(4, 0.05)), m => Assert.Equal(double.PositiveInfinity, m.MarginDecibels));
        Assert.True(Margins.SmallestDecibels(overlapping) < Margins.SmallestDecibels(FiringSchedule.InTurn(4, 0.05)));
    }

    [Fact]
    public void The_study_tells_the_worst_of_all_margins()
    {
        FiringReading reading = FiringStudy.Of(CoverageBench.OnMan);
        Assert.Equal(0.24, reading.Schedule.CycleSeconds, 1e-12);
        Assert.Equal(Margins.SmallestDecibels(reading.Schedule), reading.SmallestMarginDecibels, 1e-12);
        PosedLayout together = CoverageBench.OnMan.WithLayout(new SensorLayout("together", string.Empty, CoverageBench.Standard.Sensors, new FiringPlan(0.15, 2, 3, 0.05)
        {
            Groups = [["brow"], ["chest-left", "chest-right"], ["belt"]],
        }));
        FiringReading crossed = FiringStudy.Of(together);
        Assert.True(crossed.SmallestMarginDecibels < 0);
        Assert.StartsWith("False reports are possible: chest-", crossed.Sentence, StringComparison.Ordinal);
        Assert.Contains(crossed.FalseReports, r => r.Kind == FalseReportKind.CrosstalkByWall && r.Listener == "chest-left" && r.Sender == "chest-right" && r.Margin.ElapsedSeconds == 0);
    }

    [Fact]
    public void Mirrored_layouts_have_the_same_margins()
    {
        PosedLayout mirrored = CoverageBench.Pose(CoverageBench.Mirrored(CoverageBench.Standard));
        var margins = new FiringMargins(FiringCoupling.Of(mirrored), Speed);
        FiringSchedule schedule = FiringSchedule.InTurn(4, 0.05);
        Assert.Equal(Margins.SmallestDecibels(schedule), margins.SmallestDecibels(schedule), 1e-9);
        Assert.Equal(Margins.Shortest(6)!.CycleSeconds, margins.Shortest(6)!.CycleSeconds, 1e-4);
    }

    private static PosedLayout Posed(EchoMedium medium, params SensorPlacement[] sensors) => PosedLayout.Prepare(
        Wearers.MedianMan, SwayEnvelope.Of(Wearers.MedianMan, 0.8), CoverageBench.Layout(sensors), medium, Ground.SmoothTile, 2);
}
