using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Published.Facets;

public class TrianglePhaseIntegralTests
{
    // The table holds 17 digits; double precision over phases of up to about 100 rad leaves 1e-13 of the area.
    private const double TolerancePerArea = 1e-12;

    [Fact]
    public void EveryTriangleOfTheTableIsWithinTheTolerance()
    {
        var rows = FacetTable.Read("triangle_phase_integral.csv");
        Assert.True(rows.Count >= 28);
        foreach (var row in rows)
        {
            Vec3 Corner(int i) => new(row.Number($"v{i}x_m"), row.Number($"v{i}y_m"), row.Number($"v{i}z_m"));
            var q = new Vec3(row.Number("qx_rad_m"), row.Number("qy_rad_m"), row.Number("qz_rad_m"));
            Complex got = TrianglePhaseIntegral.Of(Corner(0), Corner(1), Corner(2), q);
            var expected = new Complex(row.Number("re_I_m2"), row.Number("im_I_m2"));
            double error = (got - expected).Magnitude / row.Number("area_m2");
            Assert.True(error < TolerancePerArea, $"{row["case"]}: {got} for {expected}, off by {error:E2} of the area");
        }
    }
}
