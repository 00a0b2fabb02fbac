using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Studies;

public class SideStudyTests
{
    private static readonly MapSettings Curve = CoverageBench.Coarse with { CellMetres = 0.12 };

    private static readonly StudyResources Resources = new(Wearers.Tables, [CoverageBench.WidePair]);

    private static Scenario Street(params WearerSpec[] wearers) => new(
        "street", string.Empty, [.. wearers], CoverageBench.Standard,
        new ObstacleSet("set", string.Empty, Ground.SmoothTile,
        [
            Obstacle.Pole("lamp", new Vec3(6, 0.1, 0), 0.114, 5),
            Obstacle.KerbUp("kerb", new Vec3(12, 0, 0), 0.12, 3),
            Obstacle.Board("high sign", new Vec3(18, 0, 1.86), 0.6, 0.15),
        ]),
        [CoverageBench.Branch], [])
    {
        Walk = CoverageBench.Walk,
        Maps = CoverageBench.Coarse,
    };

    [Fact]
    public void The_tilt_curve_passes_through_the_layout_as_it_is()
    {
        PosedLayout layout = CoverageBench.OnMan.WithLayout(CoverageBench.Layout(
            CoverageBench.Sensor("brow", "brow", 0, 5), CoverageBench.Sensor("belt", "belt front", 0, 0)));
        TiltCurve curve = TiltStudy.Of(layout, 0, CoverageBench.Branch, CoverageBench.Walk, Curve);
        TiltPoint now = Assert.Single(curve.Points, p => Math.Abs(p.TiltDegrees - curve.CurrentTiltDegrees) < 1e-9);
        Assert.Equal(5, curve.CurrentTiltDegrees, 1e-9);
        Assert.Equal(CoverageBench.Map(layout, CoverageBench.Branch, settings: Curve).ShareOf(HeightBand.Head).WarnedFraction, now.HeadShareFraction, 1e-12);
        Assert.Equal(layout.FloorMarginDecibels(0), now.FloorMarginDecibels, 1e-9);
        Assert.All(curve.Points.Zip(curve.Points.Skip(1)), p => Assert.Equal(5, p.Second.TiltDegrees - p.First.TiltDegrees, 1e-9));
        Assert.True(curve.Points[0].TiltDegrees <= -20 && curve.Points[^1].TiltDegrees >= 30);
        Assert.All(curve.Points, p => Assert.True(p.SensorAloneHeadShareFraction <= p.HeadShareFraction));

        // A brow sensor that looks far enough up or down loses the head band.
        Assert.Equal(1, now.HeadShareFraction);
        Assert.True(curve.Points[0].HeadShareFraction < 1 && curve.Points[^1].HeadShareFraction < 1);
        Assert.True(curve.WindowLowDegrees > curve.Points[0].TiltDegrees && curve.WindowHighDegrees < curve.Points[^1].TiltDegrees);
        Assert.InRange(curve.CurrentTiltDegrees, curve.WindowLowDegrees, curve.WindowHighDegrees);
        foreach (TiltPoint point in curve.Points.Where((_, i) => i % 4 == 0))
        {
            PosedLayout anew = CoverageBench.Pose(layout.Layout.WithSensors(layout.Layout.Sensors.SetItem(0, CoverageBench.Sensor("brow", "brow", 0, point.TiltDegrees))));
            Assert.Equal(CoverageBench.Map(anew, CoverageBench.Branch, settings: Curve).ShareOf(HeightBand.Head).WarnedFraction, point.HeadShareFraction, 1e-12);
            Assert.Equal(anew.FloorMarginDecibels(0), point.FloorMarginDecibels, 1e-9);
        }
    }

    // A keen part over tile: level it is silent to the floor, steeply down it is not, and the window ends between.
    [Fact]
    public void The_window_of_tilts_ends_where_the_floor_is_heard()
    {
        // Gravel: the feet hide the mirror image of tile straight below, but not the stones ahead.
        PosedLayout layout = CoverageBench.Pose(CoverageBench.Layout(CoverageBench.Sensor("brow", "brow", 0, -20)), ground: Ground.Gravel);
        TiltCurve curve = TiltStudy.Of(layout, 0, CoverageBench.Branch, CoverageBench.Walk, Curve);
        Assert.Contains(curve.Points, p => p.FloorMarginDecibels >= 0);
        Assert.All(curve.Points, p => Assert.False(
            p.TiltDegrees >= curve.WindowLowDegrees && p.TiltDegrees <= curve.WindowHighDegrees && p.FloorMarginDecibels >= 0));
        Assert.True(curve.WindowLowDegrees > curve.Points[0].TiltDegrees);
    }

    [Fact]
    public void An_outage_names_what_is_no_longer_warned_of()
    {
        PosedLayout layout = CoverageBench.OnMan.WithLayout(CoverageBench.Layout(
            CoverageBench.Sensor("brow", "brow", 0, 0), CoverageBench.Sensor("spare", "crown", 0, -90)));
        VerdictBoard board = CoverageBench.Board(
            layout, Obstacle.Bar("branch", new Vec3(6, 0, 1.68), 0.03, 0.8), Obstacle.Pole("lamp", new Vec3(16, 0, 0), 0.114, 5), Obstacle.StepDown("edge", new Vec3(26, 0, 0), 0.15, 3));
        ImmutableArray<SensorOutage> outages = OutageStudy.Of(board);
        Assert.Equal(["brow", "brow", "spare", "spare"], outages.Select(o => o.Sensor));
        Assert.Equal([false, true, false, true], outages.Select(o => o.IsCovered));
        Assert.Equal(["branch", "lamp"], outages[0].NoLongerWarned.ToArray());
        Assert.Equal(0, outages[0].StillWarnedCount);
        Assert.True(outages[1].NoLongerWarned.Length <= outages[0].NoLongerWarned.Length);
        Assert.Empty(outages[2].NoLongerWarned);
        Assert.Equal(2, outages[2].StillWarnedCount);
    }

