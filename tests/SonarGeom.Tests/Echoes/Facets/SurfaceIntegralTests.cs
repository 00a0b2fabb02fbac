using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Facets;

public class SurfaceIntegralTests
{
    private static readonly FrequencyBand Burst = FrequencyBand.Between(37_000, 43_000, 8);

    private static double Next(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static FacetSensor RandomSensor(Random random, double separation)
    {
        var middle = new Vec3(Next(random, -0.2, 0.2), Next(random, -0.3, 0.3), Next(random, 0.8, 1.4));
        Rotation attitude = Rotation.FromAzimuthTiltRoll(
            Angle.FromDegrees(Next(random, -20, 20)), Angle.FromDegrees(Next(random, -40, 20)), Angle.FromDegrees(Next(random, -180, 180)));
        Vec3 aside = attitude.Apply(new Vec3(0, 0.5 * separation, 0));
        return new FacetSensor(
            middle + aside, middle - aside, attitude, new CircularPiston(0.0065), new CircularPiston(0.005), FacetMedium.Uniform(343.2, 1.3));
    }

    // An image source: p = D_T D_R exp(ik(r₁ + r₂))/(r₁ + r₂), for a plate so large that its edges lie outside both beams.
    [Fact]
    public void AWallIsAnImageSourceAlsoForSeparateTransmitterAndReceiver()
    {
        var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0.1, 1), new Vec3(0.05, -0.1, 1.2), 343.2) with
        {
            WorldFromSensor = Rotation.AboutY(Angle.FromDegrees(90)),
            Transmit = new GaussianBeam(Angle.FromDegrees(20), -6),
            Receive = new GaussianBeam(Angle.FromDegrees(20), -6),
        };
        EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("wall", TestShapes.Rectangle(4, 4)), sensor, FrequencyBand.Single(40_000));
        Vec3 image = sensor.TransmitterMetres with { Z = -1 };
        double path = image.DistanceTo(sensor.ReceiverMetres);
        Vec3 foot = image + ((1 / 2.2) * (sensor.ReceiverMetres - image));
        double beam = sensor.Transmit.Amplitude(sensor.WorldFromSensor.ApplyInverse((foot - sensor.TransmitterMetres).Normalized()), 732)
            * sensor.Receive.Amplitude(sensor.WorldFromSensor.ApplyInverse((foot - sensor.ReceiverMetres).Normalized()), 732);
        Complex expected = beam / path * Complex.Exp(new Complex(0, TestShapes.Wavenumber * path));

        // The beam bends over the first Fresnel zone; its second derivative gives about λR/(4π θₑ²), 0.8 %.
        Assert.True((echo.Pressures[0] - expected).Magnitude < 0.015 * expected.Magnitude, $"{echo.Pressures[0]} for {expected}");
    }

    [Fact]
    public void ExchangingTransmitterAndReceiverChangesNothingButRounding()
    {
        for (int seed = 0; seed < 3; seed++)
        {
            var random = new Random(seed);
            FacetSensor sensor = RandomSensor(random, 0.1);
            TriangleMesh mesh = TestShapes.Box(new Vec3(0.8, -0.2, 0.1), new Vec3(1.1, 0.25, 0.9));
            IRayScene scene = new RayScene.Builder().AddMesh(mesh, 0).AddSphere(new Vec3(0.5, 0.05, 0.8), 0.06, 1).Build();
            FacetSurface surface = FacetSurface.Of("box", mesh, 1.0, 2e-4);
            var ground = new GroundMirror(0, 3e-4);
            EchoSpectrum there = SurfaceIntegral.Evaluate(surface, sensor, Burst, scene, ground);
            EchoSpectrum back = SurfaceIntegral.Evaluate(surface, sensor.Reversed(), Burst, scene, ground);
            double greatest = there.Pressures.Max(p => p.Magnitude);
            for (int j = 0; j < Burst.Count; j++)
            {
                double difference = (there.Pressures[j] - back.Pressures[j]).Magnitude;
                Assert.True(difference < 1e-10 * greatest, $"seed {seed}, frequency {j}: {there.Pressures[j]} and {back.Pressures[j]}");
            }
        }
    }

    [Fact]
    public void AMirroredSceneGivesTheSameEcho()
    {
        for (int seed = 0; seed < 4; seed++)
        {
            var random = new Random(100 + seed);
            FacetSensor sensor = RandomSensor(random, 0.03);
            TriangleMesh mesh = TestShapes.Box(new Vec3(0.8, 0.1, 0.1), new Vec3(1.0, 0.45, 0.9));
            var mirroredMesh = new TriangleMesh(
                [.. mesh.Vertices.Select(v => v.MirroredLeftRight())], [.. mesh.Facets.Select(f => new Facet(f.A, f.C, f.B))]);

            // A mirrored attitude is a rotation again because the beams are the same left and right.
            Rotation r = sensor.WorldFromSensor;
            FacetSensor mirrored = sensor with
            {
                TransmitterMetres = sensor.TransmitterMetres.MirroredLeftRight(),
                ReceiverMetres = sensor.ReceiverMetres.MirroredLeftRight(),
                WorldFromSensor = new Rotation(r.AxisX.MirroredLeftRight(), -r.AxisY.MirroredLeftRight(), r.AxisZ.MirroredLeftRight()),
            };
            EchoSpectrum one = SurfaceIntegral.Evaluate(FacetSurface.Of("box", mesh), sensor, Burst);
            EchoSpectrum other = SurfaceIntegral.Evaluate(FacetSurface.Of("box", mirroredMesh), mirrored, Burst);
            double greatest = one.Pressures.Max(p => p.Magnitude);
            for (int j = 0; j < Burst.Count; j++)
            {
                double difference = (one.Pressures[j] - other.Pressures[j]).Magnitude;
                Assert.True(difference < 1e-9 * greatest, $"seed {seed}, frequency {j}: {one.Pressures[j]} and {other.Pressures[j]}");
            }
        }
    }

    [Fact]
    public void AColumnOfSixteenSidesIsTooCoarseAndItsVerdictIsWithheld()
    {
        var sensor = FacetSensor.Omnidirectional(new Vec3(1, 0, 1), 343.2);
        EchoSpectrum coarse = SurfaceIntegral.Evaluate(FacetSurface.Of("pole", TestShapes.Tube(0.0375, 0, 2, 16)), sensor, Burst);
        Assert.False(coarse.IsVerdictAllowed);
        Assert.Contains("pole is too coarse for 43 kHz", coarse.Withheld[0], StringComparison.Ordinal);
        EchoSpectrum fine = SurfaceIntegral.Evaluate(FacetSurface.Of("pole", TestShapes.Tube(0.0375, 0, 2, 120)), sensor, Burst);
        Assert.True(fine.IsVerdictAllowed, string.Join(' ', fine.Withheld));

        // The same sixteen faces, declared to be the true shape.
        EchoSpectrum column = SurfaceIntegral.Evaluate(
            FacetSurface.Of("column", TestShapes.Tube(0.0375, 0, 2, 16), hasFlatFaces: true), sensor, Burst);
        Assert.True(column.IsVerdictAllowed);
    }

    [Fact]
    public void ABoxOfFlatFacesIsNeverTooCoarse()
    {
        Assert.Equal(0, MeshCoarseness.Of(TestShapes.Box(Vec3.Zero, new Vec3(1, 2, 3))).SagittaMetres);
    }

    [Fact]
    public void TheSagittaOfATubeIsThatOfItsChordsOrUpToHalfAsMuchMore()
    {
        foreach (int sides in new[] { 16, 48, 96, 240 })
        {
            double sagitta = 0.0375 * (1 - Math.Cos(Math.PI / sides));
            double measured = MeshCoarseness.Of(TestShapes.Tube(0.0375, 0, 2, sides)).SagittaMetres;
            Assert.InRange(measured, sagitta, 1.52 * sagitta);
        }
    }

    // A blocker as wide as the whole wall leaves nothing; one much narrower than a Fresnel zone only weakens the echo.
    [Fact]
    public void ABlockerShadowsAndANarrowOneOnlyWeakens()
    {
        var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0, 1), 343.2);
        FacetSurface wall = FacetSurface.Of("wall", TestShapes.Rectangle(1, 1));
        double Level(IRayScene? scene) => SurfaceIntegral.Evaluate(wall, sensor, Burst, scene).BandMeanDecibels();
        IRayScene wide = new RayScene.Builder().AddBox(new RigidTransform(Rotation.Identity, new Vec3(0, 0, 0.5)), new Vec3(0.5, 0.5, 0.01), 1).Build();
        IRayScene narrow = new RayScene.Builder().AddCylinder(new Vec3(-1, 0, 0.5), new Vec3(1, 0, 0.5), 0.004, 1).Build();
        Assert.Equal(double.NegativeInfinity, Level(wide));
        double loss = Level(null) - Level(narrow);

        // The wire's shadow is 16 mm wide on a wall whose first Fresnel zone is 131 mm across.
        Assert.InRange(loss, 0.3, 4);
    }

    [Fact]
    public void HalvingTheFacetsChangesLittleAndTheDifferenceIsReported()
    {
        var sensor = FacetSensor.Omnidirectional(new Vec3(0.05, 0.02, 0.7), new Vec3(0.05, -0.02, 0.7), 343.2);
        EchoSpectrum echo = SurfaceIntegral.EvaluateVerified(FacetSurface.Of("board", TestShapes.Rectangle(0.3, 0.2)), sensor, Burst);
        Assert.NotNull(echo.EstimatedRelativeError);
        Assert.InRange(echo.EstimatedRelativeError.Value, 0, 0.01);
    }

    [Fact]
    public void BrokenMeshesAreRefusedWithTheReason()
    {
        TriangleMesh good = TestShapes.Rectangle(1, 1);
        var infinite = good with { Vertices = good.Vertices.SetItem(1, new Vec3(double.NaN, 0, 0)) };
        var outside = good with { Facets = good.Facets.SetItem(0, new Facet(0, 1, 9)) };
        var flat = good with { Facets = [new Facet(0, 0, 1)] };
        var huge = good with { Vertices = good.Vertices.SetItem(1, new Vec3(1e200, 0, 0)) };
        Assert.Contains("within 1000 m", Assert.Throws<ArgumentException>(() => FacetSurface.Of("m", huge)).Message, StringComparison.Ordinal);
        Assert.Contains("Vertex 1", Assert.Throws<ArgumentException>(() => FacetSurface.Of("m", infinite)).Message, StringComparison.Ordinal);
        Assert.Contains("Facet 0", Assert.Throws<ArgumentException>(() => FacetSurface.Of("m", outside)).Message, StringComparison.Ordinal);
        Assert.Contains("no facet", Assert.Throws<ArgumentException>(() => FacetSurface.Of("m", flat)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ManyFrequenciesAreThoseOfSingleOnes()
    {
        FacetSensor sensor = RandomSensor(new Random(5), 0.03);
        FacetSurface surface = FacetSurface.Of("sphere", TestShapes.Sphere(0.05, 3));
        surface = FacetSurface.Of("sphere", surface.Mesh with { Vertices = [.. surface.Mesh.Vertices.Select(v => v + new Vec3(0.6, 0, 0.6))] });
        FrequencyBand band = FrequencyBand.Between(34_000, 46_000, 61);
        EchoSpectrum many = SurfaceIntegral.Evaluate(surface, sensor, band);
        double greatest = many.Pressures.Max(p => p.Magnitude);
        for (int j = 0; j < band.Count; j += 10)
        {
            // The highest frequency decides how far facets are split, so the facets are not the same.
            EchoSpectrum one = SurfaceIntegral.Evaluate(surface, sensor, FrequencyBand.Single(band.Hertz(j)), options: new(4096));
            EchoSpectrum other = SurfaceIntegral.Evaluate(surface, sensor, band, options: new(4096));
            double difference = (one.Pressures[0] - other.Pressures[j]).Magnitude;
            Assert.True(difference < 5e-4 * greatest, $"{band.Hertz(j)} Hz: {one.Pressures[0]} and {other.Pressures[j]}");
        }
    }
}
