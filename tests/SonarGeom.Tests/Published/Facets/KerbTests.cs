using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Tests.Echoes.Facets;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Published.Facets;

public class KerbTests(ITestOutputHelper output)
{
    private const double LengthMetres = 0.15; // short: the strip's law is paraxial, and errs by 0.03 dB at twice this length
    private const double Wavelength = TestShapes.SoundSpeed / 40_000;

    private static readonly GroundMirror SmoothRoad = new(0, 0);

    /// <summary>∫ exp(ik z²/R) dz from −reach to +reach, by Simpson's rule.</summary>
    private static double FresnelMagnitude(double reach, double range)
    {
        const int Steps = 40_000;
        double h = 2 * reach / Steps;
        Complex sum = 0;
        for (int i = 0; i <= Steps; i++)
        {
            double z = -reach + (i * h);
            double weight = i == 0 || i == Steps ? 1 : (i & 1) == 1 ? 4 : 2;
            sum += weight * Complex.Exp(new Complex(0, TestShapes.Wavenumber * z * z / range));
        }

        return (sum * h / 3).Magnitude;
    }

    // The double bounce equals a strip of twice the projected height that faces the sensor: an equivalence that holds to the
    // spread of angles over the face, 0.006 dB by independent quadrature. The whole echo has the single and the triple bounce
    // too, whose edges move it by up to 0.25 dB.
    [Fact]
    public void TheDoubleBounceOfAKerbIsThatOfTheEquivalentStrip()
    {
        foreach (var row in FacetTable.Read("kerb_edge.csv"))
        {
            double height = row.Number("height_m");
            double range = row.Number("slant_range_m");
            double cosine = Math.Cos(row.Number("depression_deg") * Math.PI / 180);
            double strip = FresnelMagnitude(height * cosine, range) * FresnelMagnitude(0.5 * LengthMetres, range) / Wavelength;
            double expected = strip / (range * range);

            // A very long kerb is that of the table.
            double endless = FresnelMagnitude(height * cosine, range) * Math.Sqrt(0.5 * Wavelength * range) / Wavelength;
            Assert.Equal(row.Number("ts_dihedral_db"), 20 * Math.Log10(endless), 0.01);

            FacetSurface face = Face(row.Number("distance_m"), height);
            var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0, row.Number("sensor_height_m")), TestShapes.SoundSpeed);
            FrequencyBand band = FrequencyBand.Single(40_000);
            EchoSpectrum bounce = SurfaceIntegral.Evaluate(face, sensor, band, null, SmoothRoad, new(WithSingleBounce: false, WithTripleBounce: false));
            EchoSpectrum whole = SurfaceIntegral.Evaluate(face, sensor, band, null, SmoothRoad);
            double bounceDifference = 20 * Math.Log10(bounce.Pressures[0].Magnitude / expected);
            double wholeDifference = 20 * Math.Log10(whole.Pressures[0].Magnitude / expected);
            output.WriteLine($"kerb {height} m: double bounce {bounceDifference:+0.0000;-0.0000} dB, whole {wholeDifference:+0.000;-0.000} dB");
            Assert.True(Math.Abs(bounceDifference) < 0.02, $"kerb {height} m: off by {bounceDifference:F4} dB");
            Assert.True(Math.Abs(wholeDifference) < 0.25, $"kerb {height} m: off by {wholeDifference:F4} dB");
        }
    }

    // Each bounce on a rough face loses exp(−Γ²/2). The road is met at grazing angle ψ, the upright face at 90° − ψ from its own
    // plane: for 45° and 1 mm both have Γ = 2k·1 mm·sin 45° = 1.036, so two bounces lose 8.686 (Γ²/2 + Γ²/2) = 9.3 dB.
    [Fact]
    public void RoughnessOfRoadAndFaceWeakensTheDoubleBounce()
    {
        var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0, 1.0), TestShapes.SoundSpeed);
        FrequencyBand band = FrequencyBand.Single(40_000);
        var options = new SurfaceIntegralOptions(WithSingleBounce: false, WithTripleBounce: false);
        EchoSpectrum smooth = SurfaceIntegral.Evaluate(Face(1.0, 0.05), sensor, band, null, SmoothRoad, options);
        EchoSpectrum rough = SurfaceIntegral.Evaluate(Face(1.0, 0.05, 1e-3), sensor, band, null, new GroundMirror(0, 1e-3), options);
        double gamma = 2 * TestShapes.Wavenumber * 1e-3 * Math.Sqrt(0.5);
        double loss = 20 * Math.Log10(smooth.Pressures[0].Magnitude / rough.Pressures[0].Magnitude);
        Assert.Equal(20 * Math.Log10(Math.E) * gamma * gamma, loss, 0.3);
    }

    private static FacetSurface Face(double distance, double height, double roughness = 0)
    {
        double y = 0.5 * LengthMetres;
        var mesh = new TriangleMesh(
            [new Vec3(distance, -y, 0), new Vec3(distance, y, 0), new Vec3(distance, y, height), new Vec3(distance, -y, height)],
            [new Facet(0, 2, 1), new Facet(0, 3, 2)]);
        return FacetSurface.Of("kerb face", mesh, roughnessRmsMetres: roughness);
    }
}
