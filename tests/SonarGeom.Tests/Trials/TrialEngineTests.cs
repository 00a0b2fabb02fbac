using System.Collections.Immutable;
using System.Text.Json;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Coverage;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

public class TrialEngineTests
{
    private static readonly TrialSettings Lively = new() { Walks = 30, WalksPerOuting = 10, NuisanceWalksPerOuting = 1, Seed = 11 };

    private static readonly ImmutableArray<SensorLayout> Loose =
    [
        TrialBench.Pair[0].WithSensors([.. TrialBench.Pair[0].Sensors.Select(s => s with
        {
            Mount = s.Mount with { Tolerance = new MountTolerance(Angle.FromDegrees(5), Angle.FromDegrees(5), Angle.FromDegrees(5), 0.02) },
        })]),
    ];

    private static readonly Obstacle[] Street =
    [
        Obstacle.Pole("column", new Vec3(6, 0.1, 0), 0.1, 3), Obstacle.Bar("branch", new Vec3(10, -0.1, 1.6), 0.03, 0.8),
        Obstacle.Bollard("bollard", new Vec3(13, 0.25, 0), 0.2, 1, CapShape.Flat),
    ];

    [Fact]
    public void The_same_seed_gives_the_same_answer_in_whatever_order()
    {
        TrialCourse course = TrialBench.Course(Lively, Street);
        OutingTally[] backwards = [.. Enumerable.Range(0, 3).Reverse().Select(i => OutingRunner.Run(TrialBench.Course(Lively, Street), Loose, i, default)).Reverse()];
        var together = new SortedDictionary<int, OutingTally>();
        TrialReport report = TrialEngine.Run(course, Loose, finished: t => together.Add(t.Outing, t), workers: 3);
        Assert.Equal(Figures(report), Figures(TrialEngine.Run(course, Loose, workers: 1)));
        Assert.Equal(Json(backwards), Json(together.Values.ToArray()));
        Assert.Equal(30, report.Walks);
        Assert.NotEqual(Json(backwards), Json(Enumerable.Range(0, 3).Select(i => OutingRunner.Run(TrialBench.Course(Lively with { Seed = 12 }, Street), Loose, i, default)).ToArray()));
    }

    [Fact]
    public void Finished_outings_are_not_walked_again_and_change_nothing()
    {
        TrialCourse course = TrialBench.Course(Lively, Street);
        var kept = new List<OutingTally>();
        TrialReport whole = TrialEngine.Run(course, Loose, finished: kept.Add);
        OutingTally[] first = JsonSerializer.Deserialize<OutingTally[]>(Json(kept.Where(t => t.Outing != 1).ToArray()))!;
        var again = new List<int>();
        TrialReport resumed = TrialEngine.Run(course, Loose, first, t => again.Add(t.Outing));
        Assert.Equal([1], again);
        Assert.Equal(Figures(whole), Figures(resumed));
    }

    [Fact]
    public void Cancelling_stops_between_walks_and_keeps_what_is_done()
    {
        using var stop = new CancellationTokenSource();
        var kept = new List<OutingTally>();
        Assert.ThrowsAny<OperationCanceledException>(() => TrialEngine.Run(
            TrialBench.Course(Lively with { Walks = 400 }, Street), Loose, finished: t => { kept.Add(t); stop.Cancel(); }, cancellation: stop.Token));
        Assert.InRange(kept.Count, 1, 20);
    }

    // Mirrored obstacles before a layout that is its own mirror image: left and right must be told alike, within what chance allows.
    [Fact]
    public void Left_and_right_have_the_same_chances()
    {
        TrialSettings settings = Lively with { Walks = 160, WalksPerOuting = 8, NuisanceWalksPerOuting = 0 };
        Obstacle left = Obstacle.Pole("left", new Vec3(6, 0.22, 0), 0.05, 1.4);
        ObstacleTrials atLeft = TrialEngine.Run(TrialBench.Course(settings, left), Loose).Layouts[0].Obstacles[0];
        ObstacleTrials atRight = TrialEngine.Run(
            TrialBench.Course(settings with { Seed = 99 }, left with { Id = "right", PositionMetres = left.PositionMetres.MirroredLeftRight() }), Loose).Layouts[0].Obstacles[0];
        Alike(atLeft.Warned, atRight.Warned);
        Alike(atLeft.WrongSide, atRight.WrongSide);
        Assert.True(atLeft.WrongSide.Cases > 20 && atLeft.WrongSide.Fraction < 0.5, $"{atLeft.WrongSide.Hits} of {atLeft.WrongSide.Cases} on the wrong side");
        Assert.Equal(atLeft.MedianWarning.Seconds, atRight.MedianWarning.Seconds, 0.5);
    }

