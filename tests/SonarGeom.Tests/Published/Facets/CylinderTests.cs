using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Tests.Echoes.Facets;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Published.Facets;

public class CylinderTests(ITestOutputHelper output)
{
    private const double FarMetres = 1000;
    private const double LengthMetres = 0.05;

    private static int SidesFor(double radius, double sagittaOverWavelength)
    {
        // Sagitta of a chord: a (1 − cos(π/n)) ≈ a π²/(2n²).
        double sagitta = sagittaOverWavelength * 2 * Math.PI / TestShapes.Wavenumber;
        return 4 * (int)Math.Ceiling(Math.PI * Math.Sqrt(radius / (2 * sagitta)) / 4);
    }

    /// <summary>Broadside backscatter of a short tube seen from afar, per length, over the geometric value. [dB]</summary>
    private static double MeshDecibels(double ka)
    {
        double radius = ka / TestShapes.Wavenumber;
        TriangleMesh mesh = TestShapes.Tube(radius, -0.5 * LengthMetres, 0.5 * LengthMetres, SidesFor(radius, 8e-4));
        var sensor = FacetSensor.Omnidirectional(new Vec3(FarMetres, 0, 0), TestShapes.SoundSpeed);
        EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("tube", mesh), sensor, FrequencyBand.Single(40_000));
        double formFunction = echo.Pressures[0].Magnitude * FarMetres * FarMetres;
        double wavelength = 2 * Math.PI / TestShapes.Wavenumber;
        return 20 * Math.Log10(formFunction / (LengthMetres * Math.Sqrt(radius / (2 * wavelength))));
    }

    /// <summary>The Kirchhoff cylinder by quadrature: f₂ = −(i k a/√λ… )∫cos φ exp(−2ika cos φ) dφ over the lit half. [dB]</summary>
    private static double QuadratureDecibels(double ka)
    {
        const int Steps = 20_000;
        Complex sum = 0;
        for (int i = 0; i < Steps; i++)
        {
            double cosine = Math.Cos((((i + 0.5) / Steps) - 0.5) * Math.PI);
            sum += cosine * Complex.Exp(new Complex(0, -2 * ka * cosine));
        }

        // |f| = (k a L / 2π) |∫|; the geometric value is L √(a/2λ), so the ratio is |∫| √(ka/π).
        return 20 * Math.Log10((sum * Math.PI / Steps).Magnitude * Math.Sqrt(ka / Math.PI));
    }

    [Theory]
    [InlineData(5)]
    [InlineData(7.3)]
    [InlineData(27.5)]
    [InlineData(100)]
    [InlineData(200)]
    public void TheDifferenceFromTheExactRigidCylinderIsTheKirchhoffError(double ka)
    {
        double exact = FacetTable.Read("cylinder_series.csv").Single(row => row.Number("ka") == ka).Number("ts_minus_geometric_db");
        double got = MeshDecibels(ka);
        double kirchhoff = QuadratureDecibels(ka);
        output.WriteLine($"ka {ka}: surface integral {got:F3} dB, Kirchhoff by quadrature {kirchhoff:F3} dB, exact {exact:F3} dB, difference {got - exact:+0.000;-0.000} dB");

        // Sagitta below a thousandth of the wavelength. (Just at a thousandth, ka 200 has 400 sides of exactly half a wavelength:
        // they reinforce one another at the edge of the lit side, 0.054 dB.)
        Assert.True(Math.Abs(got - kirchhoff) < 0.05, $"ka {ka}: {got:F3} dB for {kirchhoff:F3} dB");

        // The false echo of the edge of the lit side is 1/(2ka) of the integral's unit against √(π/ka) of the geometric echo.
        double kirchhoffError = 20 * Math.Log10(1 + (1 / Math.Sqrt(Math.PI * ka)));
        Assert.True(Math.Abs(got - exact) < kirchhoffError, $"ka {ka}: {got:F3} dB, exact {exact:F3} dB");
    }

    // A tube of ±3 m leaves an end echo of up to R/(2kz) of a Fresnel length: 0.02 dB at 0.5 m to 0.05 dB at 2 m. The rest is the
    // Kirchhoff error of the round: below 0.03 dB from ka 20 on, and 0.3 dB for the 20 mm pole.
    [Fact]
    public void ALongPoleNearTheSensorAgreesWithTheSpectralSolution()
    {
        foreach (var row in FacetTable.Read("pole_near_field_exact.csv"))
        {
            double radius = 0.5 * row.Number("diameter_m");
            double range = row.Number("range_to_surface_m");
            TriangleMesh mesh = TestShapes.Tube(radius, -3, 3, SidesFor(radius, 1e-3));
            var sensor = FacetSensor.Omnidirectional(new Vec3(radius + range, 0, 0), TestShapes.SoundSpeed);
            EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("pole", mesh, hasFlatFaces: true), sensor, FrequencyBand.Single(40_000));
            double difference = 20 * Math.Log10(echo.Pressures[0].Magnitude / row.Number("abs_p"));
            output.WriteLine($"{row["diameter_m"]} m at {row["range_to_surface_m"]} m: {difference:+0.000;-0.000} dB, {echo.FacetsSummed} facets");
            Assert.True(Math.Abs(difference) < (radius < 0.015 ? 0.35 : 0.1), $"{row["diameter_m"]} m at {range} m: off by {difference:F3} dB");
        }
    }
}
