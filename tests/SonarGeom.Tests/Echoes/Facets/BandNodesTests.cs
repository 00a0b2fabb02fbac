using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Facets;

public class BandNodesTests
{
    // Two pistons of ka up to 12 over ±15 %: a sum of cosines of at most 2 × 12 × 0.15 = 3.6 rad; twelve points leave
    // 3.6¹²/(2¹¹ 12!) = 5e-6 at most.
    [Fact]
    public void TwelveFrequenciesDetermineTheBeamsOfStrongPistonsOverTheBand()
    {
        FrequencyBand band = FrequencyBand.Between(34_000, 46_000, 101);
        FacetMedium medium = FacetMedium.Lossless(343.2);
        BandNodes nodes = BandNodes.Of(band, medium);
        var piston = new CircularPiston(12 / medium.WavenumberRadiansPerMetre(46_000));
        var at = new double[nodes.Count];
        var spread = new double[band.Count];
        for (int degrees = 0; degrees < 90; degrees += 3)
        {
            var (sine, cosine) = Math.SinCos(degrees * Math.PI / 180);
            var direction = new Vec3(cosine, sine, 0);
            for (int m = 0; m < at.Length; m++)
            {
                at[m] = Math.Pow(piston.Amplitude(direction, nodes.Wavenumbers[m]), 2);
            }

            nodes.Spread(at, spread);
            for (int j = 0; j < band.Count; j++)
            {
                double exact = Math.Pow(piston.Amplitude(direction, medium.WavenumberRadiansPerMetre(band.Hertz(j))), 2);
                Assert.True(Math.Abs(spread[j] - exact) < 5e-6, $"{degrees}°, {band.Hertz(j)} Hz: {spread[j]} for {exact}");
            }
        }
    }

    [Fact]
    public void AbsorptionIsFollowedOverTheBand()
    {
        FrequencyBand band = FrequencyBand.Between(34_000, 46_000, 13);
        FacetMedium medium = FacetMedium.Of(343.2, band, hertz => 1.3 * Math.Pow(hertz / 40_000, 1.4));
        for (int j = 0; j < band.Count; j++)
        {
            double exact = 1.3 * Math.Pow(band.Hertz(j) / 40_000, 1.4);
            Assert.Equal(exact, medium.AbsorptionDecibelsPerMetre(band.Hertz(j)), 1e-3 * exact);
        }
    }
}
