using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Studies;

/// <summary>What a receiver hears of a scene agrees with what the verdicts say of it.</summary>
public sealed class TraceStageTests
{
    private static readonly ObstacleSet Street = new("street", string.Empty, Ground.SmoothTile,
    [
        Obstacle.Pole("lamp", new Vec3(6, 0.05, 0), 0.114, 5),
        Obstacle.Bar("branch", new Vec3(9, 0, 1.68), 0.03, 0.8),
        Obstacle.KerbUp("kerb", new Vec3(14, 0, 0), 0.12, 3),
    ]);

    private static readonly Lazy<TraceStage> Stage = new(() => TraceStage.Of(CoverageBench.OnMan, Street));

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void AnObstaclePeaksAtTheLevelOfItsBudget(int obstacle)
    {
        PosedLayout layout = CoverageBench.OnMan;
        VerdictBoard board = CoverageBench.Board(layout, CoverageBench.Walk, Street.Ground, [.. Street.Obstacles]);
        foreach (double distance in (double[])[0.6, 1.5, 2.2])
        {
            for (int phase = 0; phase < layout.PhaseCount; phase++)
            {
                LevelBudget budget = board.Explain(obstacle, 0, phase, distance)!;
                LevelTrace trace = Stage.Value.Trace(0, phase, Stage.Value.WalkerXMetres(obstacle, distance));
                TraceContribution part = trace.Contributions.First(c => c.Label == $"{Street.Obstacles[obstacle].Id}: {budget.PartName}");

                // Two samples of 4 mm across a smooth peak miss at most a few hundredths of a decibel.
                Assert.Equal(budget.EchoLevelDecibels, part.PeakDecibels, 0.06);
                Assert.Equal(budget.RangeMetres, part.RangeMetres, 1e-6);
            }
        }
    }

    [Fact]
    public void EverythingNearIsListedOnceAndKnownByItsLabel()
    {
        LevelTrace trace = Stage.Value.Trace(1, 0, Stage.Value.WalkerXMetres(0, 1.0));
        string[] labels = [.. trace.Contributions.Select(c => c.Label)];
        Assert.Equal(labels.Length, labels.Distinct().Count());
        Assert.Contains("floor of smooth tile", labels);
        Assert.Contains("lamp: side", labels);
        Assert.Contains("own hand left", labels);
        Assert.DoesNotContain(labels, l => l.StartsWith("kerb", StringComparison.Ordinal));
        Assert.Equal(TraceKind.Floor, TraceStage.KindOf("floor of smooth tile"));
        Assert.Equal(TraceKind.Own, TraceStage.KindOf("own hand left"));
        Assert.Equal(TraceKind.Obstacle, TraceStage.KindOf("own car: front"));
        Assert.Equal(TraceKind.Obstacle, TraceStage.KindOf("floor of lorry: rear face"));
    }

    [Fact]
    public void TheErrorIsThatOfTheAirAndThatOfTheRise()
    {
        LevelTrace trace = Stage.Value.Trace(0, 0, Stage.Value.WalkerXMetres(0, 1.5));
        TraceReading reading = TraceStage.Reading(trace, new DeviceSettings(58))!;
        Assert.Equal(("lamp: side", TraceKind.Obstacle), (reading.Label, reading.Kind));
        Assert.Equal(reading.ErrorMetres!.Value, reading.AirErrorMetres + reading.RiseErrorMetres!.Value, 1e-12);

        // A device that assumes the true speed of sound is out by the rise alone: behind the echo's start, within the burst of 0.4 ms and its ringing.
        double exact = 2e4 / trace.SoundSpeedMetresPerSecond;
        TraceReading right = TraceStage.Reading(trace, new DeviceSettings(exact))!;
        Assert.Equal(0, right.AirErrorMetres, 1e-12);
        Assert.InRange(right.RiseErrorMetres!.Value, 0.001, 0.09);
        Assert.Equal(reading.ReportedMetres, right.ReportedMetres * exact / 58, 1e-12);
    }

    [Fact]
    public void AFloorThatIsHeardFirstIsAFalseAlert()
    {
        PosedLayout down = CoverageBench.OnMan.WithLayout(CoverageBench.Layout(CoverageBench.Sensor("down", "belt front", 0, -60)));
        TraceStage stage = TraceStage.Of(down, Street);
        TraceReading reading = TraceStage.Reading(stage.Trace(0, 0, 0), new DeviceSettings())!;
        Assert.Equal((TraceKind.Floor, (double?)null), (reading.Kind, reading.ErrorMetres));
        Assert.True(reading.CrossingMetres >= down.FloorRangeMetres(0) - 1e-9);
        Assert.Null(TraceStage.Reading(TraceStage.Of(CoverageBench.OnMan, Street).Trace(0, 0, 30), new DeviceSettings()));
    }

    [Fact]
    public void BothEnginesShowTheSameBranch()
    {
        double walker = Stage.Value.WalkerXMetres(1, 1.2);
        TraceContribution[] both = [.. new[] { false, true }.Select(integral =>
            Stage.Value.Trace(0, 0, walker, integral).Contributions.First(c => c.Label == "branch: side"))];
        Assert.Equal(both[0].PeakDecibels, both[1].PeakDecibels, 0.5);
        Assert.Equal(both[0].FirstCrossingMetres!.Value, both[1].FirstCrossingMetres!.Value, 0.01);
        Assert.NotEqual(both[0].PeakDecibels, both[1].PeakDecibels);
    }

    [Fact]
    public void OwnPartsLeaveOutTheOneThatCarriesTheSensor()
    {
        Assert.DoesNotContain(CoverageBench.OnMan.OwnParts(0, 0), p => p.Segment == SegmentId.Head);
        PosedLayout wrist = CoverageBench.OnMan.WithLayout(CoverageBench.Layout(CoverageBench.Sensor("arm", "wrist right", 0, 0)));
        SegmentId carrier = wrist.Body.Site("wrist right").Segment;
        Assert.DoesNotContain(wrist.OwnParts(0, 0), p => p.Segment == carrier);
        Assert.Equal(11, wrist.OwnParts(0, 0).Count(p => p.Segment != SegmentId.Cane));
    }
}
