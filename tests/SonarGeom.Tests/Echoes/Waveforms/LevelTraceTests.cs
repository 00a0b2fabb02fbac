using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Waveforms;

public class LevelTraceTests
{
    private static readonly Transducer Pair = new(
        "pair", "two cans side by side", Frequency.FromKilohertz(40), new CircularPiston(0.0065), new CircularPiston(0.0065),
        new Vec3(0, 0.0125, 0), new Vec3(0, -0.0125, 0), 105,
        new ThresholdProfile([new ThresholdPoint(0, 90), new ThresholdPoint(4e-3, 75), new ThresholdPoint(20e-3, 60)]), 40, 8, 20, 20, 1.2e-3,
        25e-3, new TransducerEvidence("a wall at 4 m", "assumed", 3, "made up for this test"));

    private static readonly PreparedTransducer Prepared = new(Pair, EchoMedium.Standard);

    private static SensorAtPose Sensor(double x = 0, double tiltDegrees = 0) => new(
        Prepared,
        new RigidTransform(Rotation.FromAzimuthTiltRoll(Angle.Zero, Angle.FromDegrees(tiltDegrees), Angle.Zero), new Vec3(x, 0, 1.1)));

    private static CylinderPart Pole(double x) => new("pole", new Vec3(x, 0, 0), new Vec3(x, 0, 2.2), 0.0375);

    private static PolygonPart Wall(double x) =>
        PolygonPart.Rectangle("wall", new Vec3(x, 0, 1.25), new Vec3(0, -1.5, 0), new Vec3(0, 0, 1.25), isTwoSided: false);

    // The peak of the envelope is the echo level that the closed form states: source level, build-up and band mean.
    [Fact]
    public void EverySourcePeaksAtItsEchoLevelBehindItsRange()
    {
        SensorAtPose sensor = Sensor();
        LevelTrace trace = LevelTrace.Of(sensor, [new PartSource("pole", Pole(1.2)), new PartSource("wall", Wall(2.5)), new FloorSource("floor", Ground.Asphalt)]);
        foreach ((TraceContribution contribution, TargetPart part) in trace.Contributions.Zip(new TargetPart[] { Pole(1.2), Wall(2.5) }))
        {
            PartEcho echo = PartEchoes.Evaluate(sensor, part);
            Assert.Equal(echo.BandLevelDecibels, contribution.PeakDecibels, 0.05);
            int peak = contribution.LevelsDecibels.IndexOf(contribution.LevelsDecibels.Max());
            Assert.InRange(trace.RangesMetres[peak], echo.RangeMetres, echo.RangeMetres + 0.08);
            Assert.Equal(PartEcho.SilentDecibels, contribution.LevelsDecibels[(int)((echo.RangeMetres - 0.01) / 0.004)]);
        }

        Assert.Equal("floor", trace.Contributions[2].Label);
        Assert.Equal(trace.RangesMetres.Length, trace.TotalDecibels.Length);
        Assert.Equal(sensor.Prepared.DeadZoneMetres, trace.DeadZoneMetres);
    }

    [Fact]
    public void TheFirstCrossingNamesTheSourceThatMakesIt()
    {
        LevelTrace both = LevelTrace.Of(Sensor(), [new PartSource("wall", Wall(2.5)), new PartSource("pole", Pole(1.0))]);
        Assert.Equal("pole", both.FirstCrossingLabel);
        Assert.InRange(both.FirstCrossingMetres!.Value, 1.0 - 0.0375, 1.0 + 0.05);
        LevelTrace wall = LevelTrace.Of(Sensor(), [new PartSource("wall", Wall(2.5))]);
        Assert.Equal("wall", wall.FirstCrossingLabel);
        Assert.InRange(wall.FirstCrossingMetres!.Value, 2.5, 2.55);
        // A fixed 58 µs/cm belongs to 344.83 m/s.
        Assert.Equal(wall.FirstCrossingMetres.Value * 2e4 / 58 / EchoMedium.Standard.SoundSpeedMetresPerSecond, wall.ReportedRangeMetres(58)!.Value, 1e-12);
        LevelTrace nothing = LevelTrace.Of(Sensor(), [new PartSource("rod", new CylinderPart("rod", new Vec3(3, -0.02, 1), new Vec3(3, 0.02, 1.1), 0.003))]);
        Assert.Null(nothing.FirstCrossingMetres);
        Assert.Null(nothing.FirstCrossingLabel);
    }

    // Band mean and envelope peak differ by the spread of a target over a pulse; a pole is one arrival, so both engines agree.
    [Fact]
    public void BothEnginesGiveTheSameTraceOfAPole()
    {
        LevelTrace trace = LevelTrace.Of(
            Sensor(), [new PartSource("closed", Pole(1.2)), new PartSource("surface", Pole(1.2), EchoEngine.SurfaceIntegral)]);
        Assert.Equal(trace.Contributions[0].PeakDecibels, trace.Contributions[1].PeakDecibels, 0.3);
        Assert.Equal(trace.Contributions[0].FirstCrossingMetres!.Value, trace.Contributions[1].FirstCrossingMetres!.Value, 0.004);
        Assert.Empty(trace.Contributions[1].Withheld);
    }

