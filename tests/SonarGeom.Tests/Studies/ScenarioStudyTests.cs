using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Studies;

public class ScenarioStudyTests
{
    private static readonly StudyResources Resources = new(Wearers.Tables, [CoverageBench.WidePair]);

    private static readonly Lazy<StudyReport> Studied = new(() => ScenarioStudy.Run(Scenario(), Resources));

    [Fact]
    public void The_motion_of_the_scenario_moves_the_sensors()
    {
        Scenario scenario = Scenario();
        PosedLayout sway = ScenarioStudy.Pose(scenario, scenario.MainWearer, Wearers.Tables);
        PosedLayout gait = ScenarioStudy.Pose(
            scenario with { Walk = scenario.Walk with { Motion = WalkMotion.Gait } }, scenario.MainWearer, Wearers.Tables);
        Assert.Contains(gait.MotionNotes, n => n.Contains("published curves", StringComparison.Ordinal));
        Assert.DoesNotContain(sway.MotionNotes, n => n.Contains("published curves", StringComparison.Ordinal));

        // The body of the gait is lower on average, since its legs are bent and apart.
        double Height(PosedLayout posed) => Enumerable.Range(0, posed.PhaseCount).Average(p => posed.Sensor(0, p).MidpointMetres.Z);
        Assert.InRange(Height(sway) - Height(gait), 0.002, 0.04);
    }

    [Fact]
    public void The_report_holds_what_its_parts_give_alone()
    {
        StudyReport report = Studied.Value;
        Scenario scenario = report.Scenario;
        Assert.Equal(scenario.Probes, report.Maps.Select(m => m.Probe));
        Assert.Equal(scenario.Obstacles.Obstacles, report.Verdicts.Select(v => v.Obstacle));
        Assert.Equal(1.93, report.TimeNeededSeconds, 1e-12);
        PosedLayout posed = ScenarioStudy.Pose(scenario, scenario.MainWearer, Wearers.Tables);
        foreach (ApproachMap map in report.Maps)
        {
            Assert.Equal(CoverageBench.Map(posed, map.Probe, scenario.Walk, scenario.Maps).WarningSeconds.ToArray(), map.WarningSeconds.ToArray());
            Assert.Equal(BlindZoneFinder.Find(map).Select(z => z.Name), report.BlindZones.Where(z => z.ProbeName == map.Probe.Name).Select(z => z.Name));
        }

        Assert.Equal(
            VerdictBoard.Of(posed, scenario.Walk, scenario.Maps, scenario.Obstacles).Verdicts().ToArray(), report.Verdicts.ToArray());
        Assert.Equal(["man", "short woman"], report.Wearers.Select(w => w.Wearer));
        Assert.Equal(report.Posed.SensorCount, report.TiltCurves.Length);
        Assert.Equal(2 * report.Posed.SensorCount, report.Outages.Length);
        Assert.NotEmpty(report.Assumptions);
    }

    [Fact]
    public void Only_obstacles_in_danger_get_a_change()
    {
        StudyReport report = Studied.Value;
        Assert.Contains(report.Verdicts, v => v.IsDanger);
        Assert.All(report.Changes.Keys, id => Assert.True(report.Verdicts.Single(v => v.Obstacle.Id == id).IsDanger));
        Assert.DoesNotContain("edge", report.Changes.Keys);
    }

    [Fact]
    public void Requirements_decide_whether_all_is_met()
    {
        StudyReport report = Studied.Value;
        Assert.Equal([true, false], report.Requirements.Select(r => r.IsMet));
        Assert.False(report.AllRequirementsMet);
    }

    [Fact]
    public void The_worst_finding_names_the_highest_danger_first()
    {
        StudyReport report = Studied.Value;
        Assert.Contains("branch", report.WorstFinding);
        Assert.Contains("head height", report.WorstFinding);
        ImmutableArray<ObstacleVerdict> safe = [.. report.Verdicts.Where(v => !v.IsDanger)];
        Assert.StartsWith("No obstacle of the set is missed", Findings.Worst(safe, report.Maps, report.BlindZones));
        Assert.StartsWith("No blind zone", Findings.Worst(safe, report.Maps, []));
    }

