using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Coverage;

/// <summary>One obstacle, one layout, one answer: each way in which a hazard is caught or missed, and the one cause.</summary>
public class VerdictTests
{
    private static readonly Obstacle Branch = Obstacle.Bar("branch", new Vec3(6, 0, 1.68), 0.03, 0.8);

    private static readonly Obstacle Lamp = Obstacle.Pole("lamp", new Vec3(6, 0.05, 0), 0.114, 5);

    private static PosedLayout Man => CoverageBench.OnMan;

    private static PosedLayout Wearing(params SensorPlacement[] sensors) => Man.WithLayout(CoverageBench.Layout(sensors));

    [Fact]
    public void A_lamp_post_ahead_is_warned_of_in_time()
    {
        ObstacleVerdict verdict = CoverageBench.Verdict(Man, Lamp);
        Assert.Equal((VerdictOutcome.WarnedInTime, true, LimitingCause.None, HazardSide.Centre), (verdict.Outcome, verdict.IsOnCourse, verdict.Cause, verdict.Side));
        Assert.False(verdict.IsDanger);
        Assert.True(verdict.WarningSeconds >= verdict.TimeNeededSeconds && verdict.MarginAtNeedDecibels >= 0);
        Assert.Equal((HeightBand.Foot, HeightBand.Head), (verdict.LowBand, verdict.HighBand));
    }

    [Theory]
    [InlineData(2.0, HazardSide.Left)]
    [InlineData(-2.0, HazardSide.Right)]
    public void A_lamp_post_two_metres_to_the_side_is_passed_beside(double y, HazardSide side)
    {
        ObstacleVerdict verdict = CoverageBench.Verdict(Man, Lamp with { PositionMetres = new Vec3(6, y, 0) });
        Assert.True(verdict.Outcome is VerdictOutcome.PassedBesideHeard or VerdictOutcome.PassedBesideSilent);
        Assert.Equal((false, false, side), (verdict.IsOnCourse, verdict.IsDanger, verdict.Side));
    }

    [Fact]
    public void A_branch_at_head_height_is_caught_from_the_brow_and_missed_from_the_belt()
    {
        ObstacleVerdict brow = CoverageBench.Verdict(Wearing(CoverageBench.Sensor("brow", "brow", 0, 0)), Branch);
        ObstacleVerdict belt = CoverageBench.Verdict(Wearing(CoverageBench.Sensor("belt", "belt front", 0, 0)), Branch);
        Assert.Equal((VerdictOutcome.WarnedInTime, HeightBand.Head), (brow.Outcome, brow.HighBand));
        Assert.Equal((VerdictOutcome.Missed, true), (belt.Outcome, belt.IsDanger));
        Assert.True(belt.MarginAtNeedDecibels < 0);
        Assert.True(belt.Cause is LimitingCause.OutOfBeam or LimitingCause.TooWeak, belt.Cause.ToString());
    }

    [Fact]
    public void Swapped_sides_announce_a_post_on_the_wrong_side()
    {
        Obstacle left = Lamp with { PositionMetres = new Vec3(6, 0.22, 0) };
        ObstacleVerdict right = CoverageBench.Verdict(Wearing(CoverageBench.Sensor("one", "chest left", 10, 0, AnnouncedSide.Left)), left);
        ObstacleVerdict wrong = CoverageBench.Verdict(Wearing(CoverageBench.Sensor("one", "chest left", 10, 0, AnnouncedSide.Right)), left);
        Assert.Equal((VerdictOutcome.WarnedInTime, HazardSide.Left), (right.Outcome, right.Side));
        Assert.Equal((VerdictOutcome.WrongSide, LimitingCause.WrongSide, true), (wrong.Outcome, wrong.Cause, wrong.IsDanger));
        Assert.Equal(right.FirstReliableMetres, wrong.FirstReliableMetres);
    }

