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
        var lip = new EdgePart("lip", new Vec3(1, -1, 0), new Vec3(1, 1, 0), -Vec3.UnitX, Vec3.UnitZ, EdgePart.Square);
        Assert.Throws<ArgumentException>(() => EngineChoice.Evaluate(Sensor(0.025), lip, EngineRequest.SurfaceIntegral));
        Assert.Equal(EchoEngine.ClosedForm, EngineChoice.Evaluate(Sensor(0.2), lip).Engine);
    }

    // A box turned so that no face mirrors: only edges are left, and the engine says that it corrected them.
    [Fact]
    public void WhereNothingMirrorsTheEdgesAreCorrected()
    {
        TriangleMesh box = TestShapes.Box(new Vec3(-0.1, -0.1, -0.1), new Vec3(0.1, 0.1, 0.1));
        Rotation turned = Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(40), Angle.FromDegrees(30), Angle.Zero);
        FacetSurface surface = FacetSurface.Of("box", box.Transformed(new RigidTransform(turned, new Vec3(1.2, 0, 1))));
        EngineEcho echo = EngineChoice.EvaluateMesh(Sensor(0.025), surface);
        Assert.Contains("edges corrected", echo.Reason, StringComparison.Ordinal);
        FacetSurface facing = FacetSurface.Of("box", box.Transformed(new RigidTransform(Rotation.Identity, new Vec3(1.2, 0, 1))));
        EngineEcho mirror = EngineChoice.EvaluateMesh(Sensor(0.025), facing);
        Assert.Equal("a mesh", mirror.Reason);
        Assert.True(echo.BandLevelDecibels < mirror.BandLevelDecibels - 25);
    }

    [Fact]
    public void FacesBeyondTheListeningWindowChangeNothingInsideIt()
    {
        SensorAtPose sensor = Sensor(0.025);
        FrequencyBand band = SensorBands.Burst(sensor);
        FacetSensor facets = SensorBands.FacetSensor(sensor, band);
        FacetSurface near = FacetSurface.Of("board", TestShapes.Box(new Vec3(1.2, -0.2, 0.8), new Vec3(1.21, 0.2, 1.2)));
        TriangleMesh far = TestShapes.Box(new Vec3(30, -0.2, 0.8), new Vec3(30.01, 0.2, 1.2));
        var both = FacetSurface.Of("boards", new TriangleMesh(
            [.. near.Mesh.Vertices, .. far.Vertices], [.. near.Mesh.Facets, .. far.Facets.Select(f => new Facet(f.A + 8, f.B + 8, f.C + 8))]));
        var options = new SurfaceIntegralOptions(FarthestPathMetres: SensorBands.FarthestPathMetres(sensor));
        EchoSpectrum one = SurfaceIntegral.Evaluate(near, facets, band);
        EchoSpectrum other = SurfaceIntegral.Evaluate(both, facets, band, options: options);
        Assert.Equal(one.FacetsSummed, other.FacetsSummed);
        Assert.Equal(one.BandMeanDecibels(), other.BandMeanDecibels(), 1e-9);
    }
}
