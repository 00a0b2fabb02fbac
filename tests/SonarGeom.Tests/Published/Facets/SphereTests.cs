using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Tests.Echoes.Facets;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Published.Facets;

public class SphereTests(ITestOutputHelper output)
{
    // Far enough for plane waves: the spread over a sphere of 0.3 m changes levels by less than 0.003 dB.
    private const double FarMetres = 1000;

    /// <summary>Backscatter of a sphere mesh over the geometric value a/2. [dB]</summary>
    private static double MeshDecibels(double ka, int level)
    {
        double radius = ka / TestShapes.Wavenumber;
        TriangleMesh mesh = TestShapes.Sphere(radius, level);
        var sensor = FacetSensor.Omnidirectional(new Vec3(0.36, 0.48, 0.8) * FarMetres, TestShapes.SoundSpeed);
        EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("sphere", mesh), sensor, FrequencyBand.Single(40_000));
        double formFunction = echo.Pressures[0].Magnitude * FarMetres * FarMetres;
        return 20 * Math.Log10(formFunction / (0.5 * radius));
    }

    /// <summary>The Kirchhoff sphere, f = −(i/4k)[exp(−2ika)(1 + 2ika) − 1]: the integral over the lit half done by hand.</summary>
    private static double AnalyticDecibels(double ka)
    {
        Complex bracket = (Complex.Exp(new Complex(0, -2 * ka)) * new Complex(1, 2 * ka)) - 1;
        return 20 * Math.Log10(bracket.Magnitude / (2 * ka));
    }

    // Levels chosen so that the sagitta edge²/(8a) is at most a thousandth of the wavelength; the tolerance is the one asked of
    // meshes that fine.
    [Theory]
    [InlineData(5, 5)]
    [InlineData(10, 5)]
    [InlineData(20, 6)]
    [InlineData(40, 6)]
    public void AFineMeshGivesTheAnalyticKirchhoffSphere(double ka, int level)
    {
        double radius = ka / TestShapes.Wavenumber;
        double edgeOverRadius = 1.1071487 / (1 << level) * 1.1; // the icosahedron's edge spans 63.43°; the longest edge is up to a tenth longer
        double sagittaOverWavelength = edgeOverRadius * edgeOverRadius * radius / 8 / (2 * Math.PI / TestShapes.Wavenumber);
        Assert.True(sagittaOverWavelength <= 1e-3, $"sagitta {sagittaOverWavelength:E2} of a wavelength");
        double got = MeshDecibels(ka, level);
        double expected = AnalyticDecibels(ka);
        output.WriteLine($"ka {ka}: mesh {got:F3} dB, analytic Kirchhoff {expected:F3} dB");
        Assert.True(Math.Abs(got - expected) < 0.05, $"ka {ka}: {got:F4} dB for {expected:F4} dB");
    }

    [Fact]
    public void TheAnalyticKirchhoffSphereIsTheOneOfTheTable()
    {
        foreach (var row in FacetTable.Read("sphere_series_ts.csv"))
        {
            Assert.Equal(row.Number("kirchhoff_ts_db"), AnalyticDecibels(row.Number("ka")), 1e-6);
        }
    }

    // The Kirchhoff integral has a false echo from the edge of the lit side, 1/(2ka) of the sphere's: 0.9 dB at ka 5, 0.02 dB at
    // ka 200. The exact sphere adds creeping waves of the same order. So the difference may reach twice the first.
    [Theory]
    [InlineData(5, 4)]
    [InlineData(10, 5)]
    [InlineData(20, 5)]
    [InlineData(50, 5)]
    [InlineData(100, 6)]
    [InlineData(200, 6)]
    public void TheDifferenceFromTheExactRigidSphereIsTheKirchhoffError(double ka, int level)
    {
        double exact = FacetTable.Read("sphere_series_ts.csv").Single(row => row.Number("ka") == ka).Number("ts_db");
        double got = MeshDecibels(ka, level);
        output.WriteLine($"ka {ka}: surface integral {got:F3} dB, exact {exact:F3} dB, difference {got - exact:+0.000;-0.000} dB re a/2");
        double kirchhoffError = 20 * Math.Log10(1 + (2 / (2 * ka)));
        Assert.True(Math.Abs(got - exact) < kirchhoffError + 0.05, $"ka {ka}: {got:F3} dB, exact {exact:F3} dB");
    }
}