    // Square-on a 0.3 m board is a mirror that looks back; turned 30° it looks away, in the middle of the same beam.
    [Fact]
    public void A_board_turned_thirty_degrees_is_missed_because_the_echo_leaves_the_receiver()
    {
        PosedLayout brow = Wearing(CoverageBench.Sensor("brow", "brow", 0, 0));
        Obstacle board = Obstacle.Board("board", new Vec3(6, 0, 1.68), 0.3, 0.3);
        Assert.Equal(VerdictOutcome.WarnedInTime, CoverageBench.Verdict(brow, board).Outcome);
        ObstacleVerdict turned = CoverageBench.Verdict(brow, board with { Yaw = Angle.FromDegrees(30) });
        Assert.Equal(LimitingCause.Specular, turned.Cause);
        Assert.True(turned.IsDanger && turned.MarginAtNeedDecibels < 0, turned.Outcome.ToString());
    }

    [Fact]
    public void A_step_down_on_a_smooth_floor_is_never_claimed_as_detected()
    {
        Transducer keen = CoverageBench.WidePair with { Threshold = ThresholdProfile.Constant(20), NoiseLevelDecibels = 0 };
        foreach ((double tilt, Transducer part) in new[] { (0.0, CoverageBench.WidePair), (-15, CoverageBench.WidePair), (0, keen), (-20, keen), (-40, keen) })
        {
            PosedLayout belt = Wearing(CoverageBench.Sensor("belt", "belt front", 0, tilt, transducer: part));
            if (tilt == -15)
            {
                Assert.True(CoverageBench.Verdict(belt, Obstacle.KerbUp("kerb", new Vec3(5, 0, 0), 0.15, 3)).FirstReliableMetres > 0, "it would hear a kerb");
            }

            foreach (double drop in new[] { 0.06, 0.15, 0.9 })
            {
                ObstacleVerdict verdict = CoverageBench.Board(
                    belt, CoverageBench.Walk, Ground.SmoothTile, Obstacle.StepDown("edge", new Vec3(5, 0, 0), drop, 3)).Verdict(0);
                Assert.Equal((VerdictOutcome.Missed, true, 0.0), (verdict.Outcome, verdict.IsDanger, verdict.FirstReliableMetres));
                Assert.NotEqual(LimitingCause.None, verdict.Cause);
            }
        }
    }

    // The ball hangs 0.3 m behind the wall; taken alone it is heard from the same place.
    [Fact]
    public void What_stands_behind_a_wall_is_hidden_by_it()
    {
        PosedLayout brow = Wearing(CoverageBench.Sensor("brow", "brow", 0, 0));
        Obstacle hidden = Obstacle.Sphere("behind", new Vec3(6.3, 0, 1.68), 0.35), wall = Obstacle.Wall("wall", new Vec3(6, 0, 0), 3, 2.5);
        ObstacleVerdict alone = CoverageBench.Verdict(brow, hidden);
        Assert.True(alone.FirstReliableMetres > 0);
        ImmutableArray<ObstacleVerdict> both = CoverageBench.Board(brow, hidden, wall).Verdicts();
        Assert.Equal((0.0, LimitingCause.OccludedByObstacle), (both[0].FirstReliableMetres, both[0].Cause));
        Assert.Equal(VerdictOutcome.WarnedInTime, both[1].Outcome);
        Assert.Equal(("wall", "hidden by wall"), (both[0].HiddenBy, SonarGeom.Studies.Findings.InWords(both[0])));
        Assert.Equal(string.Empty, both[1].HiddenBy);
    }

    // A rod on the line, a rod beside it within the zone, leaves where nothing solid stands: each is told by its name.
    [Fact]
    public void The_one_in_the_way_is_the_one_that_is_named()
    {
        Obstacle far = Obstacle.Board("far", new Vec3(3, 0, 1.5), 1, 1), rod = Obstacle.Pole("rod", new Vec3(1.5, 0, 0), 0.1, 2),
            beside = Obstacle.Pole("beside", new Vec3(1.5, 0.09, 0), 0.06, 2), aside = Obstacle.Pole("aside", new Vec3(1.5, 0.6, 0), 0.1, 2),
            leaves = Obstacle.Foliage("leaves", new Vec3(1, 0, 1.3), FoliageForm.Ellipsoid, 0.4, 0.4, 0.4, 0.05, 500);
        Assert.Equal("rod", Named(rod, beside, aside, leaves));
        Assert.Equal("beside", Named(aside, beside, leaves));
        Assert.Equal("leaves", Named(aside, leaves));
        Assert.Null(Named(aside));

        string? Named(params Obstacle[] others)
        {
            Screen screen = Screen.OthersThan(new ObstacleSet("set", string.Empty, null, [far, .. others]), 0)!;
            var sensor = new SensorAtPose(
                new PreparedTransducer(CoverageBench.WidePair, new EchoMedium(SonarGeom.Air.AirState.Standard)), new RigidTransform(Rotation.Identity, new Vec3(0, 0, 1.5)));
            return screen.InTheWay(sensor, new Vec3(3, 0, 1.5), Vec3.Zero)?.Id;
        }
    }

