using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies;

public sealed class FalseAlertStudyTests
{
    private static readonly Lazy<FalseAlerts> Down = new(() => FalseAlertStudy.Of(
        CoverageBench.OnMan.WithLayout(CoverageBench.Layout(CoverageBench.Sensor("down", "belt front", 0, -55), CoverageBench.Sensor("level", "brow", 0, 0))),
        [Ground.SmoothTile, Ground.Gravel], CoverageBench.Walk));

    [Fact]
    public void TheFloorAsMountedIsThatOfTheLayout()
    {
        PosedLayout layout = CoverageBench.OnMan;
        FalseAlerts alerts = FalseAlertStudy.Of(layout, [layout.Ground!], CoverageBench.Walk);
        for (int s = 0; s < layout.SensorCount; s++)
        {
            Assert.Equal(layout.Layout.Sensors[s].Name, alerts.Floors[s].Sensor);
            Assert.Equal(layout.FloorMarginDecibels(s), alerts.Floors[s].Now.MarginDecibels, 1e-12);
            Assert.Equal(layout.FloorRangeMetres(s), alerts.Floors[s].Now.FirstCrossingMetres ?? double.PositiveInfinity);
            FloorAtTilt now = alerts.Floors[s].Now;
            Assert.Equal(now.MarginDecibels, now.LevelDecibels - CoverageBench.WidePair.DetectionThresholdDecibels(now.ArrivalSeconds), 1e-9);
        }
    }

    // The direct check of what is advised: the sensor turned just above the tilt, and the threshold raised by as much, fall silent.
    [Fact]
    public void WhatIsSaidToRemoveAFloorAlertRemovesIt()
    {
        foreach (FloorRisk risk in Down.Value.Floors.Where(f => f.Sensor == "down"))
        {
            Assert.True(risk.IsFalseAlert);
            double silent = risk.SilentAboveDegrees!.Value;
            Assert.InRange(silent, -55, 45);
            Assert.False(Reports(silent + 0.05, 0, risk.Ground));
            Assert.True(Reports(silent - 0.2, 0, risk.Ground));
            Assert.False(Reports(-55, risk.ThresholdRiseDecibels + 0.01, risk.Ground));
            Assert.True(Reports(-55, risk.ThresholdRiseDecibels - 0.1, risk.Ground));
        }

        static bool Reports(double tilt, double rise, Ground ground)
        {
            Transducer pair = CoverageBench.WidePair with
            {
                Threshold = new ThresholdProfile([.. CoverageBench.WidePair.Threshold.Points.Select(p => p with { LevelDecibels = p.LevelDecibels + rise })]),
            };
            return double.IsFinite(CoverageBench.Pose(CoverageBench.Layout(CoverageBench.Sensor("down", "belt front", 0, tilt, transducer: pair)), ground: ground).FloorRangeMetres(0));
        }
    }

    [Fact]
    public void AFloorHeardFirstMasksAKerbThatWouldBeHeard()
    {
        FloorRisk tile = Down.Value.Floors.First(f => f.Sensor == "down" && f.Ground == Ground.SmoothTile);
        Assert.All(tile.Curve.Where(at => at.MasksKerb), at => Assert.True(at.FirstCrossingMetres is not null && at.KerbMarginDecibels >= 0));
        Assert.Contains(tile.Curve, at => at.MasksKerb);
        Assert.True(tile.MaskTiltDegrees <= tile.AlertTiltDegrees + 0.1);
        Assert.Equal(0.125, Down.Value.KerbHeightMetres);
    }

    // Tile is a mirror, gravel scatters: at a slant gravel is louder, straight down tile is.
    [Fact]
    public void GravelIsHeardAtHigherTiltsThanTile()
    {
        FloorRisk tile = Down.Value.Floors.First(f => f.Sensor == "down" && f.Ground == Ground.SmoothTile);
        FloorRisk gravel = Down.Value.Floors.First(f => f.Sensor == "down" && f.Ground == Ground.Gravel);
        Assert.True(gravel.AlertTiltDegrees > tile.AlertTiltDegrees + 5);
        Assert.True(tile.Curve[0].MarginDecibels > gravel.Curve[0].MarginDecibels);
        Assert.Equal(-90, tile.Curve[0].TiltDegrees);
        Assert.Equal(45, tile.Curve[^1].TiltDegrees);
    }

    [Fact]
    public void AHandBeforeTheSensorIsFoundInItsWorstPhaseWithWhatSilencesIt()
    {
        // A sensor on the hip that looks along the way in which the arm swings.
        Transducer touchy = CoverageBench.WidePair with { Threshold = new ThresholdProfile([new(0.001, 62), new(0.018, 58)]), BlankingSeconds = 0.0006, Name = "touchy" };
        PosedLayout layout = CoverageBench.Pose(CoverageBench.Layout(
            CoverageBench.Sensor("hip", "belt front", -60, -20, transducer: touchy)));
        FalseAlerts alerts = FalseAlertStudy.Of(layout, [Ground.SmoothTile], CoverageBench.Walk);
        OwnRisk[] loud = [.. alerts.Own.Where(o => o.Echo.IsFalseAlert)];
        Assert.NotEmpty(loud);
        foreach (OwnRisk risk in loud)
        {
            Assert.EndsWith("% of the stride", risk.Echo.WorstPosture, StringComparison.Ordinal);
            Assert.True(risk.Echo.ThresholdRiseDecibels > 0);
            if (risk.SilentTiltDegrees is { } tilt)
            {
                PosedLayout turned = CoverageBench.Pose(CoverageBench.Layout(CoverageBench.Sensor("hip", "belt front", -60, tilt, transducer: touchy)));
                FalseAlerts after = FalseAlertStudy.Of(turned, [Ground.SmoothTile], CoverageBench.Walk);
                Assert.DoesNotContain(after.Own, o => o.Echo.Label == risk.Echo.Label && o.Echo.IsFalseAlert);
            }
        }
    }
}