    [Fact]
    public void Turning_on_the_spot_hears_as_much_on_the_left_as_on_the_right()
    {
        ImmutableArray<TurningSector> sectors = TurningStudy.Of(CoverageBench.OnMan, CoverageBench.Branch, CoverageBench.Walk);
        Assert.Equal(20, sectors.Length);
        foreach (TurningSector sector in sectors)
        {
            var mirrored = sector.SectorsDegrees.Select(s => (-s.ToDegrees, -s.FromDegrees)).Reverse();
            Assert.Equal(sector.SectorsDegrees.Select(s => (s.FromDegrees, s.ToDegrees)), mirrored);
            int directions = sector.SectorsDegrees.Sum(s => (int)Math.Round((s.ToDegrees - s.FromDegrees) / 3) + 1);
            Assert.Equal(directions / 61.0, sector.HeardFraction, 1e-12);
        }

        Assert.Contains(sectors, s => s.HeardFraction > 0);
    }

    [Fact]
    public void A_comparison_with_itself_shows_no_difference_and_a_blinded_layout_only_losses()
    {
        SensorLayout whole = CoverageBench.Standard, beltOnly = CoverageBench.Layout(CoverageBench.Standard.Sensors[3]);
        LayoutComparison same = LayoutComparison.Run(Street(Wearers.Man), [whole, whole], Resources);
        Assert.Equal(0, same.LargestDifferenceSeconds);
        Assert.Equal((0, 0), (same.Differences[0].BetterCells, same.Differences[0].WorseCells));
        Assert.Equal(same.Layouts[0].Verdicts.ToArray(), same.Layouts[1].Verdicts.ToArray());
        LayoutComparison less = LayoutComparison.Run(Street(Wearers.Man), [whole, beltOnly], Resources);
        Assert.Equal(0, less.Differences[0].BetterCells);
        Assert.True(less.Differences[0].WorseCells > 0 && less.LargestDifferenceSeconds > 0);
        Assert.Throws<ArgumentException>(() => LayoutComparison.Run(Street(Wearers.Man), [whole], Resources));
    }

    // The sign at 1.79 m is over the median man and in the face of the tall one; kerbs do not concern the head.
    [Fact]
    public void The_head_review_looks_at_the_shortest_the_tallest_and_the_bowed()
    {
        Scenario scenario = Street(Wearers.Man, Wearers.Woman with { Name = "short woman", StaturePercentile = 5 }, Wearers.Man with { Name = "tall man", StaturePercentile = 99 });
        HeadReview review = HeadReview.Run(scenario, Resources);
        Assert.Equal(["shortest", "tallest", "head bowed"], review.Cases.Select(c => c.Role));
        Assert.Equal(["short woman", "tall man"], review.Cases.Take(2).Select(c => c.Wearer));
        HeadReviewCase tall = review.Cases[1];
        Assert.Equal(["lamp", "high sign"], tall.Hazards.Select(v => v.Obstacle.Id));
        Assert.True(tall.Hazards[1].IsOnCourse && tall.Hazards[1].LowBand == HeightBand.Head);
        Assert.DoesNotContain(review.Cases[0].Hazards, v => v.Obstacle.Id == "high sign" && v.IsOnCourse);
        Assert.True(review.Cases[2].BandLowMetres < tall.BandLowMetres);
        Assert.All(review.Cases.SelectMany(c => c.Zones), z => Assert.Equal(HeightBand.Head, z.Band));
        Assert.Equal(Enumerable.Range(1, review.Findings.Length), review.Findings.Select(f => f.Rank));
        Assert.Equal(review.Findings.Select(f => f.DangerUnitless).OrderDescending(), review.Findings.Select(f => f.DangerUnitless));
        foreach (HeadReviewCase c in review.Cases)
        {
            Assert.All(c.Hazards.Where(v => v.IsDanger), v => Assert.Contains(review.Findings, f => f.Role == c.Role && f.Subject == v.Obstacle.Id));
        }
    }

    [Fact]
    public void A_requirement_is_met_exactly_when_the_share_is_reached()
    {
        ApproachMap map = CoverageBench.Drawn(0.05, ["..~#"]);
        Requirement Demand(double seconds, double share) => new("demand", HeightBand.Head, map.Probe.Name, seconds, share);
        Assert.True(ScenarioStudy.Check(Demand(2, 0.5), [map]).IsMet);
        Assert.False(ScenarioStudy.Check(Demand(2, 0.51), [map]).IsMet);
        RequirementResult early = ScenarioStudy.Check(Demand(1, 0.75), [map]);
        Assert.True(early.IsMet);
        Assert.Equal(0.75, early.ReachedFraction, 1e-12);
        Assert.StartsWith("Met", early.Sentence);
        Assert.StartsWith("Not met", ScenarioStudy.Check(Demand(1, 0.8), [map]).Sentence);
    }
}