    // A keen wide part tilted 60° down over tile hears the floor under itself before anything that lies farther off.
    [Fact]
    public void A_wide_part_tilted_steeply_down_hears_the_floor_and_nothing_behind_it()
    {
        Transducer keen = CoverageBench.WidePair with { Threshold = CoverageBench.WidePair.Threshold.RaisedBy(-10) };
        PosedLayout level = Wearing(CoverageBench.Sensor("belt", "belt front", 0, -10, transducer: CoverageBench.WidePair));
        PosedLayout steep = Wearing(CoverageBench.Sensor("belt", "belt front", 0, -60, transducer: keen));
        Assert.True(double.IsInfinity(level.FloorRangeMetres(0)) && level.FloorMarginDecibels(0) < 0);
        Assert.True(steep.FloorMarginDecibels(0) >= 0);
        Assert.Equal(1, steep.FloorPhasesFraction(0));

        // The mirror in the floor is straight below: as far as the belt is high.
        double height = Enumerable.Range(0, steep.PhaseCount).Min(p => steep.Sensor(0, p).MidpointMetres.Z);
        Assert.Equal(height, steep.FloorRangeMetres(0), 0.05);

        // A wall ahead would be loud enough even so, but the floor comes first.
        ObstacleVerdict verdict = CoverageBench.Verdict(steep, Obstacle.Wall("wall", new Vec3(6, 0, 0), 3, 2.5));
        Assert.Equal(VerdictOutcome.Missed, verdict.Outcome);
        Assert.Equal(LimitingCause.MaskedByFloor, verdict.Cause);
    }

    // A far sensor with a long ring-down: 0.9 m of dead zone reach well beyond the chest, and a wall is loud all the way to it.
    [Theory]
    [InlineData(0.20)]
    [InlineData(0.05)]
    [InlineData(0.02)]
    public void Silence_inside_the_dead_zone_breaks_no_report_off(double stepMetres)
    {
        Transducer ringing = CoverageBench.WidePair with { BlankingSeconds = 0.0052 };
        PosedLayout sternum = Wearing(CoverageBench.Sensor("sternum", "sternum", 0, 0, transducer: ringing));
        Assert.InRange(sternum.DeadZoneMetres(0), 0.85, 0.95);
        VerdictBoard board = VerdictBoard.Of(
            sternum, CoverageBench.Walk with { Hold = HoldRule.DeadZone }, CoverageBench.Coarse with { DistanceStepMetres = stepMetres },
            new ObstacleSet("for tests", string.Empty, null, [Obstacle.Wall("wall", new Vec3(6, 0, 0), 3, 2.5)]));
        ObstacleVerdict wall = board.Verdict(0);
        Assert.Equal((VerdictOutcome.WarnedInTime, LimitingCause.None), (wall.Outcome, wall.Cause));
        Assert.Equal(0, wall.LostAgainBelowMetres);
        Assert.InRange(wall.FirstReliableMetres, 2.9, 3.2);
    }

    // The floor would be reported from the belt's height on: without ground nothing is.
    [Fact]
    public void Without_ground_nothing_comes_back_from_below()
    {
        SensorLayout down = CoverageBench.Layout(CoverageBench.Sensor("belt", "belt front", 0, -60));
        PosedLayout tile = CoverageBench.Pose(down);
        PosedLayout none = PosedLayout.Prepare(tile.Body, SonarGeom.Walks.SwayEnvelope.Of(tile.Body, 0.8), down, tile.Medium, null, CoverageBench.Phases);
        Assert.True(double.IsFinite(tile.FloorRangeMetres(0)) && tile.FloorMarginDecibels(0) > 0);
        Assert.Null(none.Ground);
        Assert.Equal(double.PositiveInfinity, none.FloorRangeMetres(0));
        Assert.Equal(double.NegativeInfinity, none.FloorMarginDecibels(0));
        Assert.Equal(0, none.FloorPhasesFraction(0));
    }