    [Fact]
    public void Two_runs_give_the_same_report()
    {
        StudyReport one = Studied.Value, other = ScenarioStudy.Run(Scenario(), Resources);
        Assert.Equal(one.Verdicts.ToArray(), other.Verdicts.ToArray());
        Assert.Equal(one.WorstFinding, other.WorstFinding);
        Assert.Equal(one.BlindZones.Select(z => z with { Cells = default }), other.BlindZones.Select(z => z with { Cells = default }));
        Assert.Equal(one.Changes.Select(c => (c.Key, c.Value.Description)), other.Changes.Select(c => (c.Key, c.Value.Description)));
        Assert.Equal(one.TiltCurves.SelectMany(t => t.Points.Select(Flat)), other.TiltCurves.SelectMany(t => t.Points.Select(Flat)));
        Assert.Equal(one.Slices.SelectMany(s => s.MarginDecibels), other.Slices.SelectMany(s => s.MarginDecibels));

        static string Flat(TiltPoint p) => $"{p with { Shares = [], Lost = [], Gained = [] }} {string.Join(' ', p.Shares)} {string.Join(' ', p.Lost)} {string.Join(' ', p.Gained)}";
    }

    [Fact]
    public void A_slice_holds_the_best_margin_of_the_sensors()
    {
        MarginSlice slice = Studied.Value.Slices[0];
        PosedLayout posed = Studied.Value.Posed;
        ProbeTarget target = ProbeTarget.Of(CoverageBench.Branch);
        for (int i = 0; i < slice.MarginDecibels.Length; i += 997)
        {
            double x = slice.FirstXMetres + (i % slice.Columns * slice.CellMetres), y = slice.FirstOtherMetres + (i / slice.Columns * slice.CellMetres);
            double best = Enumerable.Range(0, posed.SensorCount).Max(s => posed.MarginDecibels(s, 0, target, new Vec3(x, y, slice.AtMetres)));
            Assert.Equal((float)best, slice.MarginDecibels[i]);
        }

        Assert.Contains(slice.MarginDecibels, m => m >= 0);
    }

    [Fact]
    public void Every_cause_has_words_of_its_own()
    {
        string[] words = [.. Enum.GetValues<LimitingCause>().Select(Findings.InWords)];
        Assert.Equal(words.Length, words.Distinct().Count());
        Assert.DoesNotContain(words, w => w.Length == 0 || char.IsUpper(w[0]));
    }

    [Fact]
    public void A_scenario_refuses_what_it_cannot_be()
    {
        Scenario good = Scenario();
        Assert.Throws<ArgumentException>(() => good.With(wearers: []));
        Assert.Throws<ArgumentException>(() => good.With(wearers: [Wearers.Man, Wearers.Man]));
        Assert.Throws<ArgumentException>(() => good.With(probes: [CoverageBench.Branch, CoverageBench.Branch], requirements: []));
        Assert.Throws<ArgumentException>(() => good.With(requirements: [new Requirement("no such probe", HeightBand.Head, "none", 1, 1)]));
    }

    private static Scenario Scenario() => new(
        "street", "for tests", [Wearers.Man, Wearers.Woman with { Name = "short woman", StaturePercentile = 5 }],
        CoverageBench.Layout(CoverageBench.Sensor("chest", "sternum", 0, 0), CoverageBench.Sensor("belt", "belt front", 0, -10)),
        new ObstacleSet("set", string.Empty, Ground.SmoothTile,
        [
            Obstacle.Pole("lamp", new Vec3(6, 0.1, 0), 0.114, 5),
            Obstacle.Bar("branch", new Vec3(16, 0, 1.72), 0.01, 0.5) with { ReflectionLossDecibels = 20 },
            Obstacle.StepDown("edge", new Vec3(26, 0, 0), 0.15, 3),
        ]),
        [CoverageBench.Branch, CoverageBench.Sphere],
        [
            new Requirement("some of the chest", HeightBand.Chest, CoverageBench.Branch.Name, 0, 0),
            new Requirement("all of the feet", HeightBand.Foot, CoverageBench.Sphere.Name, 2, 1),
        ])
    {
        Walk = CoverageBench.Walk,
        Maps = CoverageBench.Coarse,
    };
}