    // The same layout under another name: no walk may end differently.
    [Fact]
    public void Layouts_are_compared_on_the_same_walks()
    {
        SensorLayout one = Loose[0];
        SensorLayout twin = new("twin", string.Empty, one.Sensors, one.Firing);
        SensorLayout deaf = new("deaf", string.Empty, [.. one.Sensors.Select(s => s with
        {
            Transducer = s.Transducer with { SourceLevelDecibels = s.Transducer.SourceLevelDecibels - 15 },
        })], one.Firing);
        TrialReport report = TrialEngine.Run(TrialBench.Course(Lively, Street), [one, twin, deaf]);
        Assert.All(report.Comparisons[0].Obstacles, o => Assert.Equal((0, 0), (o.OnlyFirst, o.OnlyOther)));
        Assert.True(report.Comparisons[1].All.Fraction < 0 && report.Comparisons[1].All.OnlyOther <= report.Comparisons[1].All.OnlyFirst);
        Assert.Equal(report.Layouts[0].Obstacles[0].Warned, report.Layouts[1].Obstacles[0].Warned);
    }

    [Fact]
    public void A_sensor_that_looks_at_gravel_shouts_on_an_empty_path_and_one_that_looks_ahead_does_not()
    {
        SensorLayout ahead = CoverageBench.Layout(CoverageBench.Sensor("one", "sternum", 0, 0));
        SensorLayout down = new("down", string.Empty, [CoverageBench.Sensor("one", "sternum", 0, -60, transducer: CoverageBench.WidePair with { SourceLevelDecibels = 115 })], ahead.Firing);
        TrialReport report = TrialEngine.Run(TrialBench.Course(Lively with { Walks = 2, WalksPerOuting = 1 }, Street), [ahead, down]);
        NuisanceTrials calm = report.Layouts[0].Nuisances[^1], shouting = report.Layouts[1].Nuisances[^1];
        Assert.Equal("empty gravel path", calm.Place);
        Assert.Equal(0, calm.All.Count);
        Assert.True(shouting.All.PerMinute > 20);
        Assert.Equal(shouting.All.Count, shouting.Causes.First(c => c.Cause == FalseAlertCause.Floor).Rate.Count);
    }

    [Fact]
    public void Without_ground_no_floor_is_heard()
    {
        SensorLayout down = new("down", string.Empty, [CoverageBench.Sensor("one", "sternum", 0, -60, transducer: CoverageBench.WidePair with { SourceLevelDecibels = 115 })], new FiringPlan(0.24, 2, 3, 0.05));
        TrialCourse over = TrialBench.Over(Ground.Gravel, TrialBench.Calm, Street[0]);
        Assert.True(TrialEngine.Run(over, [down]).Layouts[0].FalseAlerts.First(f => f.Cause == FalseAlertCause.Floor).Rate.Count > 0);
        Assert.Equal(0, TrialEngine.Run(TrialBench.Over(null, TrialBench.Calm, Street[0]), [down]).Layouts[0].AllFalseAlerts.Count);
    }

    private static void Alike(ShareEstimate a, ShareEstimate b) =>
        Assert.True(a.LowFraction <= b.HighFraction && b.LowFraction <= a.HighFraction, $"{a} against {b}");

    private static string Json(OutingTally[] tallies) => JsonSerializer.Serialize(tallies);

    private static string Figures(TrialReport report) => string.Join(
        ';', report.Layouts.SelectMany(l => l.Obstacles.Select(o => $"{o.Warned} {o.MedianWarning} {o.LeastWarning}")).Append($"{report.Layouts[0].AllFalseAlerts}"));
}
