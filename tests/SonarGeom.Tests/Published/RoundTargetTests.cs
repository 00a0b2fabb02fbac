using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Published;

public class RoundTargetTests
{
    // Exact series, 30 digits or double; printed to ten digits, so 1e-8 relative and no more.
    [Fact]
    public void Rigid_sphere_series_matches_the_independent_table()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("sphere_series_computed.csv").Rows)
        {
            double ratio = RigidSeries.SphereBackscatterRatio(row["ka"]);
            Assert.True(Math.Abs(ratio - (2 * row["abs_f_over_a"])) < 1e-8 * Math.Max(1, ratio), $"{row}: {ratio}");
        }
    }

    // Anchors: TS − 10 log(a²/4) at ka 5, 10, 100 (Morse and Ingard §8.2, from memory; computed with 30 digits).
    [Theory]
    [InlineData(5, 0.3391)]
    [InlineData(10, -0.1881)]
    [InlineData(100, -0.00658)]
    public void Rigid_sphere_anchor(double ka, double decibels) =>
        Assert.Equal(decibels, 20 * Math.Log10(RigidSeries.SphereBackscatterRatio(ka)), 1e-4);

    // Low-frequency limit of a fixed rigid sphere, |f| = (5/6) k² a³ (Rayleigh; from memory). The next term is of order (ka)².
    [Fact]
    public void Small_sphere_scatters_as_rayleigh_found() =>
        Assert.Equal(1, RigidSeries.SphereBackscatterRatio(0.01) / (2 * 5.0 / 6 * 0.01 * 0.01), 1e-4);

    // Exact series in double precision; relative 1e-9, except where the sum of cancelling modes leaves fewer digits at large ka.
    [Fact]
    public void Rigid_cylinder_series_matches_the_independent_table()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("cylinder_series_computed.csv").Rows)
        {
            double ka = row["ka"];
            double ratio = RigidSeries.CylinderBackscatterRatio(ka);
            double table = row["abs_f2_times_sqrt_k (dimensionless)"] / Math.Sqrt(0.5 * ka);
            Assert.True(Math.Abs(ratio - table) < 1e-8, $"{row}: {ratio} against {table}");
        }
    }

    // The table that the echoes use against the series itself, at ka between its nodes and beyond its end at ka 90: 1.3e-3 is 0.011 dB.
    [Fact]
    public void Tabulated_resonances_follow_the_series()
    {
        for (int i = 0; i < 1500; i++)
        {
            double ka = 0.12 + (0.0613 * i);
            Assert.True(Math.Abs(ResonanceTable.Sphere.At(ka) - RigidSeries.SphereBackscatterRatio(ka)) < (ka < 0.3 ? 2e-3 : 1.3e-3), $"sphere, ka {ka}");
            Assert.True(Math.Abs(ResonanceTable.Cylinder.At(ka) - RigidSeries.CylinderBackscatterRatio(ka)) < (ka < 0.3 ? 2e-3 : 2e-4), $"cylinder, ka {ka}");
        }
    }

    // Far-field sphere: 10 log(a²/4) (Urick, table 9.1, from memory) with the exact correction at this ka.
    [Fact]
    public void Distant_sphere_has_its_target_strength()
    {
        const double Radius = 0.05;
        var sphere = new SpherePart("sphere", new Vec3(100, 0, 0), Radius);
        double ts = EchoBench.EffectiveTargetStrength(EchoBench.At(EchoBench.Even, Vec3.Zero), sphere, 100);
        double expected = 20 * Math.Log10(Radius / 2 * RigidSeries.SphereBackscatterRatio(EchoBench.Wavenumber * Radius));

        // Left over: the range to the surface against the range to the centre, 0.05 % twice, 0.009 dB.
        Assert.Equal(expected, ts, 0.01);
    }

    // Point source near an endless rigid cylinder, spectral integral of the exact series; a 200 m rod stands for an endless one.
    // Tolerance 0.03 dB: the exact ratio is taken from a plane wave while the source is near (k·range is 366 in the worst row).
    [Fact]
    public void Long_pole_in_the_near_field_matches_the_exact_solution()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("pole_near_field_computed.csv").Rows)
        {
            double radius = 0.5 * row["diameter_m"];
            double range = row["range_to_surface_m"];
            var pole = new CylinderPart("pole", new Vec3(range + radius, 0, -100), new Vec3(range + radius, 0, 100), radius);
            double p = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), pole).Magnitude;
            double exact = row["abs_p_exact_spectral_for_unit_source_at_1m"];
            Assert.True(Math.Abs(20 * Math.Log10(p / exact)) < 0.03, $"{row}: {20 * Math.Log10(p / exact)} dB");
        }
    }

    // Far-field rod, broadside: TS = 10 log(a L²/2λ) (Urick, table 9.1, from memory), thick rod so that the series gives 1 to 0.01 dB.
    [Fact]
    public void Distant_rod_has_its_target_strength()
    {
        const double Radius = 0.06;
        const double Length = 0.3;
        var rod = new CylinderPart("rod", new Vec3(150, 0, -0.5 * Length), new Vec3(150, 0, 0.5 * Length), Radius);
        double ts = EchoBench.EffectiveTargetStrength(EchoBench.At(EchoBench.Even, Vec3.Zero), rod, 150);
        double series = 20 * Math.Log10(RigidSeries.CylinderBackscatterRatio(EchoBench.Wavenumber * Radius));
        Assert.Equal((10 * Math.Log10(Radius * Length * Length / (2 * EchoBench.Wavelength))) + series, ts, 0.02);
    }
}
