using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Studies;

public sealed class EngineStudyTests
{
    private static readonly TraceStage Stage = TraceStage.Of(CoverageBench.OnMan, new ObstacleSet("street", string.Empty, Ground.SmoothTile,
    [
        Obstacle.Pole("lamp", new Vec3(6, 0.05, 0), 0.114, 5),
        Obstacle.Pole("wire", new Vec3(9, 0, 0), 0.006, 5),
        Obstacle.StepDown("drop", new Vec3(12, 0, 0), 0.15, 3),
    ]));

    [Fact]
    public void ALampPostAgreesInDecibels()
    {
        EngineCase side = EngineStudy.Of(Stage, 0, 0, 0, 1.5).First(c => c.PartName == "side");
        Assert.Equal((EngineAgreement.Agree, EchoEngine.ClosedForm), (side.Agreement, side.Chosen.Engine));
        Assert.InRange(Math.Abs(side.DifferenceDecibels!.Value), 0, EngineDifference.BandAllowanceDecibels);
        Assert.Equal(PartEchoes.Evaluate(Stage.Layout.Sensor(0, 0), Moved(0, 1.5), default).BandLevelDecibels, side.ClosedForm!.BandLevelDecibels, 1e-9);
        Assert.True(side.EstimatedErrorDecibels >= Math.Abs(side.DifferenceDecibels.Value));
    }

    [Fact]
    public void AThinWireLiesOutsideTheLimitsAndALipHasNoSurface()
    {
        Assert.Equal(EngineAgreement.OutsideLimits, EngineStudy.Of(Stage, 0, 0, 1, 1.5).First(c => c.PartName == "side").Agreement);
        EngineCase lip = Assert.Single(EngineStudy.Of(Stage, 0, 0, 2, 1.5));
        Assert.Equal((EngineAgreement.NoSurface, null, null), (lip.Agreement, lip.Integral, lip.DifferenceDecibels));
    }

    [Fact]
    public void AMeshIsASurfaceIntegralAloneAndACoarseOneIsWithheld()
    {
        TraceStage stage = TraceStage.Of(CoverageBench.OnMan, new ObstacleSet("meshes", string.Empty, Ground.SmoothTile, [Pole(192), Pole(16)]));
        EngineCase fine = Assert.Single(EngineStudy.Of(stage, 0, 0, 0, 1.5)), coarse = Assert.Single(EngineStudy.Of(stage, 0, 0, 1, 1.5));
        Assert.Equal((EngineAgreement.NoClosedForm, EchoEngine.SurfaceIntegral, null), (fine.Agreement, fine.Chosen.Engine, fine.ClosedForm));
        Assert.InRange(fine.EstimatedErrorDecibels, 0.3, 0.6);
        Assert.Equal(EngineAgreement.Withheld, coarse.Agreement);
        Assert.Contains("too coarse", Assert.Single(coarse.Chosen.Withheld), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => EngineChoice.Evaluate(
            stage.Layout.Sensor(0, 0), Pole(16).Parts(null)[0], EngineRequest.ClosedForm));

        static Obstacle Pole(int sides) =>
            Obstacle.OfMesh($"pole{sides}", new Vec3(6, 0.05, 0), Echoes.Facets.MeshEchoTests.Shape("pole", Echoes.Facets.MeshEchoTests.Round(sides)));
    }

    [Fact]
    public void EveryPartIsListedOnce()
    {
        ImmutableArray<EngineCase> cases = EngineStudy.Of(Stage, 0, 0, 0, 1.5);
        Assert.Equal(Stage.Obstacles.Obstacles[0].Parts(Ground.SmoothTile).Select(p => p.Name), cases.Select(c => c.PartName));
        Assert.All(cases, c => Assert.Equal(("lamp", "brow", 1.5), (c.ObstacleId, c.Sensor, c.DistanceMetres)));
    }

    private static TargetPart Moved(int obstacle, double distance)
    {
        Obstacle one = Stage.Obstacles.Obstacles[obstacle];
        Obstacle moved = one with { PositionMetres = one.PositionMetres - new Vec3(Stage.WalkerXMetres(obstacle, distance), 0, 0) };
        return moved.Parts(Ground.SmoothTile).First(p => p.Name == "side");
    }
}