    [Fact]
    public void The_dead_zone_and_the_window_bound_what_is_heard()
    {
        Transducer shortEar = CoverageBench.WidePair with { ListeningWindowSeconds = 0.007 };
        ObstacleVerdict late = CoverageBench.Verdict(Wearing(CoverageBench.Sensor("brow", "brow", 0, 0, transducer: shortEar)), Lamp);
        Assert.Equal((VerdictOutcome.TooLate, LimitingCause.OutsideListeningWindow), (late.Outcome, late.Cause));
        Assert.InRange(late.FirstReliableMetres, 0.5, 1.2);
        PosedLayout brow = Wearing(CoverageBench.Sensor("brow", "brow", 0, 0));
        ProbeTarget sphere = ProbeTarget.Of(CoverageBench.Sphere);
        Vec3 face = brow.Sensor(0, 0).MidpointMetres;
        Assert.Equal(double.NegativeInfinity, brow.MarginDecibels(0, 0, sphere, face + new Vec3(brow.DeadZoneMetres(0) + 0.05 - 0.02, 0, 0)));
        Assert.True(brow.MarginDecibels(0, 0, sphere, face + new Vec3(brow.DeadZoneMetres(0) + 0.05 + 0.02, 0, 0)) > 0);
    }

    [Fact]
    public void A_trunk_sensor_behind_its_back_is_hidden_by_the_wearer()
    {
        PosedLayout back = Wearing(CoverageBench.Sensor("back", "back", 0, 0));
        ObstacleVerdict verdict = CoverageBench.Verdict(back, Obstacle.Wall("wall", new Vec3(6, 0, 0), 3, 2.5));
        Assert.Equal((VerdictOutcome.Missed, LimitingCause.OccludedByWearer), (verdict.Outcome, verdict.Cause));
    }

    [Fact]
    public void A_hazard_that_comes_towards_the_wearer_must_be_heard_farther_off()
    {
        ObstacleVerdict coming = CoverageBench.Verdict(Man, Lamp with { ClosingSpeedMetresPerSecond = 4 });
        Assert.Equal(4.8, coming.ClosingSpeedMetresPerSecond, 1e-12);
        Assert.True(coming.IsDanger);
        Assert.True(coming.WarningSeconds < CoverageBench.Verdict(Man, Lamp).WarningSeconds);
    }

    // Distances are looked at every 0.1 m; what is warned of must be heard between them too, every 10 mm.
    [Fact]
    public void What_is_warned_of_is_heard_between_the_steps_of_the_search()
    {
        Obstacle[] obstacles =
        [
            Lamp, Branch, Obstacle.Pole("post", new Vec3(6, 0.1, 0), 0.04, 2), Obstacle.KerbUp("kerb", new Vec3(6, 0, 0), 0.12, 3),
            Obstacle.Box("bin", new Vec3(6, 0, 0), 0.4, 0.5, 0.9), Obstacle.Bollard("bollard", new Vec3(6, 0, 0), 0.12, 0.9, CapShape.Domed, 0.06),
        ];
        foreach (Obstacle obstacle in obstacles)
        {
            ObstacleVerdict verdict = CoverageBench.Verdict(Man, obstacle);
            Assert.Equal(VerdictOutcome.WarnedInTime, verdict.Outcome);
            Contact contact = Contact.Of(Man, obstacle);
            TargetPart[] parts = [.. obstacle.Parts(Man.Ground).Where(p => p.CountsAsDetection)];
            for (double d = verdict.FirstReliableMetres; d > 0.8 * verdict.TimeNeededSeconds; d -= 0.01)
            {
                var offset = new Vec3(d - contact.WalkerXMetres, 0, 0);
                Assert.True(
                    Enumerable.Range(0, Man.PhaseCount).All(p => Enumerable.Range(0, Man.SensorCount).Any(s =>
                        Man.MarginDecibels(s, p, parts, offset, null, out _) >= 0)),
                    $"{obstacle.Id} at {d:0.00} m");
            }
        }
    }

