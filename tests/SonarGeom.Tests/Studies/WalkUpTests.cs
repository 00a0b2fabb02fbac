using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Studies;

public sealed class WalkUpTests
{
    private static readonly ObstacleSet Street = new("street", string.Empty, Ground.SmoothTile,
    [
        Obstacle.Pole("lamp", new Vec3(6, 0.05, 0), 0.114, 5),
        Obstacle.Pole("rod before", new Vec3(5.6, 0.25, 0), 0.06, 5),
    ]);

    private static readonly Lazy<WalkUp> Walk = new(() => WalkUp.Of(TraceStage.Of(CoverageBench.OnMan, Street), 0, 0, 2.0, 0.6, 0.2));

    [Fact]
    public void TheObstacleWalkedUpToComesFirstAndEveryDistanceIsThere()
    {
        Assert.Equal(("brow", "lamp"), (Walk.Value.Sensor, Walk.Value.ObstacleId));
        Assert.Equal("lamp", Walk.Value.Tracks[0].Name);
        Assert.All(Walk.Value.Tracks, t => Assert.Equal(8, t.Points.Length));
        Assert.Equal([2.0, 1.8, 1.6, 1.4, 1.2, 1.0, 0.8, 0.6], Walk.Value.Tracks[0].Points.Select(p => Math.Round(p.DistanceMetres, 9)));
        Assert.Equal(Walk.Value.Tracks.Length, Walk.Value.Tracks.Select(t => t.Name).Distinct().Count());
        Assert.Contains(Walk.Value.Tracks, t => t is { Name: "floor of smooth tile", Kind: TraceKind.Floor });
        Assert.Contains(Walk.Value.Tracks, t => t is { Name: "own hand left", Kind: TraceKind.Own });
    }

    [Fact]
    public void OneEchoAtATimeIsReportedAndOnlyOneThatCrosses()
    {
        for (int i = 0; i < 8; i++)
        {
            Assert.True(Walk.Value.Tracks.Sum(t => t.Points[i].ReportedFraction) <= 1 + 1e-9);
            Assert.All(Walk.Value.Tracks, t =>
            {
                Assert.True(t.Points[i].LeastMarginDecibels <= t.Points[i].LargestMarginDecibels);
                Assert.Equal(t.Points[i].HeardFraction > 0, t.Points[i].LargestMarginDecibels >= 0);
                Assert.Equal(t.Points[i].HeardFraction >= 1, t.Points[i].LeastMarginDecibels >= 0);
            });
        }
    }

    // What a verdict counts as heard crosses in the trace too. A verdict takes the threshold at the first arrival, the trace at the peak, some
    // 0.5 ms later; the threshold of this part falls by 10 dB from 2 to 4 ms after the burst.
    [Fact]
    public void TheVerdictsMarginIsFoundAgain()
    {
        PosedLayout layout = CoverageBench.OnMan;
        VerdictBoard board = CoverageBench.Board(layout, CoverageBench.Walk, Street.Ground, [.. Street.Obstacles]);
        foreach (WalkUpPoint point in Walk.Value.Tracks[0].Points)
        {
            double[] margins = [.. Enumerable.Range(0, layout.PhaseCount).Select(p => board.MarginDecibels(0, 0, p, point.DistanceMetres))];
            Assert.InRange(point.LargestMarginDecibels, margins.Max() - 0.1, margins.Max() + 2.5);
        }
    }

    [Fact]
    public void ANearerEchoIsReportedInPlaceOfTheObstacle()
    {
        WalkUpTrack lamp = Walk.Value.Tracks[0], rod = Walk.Value.Tracks.First(t => t.Name == "rod before");
        Assert.Contains(lamp.Points, p => p is { HeardFraction: 1, ReportedFraction: < 1 });
        Assert.Contains(rod.Points, p => p.ReportedFraction > 0);
        Assert.Null(new WalkUp("s", "o", 0.1, [lamp]).Tracks[0].FirstReportedMetres(1.1));
    }

    [Fact]
    public void DistancesOutOfRangeAreRefused()
    {
        TraceStage stage = TraceStage.Of(CoverageBench.OnMan, Street);
        Assert.Throws<ArgumentOutOfRangeException>(() => WalkUp.Of(stage, 0, 0, 1, 2, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => WalkUp.Of(stage, 0, 0, 2, 1, 0.001));
    }
}