    [Fact]
    public void AnOccluderSilencesWhatItHides()
    {
        IRayScene board = new RayScene.Builder().AddBox(new RigidTransform(Rotation.Identity, new Vec3(0.6, 0, 1.1)), new Vec3(0.01, 0.5, 0.5), 1).Build();
        LevelTrace trace = LevelTrace.Of(Sensor(), [new PartSource("pole", Pole(1.2)) { Occluders = board }, new PartSource("seen", Pole(1.2))]);
        Assert.True(trace.Contributions[0].PeakDecibels < trace.Contributions[1].PeakDecibels - 20);
    }

    [Fact]
    public void WalkingUpAPoleIsHeardFromWhereItsMarginTurnsPositive()
    {
        var moments = Enumerable.Range(0, 15).Select(i => (2.8 - (0.15 * i), Sensor(0.2 + (0.15 * i)))).ToList();
        WalkUpStrip strip = WalkUpStrip.Of(moments, [new PartSource("pole", Pole(3.0)), new FloorSource("floor", Ground.SmoothTile)]);
        StripTrack pole = strip.Tracks[0];
        Assert.Equal("pole", pole.Label);
        for (int i = 0; i < moments.Count; i++)
        {
            PartEcho echo = PartEchoes.Evaluate(moments[i].Item2, Pole(3.0));
            double margin = echo.BandLevelDecibels - Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            Assert.Equal(echo.RangeMetres, pole.Points[i].RangeMetres, 1e-9);

            // The threshold falls over the rise of the envelope, so the margin in time is a little above that at the first arrival.
            Assert.InRange(pole.Points[i].MarginDecibels, margin - 0.1, margin + 0.8);
            Assert.Equal(pole.Points[i].MarginDecibels >= 0, pole.Points[i].IsHeard);
        }

        StripPoint first = pole.FirstHeard!.Value;
        Assert.InRange(first.DistanceMetres, 0.5, 2.5);
        Assert.Equal("pole", strip.Readings.First(r => r.DistanceMetres == first.DistanceMetres).Label);
        Assert.Throws<ArgumentException>(() => WalkUpStrip.Of(moments, [new PartSource("a", Pole(1)), new PartSource("a", Pole(2))]));
    }

    [Fact]
    public void TheWorstPostureOfTheOwnArmIsTheOneInTheBeam()
    {
        OwnPosture Posture(string name, double x, double z) => new(
            name,
            Sensor(),
            [new PartSource("forearm", new CylinderPart("forearm", new Vec3(x, -0.13, z), new Vec3(x, 0.13, z), 0.04, 4)), new PartSource("cane", new CylinderPart("cane", new Vec3(0.2, 0, 0.9), new Vec3(1.2, 0, 0), 0.0065))]);
        var risks = OwnEcho.Worst([Posture("hanging", 0.05, 0.7), Posture("swung forward", 0.4, 1.05), Posture("half way", 0.3, 0.85)]);
        Assert.Equal(["forearm", "cane"], risks.Select(r => r.Label));
        Assert.Equal("swung forward", risks[0].WorstPosture);
        Assert.True(risks[0].IsFalseAlert);
        Assert.True(risks[0].ThresholdRiseDecibels > 0);

        // Raising the threshold by that much removes it.
        var deaf = new PreparedTransducer(Pair with { Threshold = Pair.Threshold.RaisedBy(risks[0].ThresholdRiseDecibels + 0.01) }, EchoMedium.Standard);
        var raised = OwnEcho.Worst([new OwnPosture("swung forward", new SensorAtPose(deaf, Sensor().WorldFromSensor), Posture("swung forward", 0.4, 1.05).Surfaces)]);
        Assert.False(raised[0].IsFalseAlert);
        Assert.Equal(0, raised[0].ThresholdRiseDecibels);
    }

    [Fact]
    public void EveryPartOfASceneHasALabelOfItsOwn()
    {
        var sources = TraceSources.Of(
            [Obstacle.Pole("post", new Vec3(1.2, 0, 0), 0.075, 2.2), Obstacle.Pole("post", new Vec3(2.0, 0.4, 0), 0.075, 2.2)], Ground.SmoothTile);
        Assert.Equal(sources.Length, sources.Select(source => source.Label).Distinct().Count());
        Assert.Contains(sources, source => source.Label == "post: side");
        Assert.Contains(sources, source => source.Label == "post: side (2)");
        Assert.Equal("smooth tile", sources[^1].Label);

        // A sensor that looks down hears the foot of the post on smooth ground and names it.
        LevelTrace trace = LevelTrace.Of(Sensor(tiltDegrees: -40), sources);
        TraceContribution foot = trace.Contributions.First(c => c.Label == "post: corner with the ground");
        TraceContribution side = trace.Contributions.First(c => c.Label == "post: side");
        Assert.True(foot.PeakDecibels > side.PeakDecibels, $"foot {foot.PeakDecibels:F1} dB, side {side.PeakDecibels:F1} dB");
    }
}
