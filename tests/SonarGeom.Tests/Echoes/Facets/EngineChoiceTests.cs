using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Facets;

public class EngineChoiceTests
{
    private static SensorAtPose Sensor(double separation) => new(
        new PreparedTransducer(
            new Transducer(
                "pair", "two cans side by side", Frequency.FromKilohertz(40), new CircularPiston(0.0065), new CircularPiston(0.0065),
                new Vec3(0, 0.5 * separation, 0), new Vec3(0, -0.5 * separation, 0), 105, ThresholdProfile.Constant(60), 20, 8, 20, 20, 0.5e-3,
                30e-3, new TransducerEvidence("a wall at 4 m", "assumed", 3, "made up for this test")),
            EchoMedium.Standard),
        new RigidTransform(Rotation.Identity, new Vec3(0, 0, 1)));

    private static readonly CylinderPart Pole = new("pole", new Vec3(1.04, 0, 0), new Vec3(1.04, 0, 2), 0.04, 3.0);

    [Fact]
    public void AClosedFormIsChosenWhereItHolds()
    {
        EngineEcho echo = EngineChoice.Evaluate(Sensor(0.025), Pole);
        Assert.Equal(EchoEngine.ClosedForm, echo.Engine);
        Assert.Equal(EchoEngine.SurfaceIntegral, EngineChoice.Evaluate(Sensor(0.2), Pole).Engine);
    }

    [Fact]
    public void EitherEngineOnDemandGivesTheSameWithinTheErrorsThatTheyState()
    {
        EngineEcho closed = EngineChoice.Evaluate(Sensor(0.025), Pole, EngineRequest.ClosedForm);
        EngineEcho surface = EngineChoice.Evaluate(Sensor(0.025), Pole, EngineRequest.SurfaceIntegral);
        Assert.Equal(EchoEngine.ClosedForm, closed.Engine);
        Assert.Equal(EchoEngine.SurfaceIntegral, surface.Engine);
        Assert.InRange(Math.Abs(closed.BandLevelDecibels - surface.BandLevelDecibels), 0, closed.EstimatedErrorDecibels + surface.EstimatedErrorDecibels);
        Assert.InRange(Math.Abs(closed.CentreLevelDecibels - surface.CentreLevelDecibels), 0, closed.EstimatedErrorDecibels + surface.EstimatedErrorDecibels);
        Assert.Equal(closed.RangeMetres, surface.RangeMetres, 2e-3);
        Assert.Empty(surface.Withheld);
    }

    [Fact]
    public void AMeshOfSixteenSidesHasNoVerdict()
    {
        TriangleMesh tube = TestShapes.Tube(0.04, 0, 2, 16);
        FacetSurface surface = FacetSurface.Of("pole", tube with { Vertices = [.. tube.Vertices.Select(v => v + new Vec3(1.04, 0, 0))] });
        EngineEcho echo = EngineChoice.EvaluateMesh(Sensor(0.025), surface);
        Assert.Equal(EchoEngine.SurfaceIntegral, echo.Engine);
        Assert.Contains("too coarse", Assert.Single(echo.Withheld), StringComparison.Ordinal);
    }

    [Fact]
    public void ALineHasNoSurfaceToAskFor()
    {
        var lip = new EdgePart("lip", new Vec3(1, -1, 0), new Vec3(1, 1, 0), -Vec3.UnitX, Vec3.UnitZ);
        Assert.Throws<ArgumentException>(() => EngineChoice.Evaluate(Sensor(0.025), lip, EngineRequest.SurfaceIntegral));
        Assert.Equal(EchoEngine.ClosedForm, EngineChoice.Evaluate(Sensor(0.2), lip).Engine);
    }
}
