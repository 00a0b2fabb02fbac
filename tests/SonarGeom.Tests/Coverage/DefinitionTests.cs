using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Coverage;

/// <summary>One meaning for each figure.</summary>
public class DefinitionTests
{
    // By hand: 2 reports of 0.24 s, 0.05 s to the alert, 1 s to react, 0.8 / (2 · 1) = 0.4 s to stop.
    [Fact]
    public void Time_needed_is_filter_latency_reaction_and_half_the_stop()
    {
        Assert.Equal(1.93, StoppingModel.TimeNeededSeconds(new WalkSettings(), CoverageBench.Firing), 1e-12);

        // 3 · 0.1 + 0.2 + 0.5 + 1.2 / 4
        Assert.Equal(1.3, StoppingModel.TimeNeededSeconds(new WalkSettings(1.2, 0.5, 2.0), new FiringPlan(0.1, 3, 5, 0.2)), 1e-12);
    }

    [Fact]
    public void Time_needed_times_speed_is_the_stopping_distance()
    {
        var walk = new WalkSettings(1.1, 0.7, 1.4);
        var firing = new FiringPlan(0.12, 2, 3, 0.08);
        Assert.Equal(
            StoppingModel.StoppingDistanceMetres(1.1, 0.7, 0.32, 1.4), 1.1 * StoppingModel.TimeNeededSeconds(walk, firing), 1e-12);
    }

    [Theory]
    [InlineData(16, 0.9, 1)]
    [InlineData(10, 0.9, 1)]
    [InlineData(20, 0.9, 2)]
    [InlineData(4, 0.9, 0)]
    [InlineData(16, 1.0, 0)]
    [InlineData(16, 0.5, 8)]
    public void Nine_in_ten_of_sixteen_phases_are_fifteen(int phases, double share, int misses) =>
        Assert.Equal(misses, CellSearch.AllowedMisses(phases, share));

    [Fact]
    public void A_share_of_nothing_still_asks_for_one_report() => Assert.Equal(15, CellSearch.AllowedMisses(16, 0));

    [Fact]
    public void Warning_time_is_distance_over_closing_speed()
    {
        Obstacle standing = Obstacle.Pole("standing", new Vec3(8, 0, 0), 0.114, 3);
        Obstacle coming = standing with { Id = "coming", ClosingSpeedMetresPerSecond = 0.7 };
        foreach (ObstacleVerdict verdict in CoverageBench.Board(CoverageBench.OnMan, standing, coming).Verdicts())
        {
            Assert.True(verdict.FirstReliableMetres > 0);
            Assert.Equal(verdict.FirstReliableMetres / verdict.ClosingSpeedMetresPerSecond, verdict.WarningSeconds, 1e-12);
            Assert.Equal(verdict.Obstacle.Id == "coming" ? 1.5 : 0.8, verdict.ClosingSpeedMetresPerSecond, 1e-12);
        }
    }

    // The first report of a cell is looked for by hand: outward in fine steps from the last useful distance.
    [Fact]
    public void A_cells_warning_time_is_the_last_distance_at_which_every_phase_reports()
    {
        PosedLayout layout = CoverageBench.OnMan;
        ApproachMap map = CoverageBench.Map(layout, CoverageBench.Branch);
        ProbeTarget target = ProbeTarget.Of(CoverageBench.Branch);
        int looked = 0;
        for (int i = 0; i < map.Grid.Count; i++)
        {
            double y = map.Grid.YMetres(i % map.Grid.Columns), z = map.Grid.ZMetres(i / map.Grid.Columns);
            double distance = map.WarningSeconds[i] * map.SpeedMetresPerSecond;
            if (map.WarningSeconds[i] < map.TimeNeededSeconds || distance > CoverageBench.Coarse.HorizonMetres - 0.3)
            {
                continue;
            }

            looked++;
            double front = layout.ForemostXMetres(y, z, target.HalfWidthMetres, target.HalfHeightMetres) + target.HalfDepthMetres;
            Assert.True(IsReported(front + distance - 1e-4), $"cell {i}");

            // Reports at the search's own next steps: an eighth of a step on or the next whole step must fail.
            Assert.False(IsReported(front + distance + 0.025) && IsReported(front + distance + 0.2), $"cell {i}");

            bool IsReported(double x) => Enumerable.Range(0, layout.PhaseCount).All(p =>
                Enumerable.Range(0, layout.SensorCount).Any(s => layout.MarginDecibels(s, p, target, new Vec3(x, y, z)) >= 0));
        }

        Assert.True(looked > 10);
    }

    [Fact]
    public void Reports_hold_down_to_the_dead_zone_unless_a_scenario_says_otherwise() =>
        Assert.Equal(HoldRule.DeadZone, new WalkSettings().Hold);

