using System.Numerics;
using MathNet.Numerics;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Published;

public class CornerAndEdgeTests
{
    // The strip form of the double bounce, itself checked against bistatic Kirchhoff quadrature to 0.006 dB. A kerb 200 m long
    // stands for an endless one; 0.02 dB is the tolerance of the double bounce.
    [Fact]
    public void Kerb_against_road_matches_the_double_bounce()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("kerb_computed.csv").Rows)
        {
            double x = row["horizontal_distance_m"];
            var corner = new CornerPart("kerb", new Vec3(x, -100, 0), new Vec3(x, 100, 0), -Vec3.UnitX, Vec3.UnitZ, row["kerb_height_m"]);
            SensorAtPose sensor = EchoBench.At(EchoBench.Even, new Vec3(0, 0, row["sensor_height_m"]));
            double ts = EchoBench.EffectiveTargetStrength(sensor, corner, row["slant_range_to_corner_m"]);
            Assert.True(Math.Abs(ts - row["TS_eff_dihedral_kerb_dB"]) < 0.02, $"{row}: {ts} dB");
        }
    }

    // Both surfaces rough: exp(−2k²σ²) together when both have the same σ (Beckmann and Spizzichino; from memory).
    [Theory]
    [InlineData(0.5e-3, -2.33)]
    [InlineData(1.0e-3, -9.32)]
    [InlineData(1.5e-3, -20.96)]
    public void Rough_kerb_loses_what_two_bounces_cost(double sigma, double decibels)
    {
        var smooth = new CornerPart("kerb", new Vec3(1.5, -1, 0), new Vec3(1.5, 1, 0), -Vec3.UnitX, Vec3.UnitZ, 0.1);
        CornerPart rough = smooth with { RoughnessRmsMetres = sigma, FloorRoughnessRmsMetres = sigma };
        SensorAtPose sensor = EchoBench.At(EchoBench.Even, new Vec3(0, 0, 1));
        double loss = 20 * Math.Log10(EchoBench.Pressure(sensor, rough).Magnitude / EchoBench.Pressure(sensor, smooth).Magnitude);
        Assert.Equal(decibels, loss, 0.01);
    }

    // Upper edge of the kerb by Keller's coefficient; the uniform theory differs from Keller by less than 0.1 dB that far
    // (more than 20°) from the mirror boundary of the face.
    [Fact]
    public void Kerb_edge_matches_keller()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("kerb_computed.csv").Rows)
        {
            double x = row["horizontal_distance_m"];
            double top = row["kerb_height_m"];
            double height = row["sensor_height_m"];
            var edge = new EdgePart("edge", new Vec3(x, -100, top), new Vec3(x, 100, top), -Vec3.UnitZ, -Vec3.UnitX, EdgePart.Square);
            double range = Math.Sqrt((x * x) + ((height - top) * (height - top)));
            double ts = EchoBench.EffectiveTargetStrength(EchoBench.At(EchoBench.Even, new Vec3(0, 0, height)), edge, range);
            Assert.True(Math.Abs(ts - row["TS_eff_top_edge_Keller_dB (long 90deg edge)"]) < 0.15, $"{row}: {ts} dB");
        }
    }

    // Exact eigenfunction series of the rigid wedge with a line source (Bowman, Senior and Uslenghi ch. 6): the diffracted part is
    // the total less the direct wave (and there is no mirror wave at these angles). The uniform theory errs by its own amount,
    // as tabulated, at most 0.5 % at k·r₀ = 10; against that figure 0.1 % is allowed for the fit of the Fresnel tail and rounding.
    [Fact]
    public void Wedge_diffraction_matches_the_exact_series()
    {
        int count = 0;
        foreach (PublishedTable.Row row in PublishedTable.Read("wedge_computed.csv").Rows)
        {
            double n = row["exterior_angle_over_pi_n"];
            double phi = row["phi_deg (source and receiver, from one face)"] * Math.PI / 180;
            if (2 * phi <= Math.PI || 2 * phi >= ((2 * n) - 1) * Math.PI)
            {
                continue;
            }

            double k = EchoBench.Wavenumber;
            double kr0 = row["k_r0"];
            double kr = row["k_r"];
            Complex direct = new Complex(0, 0.25) * new Complex(SpecialFunctions.BesselJ(0, kr - kr0), SpecialFunctions.BesselY(0, kr - kr0));
            var total = new Complex(row["re_total_field_line_source (i/4 H0 normalised)"], row["im_total_field"]);
            double exact = (total - direct).Magnitude;
            LaneComplex d = EdgeEcho.Diffraction(EchoBench.Even.Centre, n, phi, kr0 * kr / ((kr0 + kr) * k));
            double uniform = 0.25 * Math.Sqrt(2 / (Math.PI * kr0)) * Math.Sqrt(d.Power[0]) / Math.Sqrt(kr / k);
            double tabulated = row["ratio_abs_diffracted_exact_over_utd"];
            Assert.True(Math.Abs((exact / uniform) - tabulated) < 1e-3 && Math.Abs((exact / uniform) - 1) < 6e-3, $"{row}: {exact / uniform}");
            count++;
        }

        Assert.True(count >= 10, $"only {count} rows without a mirror wave");
    }
}
