using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Facets;

public class FacetKernelTests
{
    private static readonly FacetMedium Air = FacetMedium.Uniform(343.2, 1.3);

    private static FacetSensor Sensor(Directivity transmit, Directivity receive, FacetMedium medium) =>
        new(new Vec3(0, 0.015, 1.1), new Vec3(0, -0.015, 1.1), Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(5), Angle.FromDegrees(-10), Angle.FromDegrees(30)), transmit, receive, medium);

    /// <summary>Facets strewn at random: a third far off the axis, every attitude.</summary>
    private static FacetCloud Strewn(int count, int seed, double depth)
    {
        var random = new Random(seed);
        var records = new float[7 * count];
        for (int i = 0; i < count; i++)
        {
            Vec3 normal = new Vec3((2 * random.NextDouble()) - 1.6, (2 * random.NextDouble()) - 1, (2 * random.NextDouble()) - 1).Normalized();
            double[] record =
            [
                1.0 + (depth * random.NextDouble()), (2 * random.NextDouble()) - 1, 2 * random.NextDouble(),
                normal.X, normal.Y, normal.Z, 1e-6 * (1 + random.NextDouble()),
            ];
            for (int e = 0; e < 7; e++)
            {
                records[(7 * i) + e] = (float)record[e];
            }
        }

        return FacetCloud.FromRecords(records);
    }

    private static Complex[] Fast(FacetCloud cloud, FacetSensor sensor, FrequencyBand band, int threads = 1)
    {
        var sums = new Complex[band.Count];
        FacetSum.Sum(cloud, [sensor], [FacetBandPlan.All(band, sensor.Medium)], band.Count, threads, sums);
        return sums;
    }

    private static Complex[] Slow(FacetCloud cloud, FacetSensor sensor, FrequencyBand band)
    {
        var sums = new Complex[band.Count];
        FacetKernel.Reference(cloud, 0, cloud.Count, sensor, band, sums);
        return sums;
    }

    /// <summary>Greatest difference relative to the incoherent sum: what N random phases of the same strength would give.</summary>
    private static double Error(Complex[] fast, Complex[] slow, double scale) =>
        fast.Zip(slow, (f, s) => (f - s).Magnitude).Max() / scale;

    public static TheoryData<string, int> Beams()
    {
        var data = new TheoryData<string, int>();
        foreach (string beam in new[] { "pistons", "strong pistons", "cosine", "Gauss", "even", "rectangle" })
        {
            foreach (int count in new[] { 1, 2, 8, 64, 150 })
            {
                data.Add(beam, count);
            }
        }

        return data;
    }

    // A million facet-frequencies and more in all. Facets are strewn, so that the sum is random and errors do not hide behind a
    // specular peak: the scale is the root of the sum of squares, about √N facets.
    [Theory]
    [MemberData(nameof(Beams))]
    public void TheFastSumIsTheReference(string beam, int count)
    {
        (Directivity transmit, Directivity receive) = beam switch
        {
            "pistons" => ((Directivity)new CircularPiston(0.007), (Directivity)new CircularPiston(0.006)),
            "strong pistons" => (new CircularPiston(0.016), new CircularPiston(0.012)),
            "cosine" => (new CosinePowerBeam(2.59), new CosinePowerBeam(1.3)),
            "Gauss" => (new GaussianBeam(Angle.FromDegrees(30), -6), new GaussianBeam(Angle.FromDegrees(40), -6)),
            "even" => (EvenBeam.Instance, EvenBeam.Instance),
            _ => (new RectangularPiston(0.012, 0.007), new RectangularPiston(0.007, 0.010)),
        };
        FrequencyBand band = count == 1 ? FrequencyBand.Single(40_000) : FrequencyBand.Between(35_000, 45_000, count);
        var medium = FacetMedium.Of(343.2, band, f => 1.3 * f / 40_000);
        FacetSensor sensor = Sensor(transmit, receive, medium);
        FacetCloud cloud = Strewn(5000, 7, 0.5);
        Complex[] slow = Slow(cloud, sensor, band);
        Complex[] fast = Fast(cloud, sensor, band);
        double scale = Math.Sqrt(slow.Average(s => (s.Real * s.Real) + (s.Imaginary * s.Imaginary)));
        double error = Error(fast, slow, scale);

        // Strewn over 2 m, the paths of a chunk keep 1e-7 m in single precision, a phase of 1e-4 rad, which 64 turns treble. Quartics
        // through five frequencies bend a piston of ka 13 by up to 1e-3 at the angles of its side lobes.
        double tolerance = beam == "strong pistons" ? 1e-3 : 5e-4;
        Assert.True(error < tolerance, $"{beam}, {count} frequencies: {error:E2}");
    }

    // A pole of 60 mm radius, fine enough that its facets count whole: here paths of a chunk lie close together and the coarse grid
    // of frequencies is used.
    [Fact]
    public void ChunksOfNeighboursUseTheCoarseGridAndKeepItsAccuracy()
    {
        TriangleMesh tube = TestShapes.Tube(0.06, 0, 1, 160);
        TriangleMesh placed = tube with { Vertices = [.. tube.Vertices.Select(v => v + new Vec3(1.5, 0.1, 0.4))] };
        FacetCloud cloud = FacetCloud.Of(FacetSurface.Of("pole", placed), 0.002);
        FrequencyBand band = new(35_000, 156.25, 64);
        FacetSensor sensor = Sensor(new CircularPiston(0.007), new CircularPiston(0.006), Air);
        Complex[] slow = Slow(cloud, sensor, band);
        Complex[] fast = Fast(cloud, sensor, band);
        double error = Error(fast, slow, slow.Max(s => s.Magnitude));
        Assert.True(error < 2e-5, $"{cloud.Count} facets: {error:E2}");
    }

    [Fact]
    public void TheNumberOfThreadsDoesNotChangeABit()
    {
        FacetCloud cloud = Strewn(30_000, 11, 0.2);
        FrequencyBand band = FrequencyBand.Between(36_000, 44_000, 20);
        FacetSensor sensor = Sensor(new CircularPiston(0.007), new CircularPiston(0.006), Air);
        Assert.Equal(Fast(cloud, sensor, band, 1), Fast(cloud, sensor, band, 2));
        Assert.Equal(Fast(cloud, sensor, band, 1), Fast(cloud, sensor, band, 4));
    }

    [Fact]
    public void EveryCoarseGridKeepsItsPromise()
    {
        const int BandCount = 64;
        for (int choice = 0; choice < CoarseGrid.Choices.Length; choice++)
        {
            (int count, double span, double stretch) = CoarseGrid.Choices[choice];
            CoarseGrid grid = CoarseGrid.Of(choice, BandCount);
            double worst = 0;
            for (int i = 0; i <= 100; i++)
            {
                double u = span * ((0.02 * i) - 1);
                for (int j = 0; j < BandCount; j++)
                {
                    Complex sum = 0;
                    for (int m = 0; m < count; m++)
                    {
                        sum += grid.Weights[(j * count) + m] * Complex.Exp(new Complex(0, u * CoarseGrid.Position(m, count, stretch)));
                    }

                    worst = Math.Max(worst, (sum - Complex.Exp(new Complex(0, u * CoarseGrid.Position(j, BandCount, 0)))).Magnitude);
                }
            }

            Assert.True(worst < 4e-6, $"{count} frequencies: {worst:E2}");
        }
    }

    // The two ways of the engine: exact integrals in double precision, and small facets in single precision.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void TheEngineGivesTheSameOnItsFastWay(bool isShadowed)
    {
        TriangleMesh sphere = TestShapes.Sphere(0.03, 5);
        TriangleMesh placed = sphere with { Vertices = [.. sphere.Vertices.Select(v => v + new Vec3(0.9, 0.1, 1.0))] };
        FacetSurface surface = FacetSurface.Of("sphere", placed, 2.0);
        FrequencyBand band = FrequencyBand.Between(36_000, 44_000, 33);
        FacetSensor sensor = Sensor(new CircularPiston(0.007), new CircularPiston(0.006), Air);
        IRayScene? scene = isShadowed ? new RayScene.Builder().AddMesh(placed, 0).AddSphere(new Vec3(0.7, 0.09, 1.03), 0.012, 1).Build() : null;
        EchoSpectrum slow = SurfaceIntegral.Evaluate(surface, sensor, band, scene, options: new(MayUseFastSum: false));
        EchoSpectrum fast = SurfaceIntegral.Evaluate(surface, sensor, band, scene);
        double greatest = slow.Pressures.Max(p => p.Magnitude);
        double worst = slow.Pressures.Zip(fast.Pressures, (e, f) => (e - f).Magnitude).Max() / greatest;
        Assert.True(worst is > 0 and < 1e-3, $"{worst:E2} of the echo; {fast.FacetsSummed} and {slow.FacetsSummed} facets");
        Assert.Equal(slow.NearestPathMetres, fast.NearestPathMetres, 1e-4);
        Assert.Equal(slow.FacetsSummed, fast.FacetsSummed, 0.01 * slow.FacetsSummed);
    }
}