    [Fact]
    public void A_board_with_one_sensor_replaced_is_a_fresh_board()
    {
        Obstacle[] obstacles = [Lamp, Branch with { PositionMetres = new Vec3(11, 0.1, 1.65) }, Obstacle.KerbUp("kerb", new Vec3(15, 0, 0), 0.12, 3)];
        VerdictBoard board = CoverageBench.Board(Man, obstacles);
        PosedLayout changed = Man.WithSensor(3, CoverageBench.Sensor("belt", "belt front", 10, -25));
        Assert.Equal(CoverageBench.Board(changed, obstacles).Verdicts().ToArray(), board.WithLayout(3, changed).Verdicts().ToArray());
        Assert.Equal(board.Verdicts().ToArray(), board.WithLayout(0, Man).Verdicts().ToArray());
    }

    [Fact]
    public void No_loss_changes_nothing_more_loss_never_helps_and_a_dead_sensor_is_as_none()
    {
        Obstacle[] obstacles = [Lamp, Branch with { PositionMetres = new Vec3(11, 0.1, 1.65) }, Obstacle.Wall("wall", new Vec3(15, 0, 0), 3, 2.5)];
        VerdictBoard board = CoverageBench.Board(Man, obstacles);
        Assert.Equal(board.Verdicts().ToArray(), board.WithLoss(1, 0).Verdicts().ToArray());
        ImmutableArray<ObstacleVerdict> whole = board.Verdicts(), covered = board.WithLoss(0, 12).Verdicts(), dead = board.WithLoss(0, double.PositiveInfinity).Verdicts();
        ImmutableArray<ObstacleVerdict> without = CoverageBench.Board(
            Man.WithLayout(CoverageBench.Layout([.. CoverageBench.Standard.Sensors.RemoveAt(0)])), obstacles).Verdicts();
        for (int i = 0; i < obstacles.Length; i++)
        {
            Assert.True(covered[i].FirstReliableMetres <= whole[i].FirstReliableMetres && dead[i].FirstReliableMetres <= covered[i].FirstReliableMetres);
            Assert.Equal((without[i].FirstReliableMetres, without[i].WarningSeconds), (dead[i].FirstReliableMetres, dead[i].WarningSeconds));
        }
    }

    [Fact]
    public void What_could_not_warn_would_not_warn()
    {
        Obstacle[] obstacles =
        [
            Lamp, Branch, Obstacle.Wall("wall", new Vec3(6, 0, 0), 3, 2.5) with { Yaw = Angle.FromDegrees(20) }, Obstacle.KerbUp("kerb", new Vec3(6, 0, 0), 0.12, 3),
            Obstacle.Board("board", new Vec3(6, 0.1, 1.4), 0.3, 0.3) with { Yaw = Angle.FromDegrees(15) },
        ];
        PosedLayout layout = Wearing(CoverageBench.Sensor("chest", "sternum", 0, 30));
        int could = 0, would = 0, tried = 0;
        for (int i = 0; i < obstacles.Length; i++)
        {
            VerdictBoard board = CoverageBench.Board(layout, obstacles[i]);
            foreach (SensorPlacement placement in new[]
            {
                CoverageBench.Sensor("chest", "sternum", 0, 10), CoverageBench.Sensor("chest", "brow", -15, 0), CoverageBench.Sensor("chest", "belt front", 20, -20),
                CoverageBench.Sensor("chest", "back", 0, 0), CoverageBench.Sensor("chest", "shin left", 0, 0),
            })
            {
                tried++;
                bool possible = board.CouldWarn(0, 0, layout.BarePoses(placement));
                PosedLayout changed = layout.WithSensor(0, placement);
                bool warns = board.WouldWarn(0, 0, changed);
                Assert.True(possible || !warns, $"{obstacles[i].Id} from {placement.Mount.Site}");
                Assert.Equal(CoverageBench.Verdict(changed, obstacles[i]).Outcome == VerdictOutcome.WarnedInTime, warns);
                could += possible ? 1 : 0;
                would += warns ? 1 : 0;
            }
        }

        Assert.True(would > 3 && could < tried, $"{would} would, {could} could, {tried} tried");
    }
}