    [Fact]
    public void Where_reports_begin_in_time_and_break_off_the_cause_is_that_of_the_break()
    {
        WalkSettings strict = CoverageBench.Walk with { Hold = HoldRule.DeadZone };
        ApproachMap usual = CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch);
        ApproachMap held = CoverageBench.Map(CoverageBench.OnMan, CoverageBench.Branch, strict);
        int broken = 0;
        for (int i = 0; i < held.Grid.Count; i++)
        {
            Assert.InRange(held.HeldWarningSeconds[i], held.WarningSeconds[i], usual.WarningSeconds[i] + 1e-6);
            if (held.InSilhouette[i] && usual.IsWarnedInTime(i) && !held.IsWarnedInTime(i) && held.Causes[i] != LimitingCause.WrongSide)
            {
                broken++;
                Assert.NotEqual(LimitingCause.TooLate, held.Causes[i]);
                Assert.NotEqual(LimitingCause.None, held.Causes[i]);
            }
        }

        Assert.True(broken > 0);
    }

    [Fact]
    public void Reports_that_must_hold_to_the_dead_zone_never_warn_earlier()
    {
        foreach (Probe probe in Probe.Defaults)
        {
            ApproachMap usual = CoverageBench.Map(CoverageBench.OnMan, probe);
            ApproachMap strict = CoverageBench.Map(CoverageBench.OnMan, probe, CoverageBench.Walk with { Hold = HoldRule.DeadZone });
            for (int i = 0; i < usual.Grid.Count; i++)
            {
                Assert.True(strict.WarningSeconds[i] <= usual.WarningSeconds[i], $"{probe.Name}, cell {i}");
                Assert.True(usual.UnbrokenWarningSeconds[i] <= usual.WarningSeconds[i], $"{probe.Name}, cell {i}");
                Assert.Equal(strict.WarningSeconds[i], strict.UnbrokenWarningSeconds[i]);
            }
        }
    }

    [Fact]
    public void Bands_lie_where_the_body_says()
    {
        PosedLayout layout = CoverageBench.OnMan;
        Assert.Equal(layout.Body.ChinHeightMetres - 0.05, layout.BandLowMetres(HeightBand.Head), 1e-9);
        Assert.Equal(layout.Body.CrownHeightMetres + 0.10, layout.BandHighMetres(HeightBand.Head), 1e-9);
        Assert.Equal(layout.Body.SternumBaseHeightMetres, layout.BandLowMetres(HeightBand.Chest), 1e-9);
        Assert.Equal(layout.Body.CrotchHeightMetres, layout.BandLowMetres(HeightBand.Waist), 1e-9);
        Assert.Equal(layout.Body.MidShinHeightMetres, layout.BandLowMetres(HeightBand.Knee), 1e-9);
        for (HeightBand band = HeightBand.Foot; band <= HeightBand.Head; band++)
        {
            Assert.Equal(band, layout.BandAt(layout.BandLowMetres(band)));
            Assert.Equal(band, layout.BandAt(layout.BandHighMetres(band) - 1e-9));
        }

        Assert.Equal(HeightBand.Head, layout.BandAt(9));
    }

    [Fact]
    public void Shares_count_the_silhouette_only_and_the_wrong_side_never()
    {
        ApproachMap map = CoverageBench.Drawn(0.05, ["..#  ", ".~#  "]);
        BandShare share = map.ShareOf(HeightBand.Head);
        Assert.Equal((6, 3), (share.Cells, share.WarnedCells));
        Assert.Equal(0.5, share.WarnedFraction, 1e-12);
        Assert.Equal(4, map.ShareOf(HeightBand.Head, 0.9).WarnedCells);
        ApproachMap wrong = map with { Causes = map.Causes.SetItem(0, LimitingCause.WrongSide) };
        Assert.Equal(2, wrong.ShareOf(HeightBand.Head).WarnedCells);
        Assert.Equal(0, wrong.ShareOf(HeightBand.Head).LeastWarningSeconds);
        Assert.Equal(0, map.ShareOf(HeightBand.Foot).WarnedFraction);
    }

    // A layout that announces the wrong side warns nobody, however short the warning that is asked for.
    [Fact]
    public void Cells_announced_on_the_wrong_side_are_never_counted_as_warned()
    {
        SensorLayout swapped = CoverageBench.Layout(
            CoverageBench.Sensor("left", "chest left", 20, 5, AnnouncedSide.Right), CoverageBench.Sensor("right", "chest right", -20, 5, AnnouncedSide.Left));
        PosedLayout posed = CoverageBench.OnMan.WithLayout(swapped);
        ApproachMap map = CoverageBench.Map(posed, CoverageBench.Branch);
        int wrong = 0;
        for (int i = 0; i < map.Grid.Count; i++)
        {
            double y = map.Grid.YMetres(i % map.Grid.Columns);
            bool isWrong = map.FirstSensor[i] >= 0 && (map.FirstSensor[i] == 0 ? y > 0.12 : y < -0.12);
            Assert.Equal(isWrong, map.Causes[i] == LimitingCause.WrongSide);
            wrong += isWrong && map.InSilhouette[i] ? 1 : 0;
        }

        Assert.True(wrong > 0);
        int counted = map.Shares().Sum(s => map.ShareOf(s.Band, 0.01).WarnedCells);
        int heard = Enumerable.Range(0, map.Grid.Count).Count(i => map.InSilhouette[i] && map.WarningSeconds[i] >= 0.01f);
        Assert.Equal(heard - wrong, counted);
    }
}
