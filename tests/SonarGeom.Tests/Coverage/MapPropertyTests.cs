using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Coverage;

/// <summary>What must hold of maps and verdicts whatever the layout.</summary>
public class MapPropertyTests
{
    private static readonly Transducer Loud = CoverageBench.WidePair with { Threshold = CoverageBench.WidePair.Threshold.RaisedBy(-12) };

    /// <summary>One-sided on purpose, so that a mirror shows.</summary>
    private static readonly SensorLayout OneSided = CoverageBench.Layout(
        CoverageBench.Sensor("brow", "brow", 7, 4, rollDegrees: 20),
        CoverageBench.Sensor("chest", "chest left", 25, 8, AnnouncedSide.Left, rollDegrees: -35),
        CoverageBench.Sensor("belt", "belt front right", -12, -15, AnnouncedSide.Right, Loud, offset: new Vec3(0.01, 0.02, 0)));

    private static readonly Lazy<PosedLayout> OneSidedPosed = new(() => CoverageBench.OnMan.WithLayout(OneSided));

    public static TheoryData<int> Probes => [0, 1, 2, 3, 4];

    [Theory]
    [MemberData(nameof(Probes))]
    public void A_mirrored_layout_has_the_mirrored_map(int number)
    {
        Probe probe = Probe.Defaults[number], mirrorProbe = probe with { Yaw = -probe.Yaw };
        ApproachMap map = CoverageBench.Map(OneSidedPosed.Value, probe);
        ApproachMap mirror = CoverageBench.Map(CoverageBench.OnMan.WithLayout(CoverageBench.Mirrored(OneSided)), mirrorProbe);
        Assert.Equal((map.Grid.Columns, map.Grid.Rows), (mirror.Grid.Columns, mirror.Grid.Rows));
        for (int row = 0; row < map.Grid.Rows; row++)
        {
            for (int column = 0; column < map.Grid.Columns; column++)
            {
                int i = map.Grid.Index(column, row), j = map.Grid.Index(map.Grid.Columns - 1 - column, row);
                string where = $"{probe.Name}, column {column}, row {row}";
                Assert.True(map.InSilhouette[i] == mirror.InSilhouette[j], where);
                Assert.True(map.WarningSeconds[i] == mirror.WarningSeconds[j], $"{where}: {map.WarningSeconds[i]} and {mirror.WarningSeconds[j]}");
                Assert.True(map.UnbrokenWarningSeconds[i] == mirror.UnbrokenWarningSeconds[j], where);
                Assert.True(map.Causes[i] == mirror.Causes[j], $"{where}: {map.Causes[i]} and {mirror.Causes[j]}");
                Assert.True(map.FirstSensor[i] == mirror.FirstSensor[j] && map.SensorsHearing[i] == mirror.SensorsHearing[j], where);
            }
        }

        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map), mirrored = BlindZoneFinder.Find(mirror);
        Assert.Equal(zones.Length, mirrored.Length);
        foreach (BlindZone zone in zones)
        {
            BlindZone other = Assert.Single(mirrored, z =>
                z.Band == zone.Band && Math.Abs(z.LowZMetres - zone.LowZMetres) < 1e-9 && Math.Abs(z.RightYMetres + zone.LeftYMetres) < 1e-9);
            Assert.Equal(zone.LeftYMetres, -other.RightYMetres, 1e-9);
            Assert.Equal(zone.InscribedDiameterMetres, other.InscribedDiameterMetres, 1e-9);
            Assert.Equal(zone.Cause, other.Cause);
        }
    }

    [Theory]
    [InlineData("median woman", 6, 0.04)]
    [InlineData("stooped elder", 10, 0.05)]
    [InlineData("manual wheelchair", 4, 0.06)]
    [InlineData("girl of ten", 8, 0.05)]
    public void Mirrors_hold_for_every_wearer_grid_and_number_of_phases(string wearer, int phases, double cell)
    {
        Body body = Wearers.Build(Wearers.Varied[wearer]);
        WalkSettings walk = CoverageBench.Walk with { StridePhases = phases };
        MapSettings settings = CoverageBench.Coarse with { CellMetres = cell };
        ApproachMap map = CoverageBench.Map(CoverageBench.Pose(OneSided, body, phases: phases), CoverageBench.Branch, walk, settings);
        ApproachMap mirror = CoverageBench.Map(CoverageBench.Pose(CoverageBench.Mirrored(OneSided), body, phases: phases), CoverageBench.Branch, walk, settings);
        for (int i = 0; i < map.Grid.Count; i++)
        {
            int j = map.Grid.Index(map.Grid.Columns - 1 - (i % map.Grid.Columns), i / map.Grid.Columns);
            Assert.Equal((map.InSilhouette[i], map.WarningSeconds[i], map.UnbrokenWarningSeconds[i], map.Causes[i]), (mirror.InSilhouette[j], mirror.WarningSeconds[j], mirror.UnbrokenWarningSeconds[j], mirror.Causes[j]));
        }
    }

    [Fact]
    public void Mirrored_obstacles_get_the_mirrored_verdicts()
    {
        Obstacle[] obstacles =
        [
            Obstacle.Pole("pole", new Vec3(5, 0.2, 0), 0.114, 4),
            Obstacle.Board("board", new Vec3(12, -0.15, 1.6), 0.4, 0.3) with { Yaw = Angle.FromDegrees(12) },
            Obstacle.Bar("branch", new Vec3(19, 0.1, 1.65), 0.03, 0.7) with { Yaw = Angle.FromDegrees(-9) },
            Obstacle.Pole("beside", new Vec3(26, 0.9, 0), 0.2, 3),
            Obstacle.KerbUp("kerb", new Vec3(33, 0, 0), 0.12, 3),
        ];
        Obstacle[] mirrored = [.. obstacles.Select(o => o with { PositionMetres = o.PositionMetres.MirroredLeftRight(), Yaw = -o.Yaw })];
        ImmutableArray<ObstacleVerdict> here = CoverageBench.Board(OneSidedPosed.Value, obstacles).Verdicts();
        ImmutableArray<ObstacleVerdict> there = CoverageBench.Board(CoverageBench.OnMan.WithLayout(CoverageBench.Mirrored(OneSided)), mirrored).Verdicts();
        for (int i = 0; i < obstacles.Length; i++)
        {
            Assert.Equal((here[i].Outcome, here[i].FirstReliableMetres, here[i].Cause, here[i].Sensor), (there[i].Outcome, there[i].FirstReliableMetres, there[i].Cause, there[i].Sensor));

            // Contact is found by rays, whose hits on the mirrored mesh agree to about 1e-8 m: the echo then to 1e-4 dB.
            Assert.Equal(here[i].MarginAtNeedDecibels, there[i].MarginAtNeedDecibels, 1e-4);
            Assert.NotEqual(here[i].Side == HazardSide.Centre, here[i].Side != there[i].Side);
        }
    }

    [Fact]
    public void A_lower_threshold_never_loses_a_cell()
    {
        SensorLayout deaf = CoverageBench.Layout([.. CoverageBench.Standard.Sensors.Where(s => s.Name != "belt")]);
        SensorLayout keen = deaf.WithSensors([.. deaf.Sensors.Select(s => s with
        {
            Transducer = s.Transducer with { Threshold = s.Transducer.Threshold.RaisedBy(-6) },
        })]);
        PosedLayout before = CoverageBench.OnMan.WithLayout(deaf), after = CoverageBench.OnMan.WithLayout(keen);
        Assert.All(Enumerable.Range(0, 3), s => Assert.True(
            double.IsInfinity(after.FloorRangeMetres(s)) && double.IsInfinity(after.LimbEcho(s).RangeMetres) && before.DeadZoneMetres(s) == after.DeadZoneMetres(s)));
        int gained = 0;
        foreach (Probe probe in Probe.Defaults)
        {
            ApproachMap dull = CoverageBench.Map(before, probe), sharp = CoverageBench.Map(after, probe);
            for (int i = 0; i < dull.Grid.Count; i++)
            {
                Assert.True(sharp.WarningSeconds[i] >= dull.WarningSeconds[i], $"{probe.Name}, cell {i}");
                gained += sharp.WarningSeconds[i] > dull.WarningSeconds[i] ? 1 : 0;
            }
        }

        Assert.True(gained > 100);
    }

    // A share counted in cells is off by the cells on the border of what is warned of: about half a cell on each of two borders
    // across a band that is 0.3 m high or more, thus cell / 0.3.
    [Fact]
    public void Finer_grids_converge()
    {
        double[] cells = [0.10, 0.05, 0.025];
        BandShare[][] shares = [.. cells.Select(c =>
            CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch, settings: CoverageBench.Coarse with { CellMetres = c }).Shares().ToArray())];
        for (int band = 0; band < 5; band++)
        {
            Assert.InRange(Math.Abs(shares[0][band].WarnedFraction - shares[2][band].WarnedFraction), 0, cells[0] / 0.3);
            Assert.InRange(Math.Abs(shares[1][band].WarnedFraction - shares[2][band].WarnedFraction), 0, cells[1] / 0.3);
            double area = shares[2][band].Cells * cells[2] * cells[2];
            Assert.InRange(Math.Abs((shares[1][band].Cells * cells[1] * cells[1]) - area), 0, cells[1] / 0.3 * area);
        }
    }

    [Fact]
    public void A_cell_has_the_same_answer_on_every_grid_that_holds_its_middle()
    {
        ApproachMap coarse = CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch, settings: CoverageBench.Coarse with { CellMetres = 0.15 });
        ApproachMap fine = CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch, settings: CoverageBench.Coarse with { CellMetres = 0.05 });
        int looked = 0, other = 0;
        for (int i = 0; i < coarse.Grid.Count; i++)
        {
            int j = fine.Grid.IndexAt(coarse.Grid.YMetres(i % coarse.Grid.Columns), coarse.Grid.ZMetres(i / coarse.Grid.Columns));
            if (j >= 0)
            {
                // The two grids write the same middle with other last digits. Where a margin is zero to those digits, or the probe's edge
                // lies on an edge of the silhouette's raster, the last halving of the search may fall the other way: 25 mm at 0.8 m/s.
                looked++;
                other += Math.Abs(coarse.WarningSeconds[i] - fine.WarningSeconds[j]) > 1e-5f ? 1 : 0;
                Assert.Equal(coarse.WarningSeconds[i], fine.WarningSeconds[j], 0.0313f);
            }
        }

        Assert.True(other <= looked / 25, $"{other} of {looked}");
    }

    [Fact]
    public void Maps_and_boards_are_the_same_bytes_on_every_run_and_under_load()
    {
        PosedLayout layout = CoverageBench.OnMan;
        Obstacle[] obstacles = [Obstacle.Pole("pole", new Vec3(5, 0.1, 0), 0.114, 4), Obstacle.Wall("wall", new Vec3(9, 0, 0), 3, 2.5)];
        ApproachMap[] maps = new ApproachMap[5];
        ImmutableArray<ObstacleVerdict>[] verdicts = new ImmutableArray<ObstacleVerdict>[5];
        (maps[0], verdicts[0]) = Work();
        Parallel.For(1, 5, i => (maps[i], verdicts[i]) = Work());
        for (int i = 1; i < 5; i++)
        {
            Assert.Equal(maps[0].WarningSeconds.ToArray(), maps[i].WarningSeconds.ToArray());
            Assert.Equal(maps[0].UnbrokenWarningSeconds.ToArray(), maps[i].UnbrokenWarningSeconds.ToArray());
            Assert.Equal(maps[0].Causes.ToArray(), maps[i].Causes.ToArray());
            Assert.Equal(maps[0].FirstSensor.ToArray(), maps[i].FirstSensor.ToArray());
            Assert.Equal(maps[0].SensorsHearing.ToArray(), maps[i].SensorsHearing.ToArray());
            Assert.Equal(maps[0].Evaluations, maps[i].Evaluations);
            Assert.Equal(verdicts[0].ToArray(), verdicts[i].ToArray());
        }

        (ApproachMap, ImmutableArray<ObstacleVerdict>) Work() =>
            (CoverageBench.Map(layout, CoverageBench.Branch), CoverageBench.Board(layout, obstacles).Verdicts());
    }

    [Fact]
    public void A_band_alone_has_the_cells_and_shares_of_the_whole_map()
    {
        var mapper = new ApproachMapper(CoverageBench.OnMan, CoverageBench.Walk, CoverageBench.Coarse);
        ApproachMap whole = mapper.Map(CoverageBench.Branch), head = mapper.Map(CoverageBench.Branch, HeightBand.Head);
        Assert.Equal(whole.ShareOf(HeightBand.Head), head.ShareOf(HeightBand.Head));
        Assert.Equal(whole.ShareOf(HeightBand.Head), mapper.ShareOf(CoverageBench.Branch, HeightBand.Head));
        Assert.Equal(whole.Shares().ToArray(), mapper.Shares(CoverageBench.Branch).ToArray());
        for (int i = 0; i < whole.Grid.Count; i++)
        {
            bool inBand = whole.RowBands[i / whole.Grid.Columns] == HeightBand.Head;
            Assert.True(inBand ? whole.WarningSeconds[i] == head.WarningSeconds[i] : !head.InSilhouette[i] && !head.IsWarnedInTime(i));
        }
    }

    [Fact]
    public void Replacing_one_sensor_is_posing_the_whole_layout_anew()
    {
        SensorPlacement tilted = CoverageBench.Sensor("brow", "brow", 5, -12), moved = CoverageBench.Sensor("brow", "sternum", 0, 20);
        foreach (SensorPlacement placement in new[] { tilted, moved })
        {
            PosedLayout replaced = CoverageBench.OnMan.WithSensor(0, placement);
            PosedLayout anew = CoverageBench.Pose(CoverageBench.Standard.WithSensors(CoverageBench.Standard.Sensors.SetItem(0, placement)));
            Same(replaced, anew);
            Same(CoverageBench.OnMan.WithLayout(replaced.Layout), anew);
            Assert.Equal(CoverageBench.Map(anew, CoverageBench.Branch).WarningSeconds.ToArray(), CoverageBench.Map(replaced, CoverageBench.Branch).WarningSeconds.ToArray());
        }

        static void Same(PosedLayout one, PosedLayout other)
        {
            ProbeTarget target = ProbeTarget.Of(CoverageBench.Branch);
            for (int s = 0; s < one.SensorCount; s++)
            {
                Assert.Equal((one.FloorMarginDecibels(s), one.FloorRangeMetres(s), one.LimbEcho(s)), (other.FloorMarginDecibels(s), other.FloorRangeMetres(s), other.LimbEcho(s)));
                for (int p = 0; p < one.PhaseCount; p++)
                {
                    Assert.Equal(one.Sensor(s, p).WorldFromSensor, other.Sensor(s, p).WorldFromSensor);
                    foreach (Vec3 at in new[] { new Vec3(1.5, 0.1, 1.6), new Vec3(2, -0.2, 1.1), new Vec3(1, 0.3, 0.4) })
                    {
                        Assert.Equal(one.MarginDecibels(s, p, target, at), other.MarginDecibels(s, p, target, at));
                    }
                }
            }
        }
    }

    // Rotations multiply out with rounding of about 1e-15; echoes of phases of hundreds of radians keep twelve digits.
    [Theory]
    [InlineData(30)]
    [InlineData(-75)]
    [InlineData(160)]
    public void Turning_wearer_and_obstacle_together_changes_nothing(double degrees)
    {
        PosedLayout layout = OneSidedPosed.Value, turned = layout.TurnedBy(Angle.FromDegrees(degrees));
        Rotation turn = Rotation.AboutZ(Angle.FromDegrees(degrees));
        int heard = 0;
        foreach (Probe probe in Probe.Defaults)
        {
            ImmutableArray<TargetPart> parts = ProbeTarget.Of(probe).Parts;
            ImmutableArray<TargetPart> partsTurned = [.. parts.Select(p => p.Moved(new RigidTransform(turn, Vec3.Zero)))];
            foreach (Vec3 at in new[] { new Vec3(1.2, 0.1, 1.7), new Vec3(1.6, 0.3, 1.3), new Vec3(0.9, -0.2, 1.0), new Vec3(2.0, 0, 0.6) })
            {
                for (int s = 0; s < layout.SensorCount; s++)
                {
                    for (int p = 0; p < layout.PhaseCount; p++)
                    {
                        double here = layout.MarginDecibels(s, p, parts.AsSpan(), at, null, out int answering);
                        double there = turned.MarginDecibels(s, p, partsTurned.AsSpan(), turn.Apply(at), null, out int other);
                        Assert.Equal(answering, other);
                        Assert.True(here == there || Math.Abs(here - there) < 1e-6, $"{probe.Name} at {at}: {here} and {there} dB");
                        heard += here >= 0 ? 1 : 0;
                    }
                }
            }
        }

        Assert.True(heard > 20);
    }

    [Fact]
    public void Moving_all_obstacles_along_the_path_changes_no_verdict()
    {
        Obstacle[] obstacles =
        [
            Obstacle.Pole("pole", new Vec3(5, 0.1, 0), 0.114, 4), Obstacle.Board("board", new Vec3(9, -0.15, 1.6), 0.4, 0.3),
            Obstacle.Bar("branch", new Vec3(13, 0.1, 1.65), 0.03, 0.7),
        ];
        ImmutableArray<ObstacleVerdict> here = CoverageBench.Board(CoverageBench.OnMan, obstacles).Verdicts();
        ImmutableArray<ObstacleVerdict> there = CoverageBench.Board(
            CoverageBench.OnMan, [.. obstacles.Select(o => o.MovedBy(new Vec3(17.25, 0, 0)))]).Verdicts();
        for (int i = 0; i < here.Length; i++)
        {
            Assert.Equal(
                here[i] with { Obstacle = obstacles[i], MarginAtNeedDecibels = 0, },
                there[i] with { Obstacle = obstacles[i], MarginAtNeedDecibels = 0, });
            Assert.Equal(here[i].MarginAtNeedDecibels, there[i].MarginAtNeedDecibels, 1e-4);
        }
    }

    // A symmetric layout cannot tell a path from the left from one from the right.
    [Fact]
    public void Shares_from_the_left_are_those_from_the_right()
    {
        ImmutableArray<AzimuthShare> shares = AzimuthStudy.Of(CoverageBench.OnMan, CoverageBench.Branch, CoverageBench.Walk, CoverageBench.Coarse, 30);
        Assert.Equal([-60.0, -30, 0, 30, 60], shares.Select(s => s.AzimuthDegrees));
        for (int i = 0; i < 2; i++)
        {
            Assert.Equal(shares[i].Shares.Select(s => (s.Band, s.Cells, s.WarnedCells)), shares[4 - i].Shares.Select(s => (s.Band, s.Cells, s.WarnedCells)));
        }

        Assert.Equal(CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch).Shares().ToArray(), shares[2].Shares.ToArray());
    }

    // What comes from 60° to the left is on the left, wherever on the body it will touch: a sensor that says so is right.
    [Fact]
    public void A_path_from_the_left_is_rightly_announced_on_the_left()
    {
        foreach ((AnnouncedSide announced, bool isRight) in new[] { (AnnouncedSide.Left, true), (AnnouncedSide.Right, false), (AnnouncedSide.Ahead, true) })
        {
            PosedLayout layout = CoverageBench.OnMan.WithLayout(CoverageBench.Layout(CoverageBench.Sensor("chest", "chest left", 60, 0, announced)));
            ApproachMap map = CoverageBench.Map(layout.TurnedBy(Angle.FromDegrees(-60)), Probe.Defaults[0]);
            int reported = map.FirstSensor.Count(s => s >= 0), wrong = map.Causes.Count(c => c == LimitingCause.WrongSide);
            Assert.True(reported > 5);
            Assert.Equal(isRight ? 0 : reported, wrong);
        }
    }
}
