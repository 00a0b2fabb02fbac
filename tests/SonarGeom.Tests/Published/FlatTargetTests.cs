using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Published;

public class FlatTargetTests
{
    private const string Shape = "shape (rectangle Lx x Ly centred at origin in z=0; disc of radius Lx)";
    private const string Real = "re_p_for_unit_source_at_1m (monostatic Kirchhoff, 40 kHz, c 343.2 m/s, no absorption, no directivity)";

    // Sixty poses of rectangles and discs at any attitude against brute Kirchhoff quadrature. Near nulls decibels mean nothing, so
    // the rule is |p₁ − p₂| ≤ 3.5 % of the larger or 1 % of a wall at that range; what is asserted is five times tighter.
    [Fact]
    public void Flat_targets_match_quadrature_at_any_attitude()
    {
        double worst = 0;
        foreach (PublishedTable.Row row in PublishedTable.Read("flat_target_computed.csv").Rows)
        {
            double size = row["Lx_or_radius_m"];
            TargetPart part = row.Text(Shape) == "disc"
                ? new DiscPart("disc", Vec3.Zero, Vec3.UnitZ, size)
                : PolygonPart.Rectangle("plate", Vec3.Zero, new Vec3(0.5 * size, 0, 0), new Vec3(0, 0.5 * row["Ly_m"], 0));
            double height = row["sensor_z_m"];
            SensorAtPose sensor = EchoBench.At(EchoBench.Even, new Vec3(row["sensor_x_m"], row["sensor_y_m"], height), tiltDegrees: -90);
            var (re, im, magnitude) = EchoBench.Pressure(sensor, part);
            double difference = Math.Sqrt(Math.Pow(re - row[Real], 2) + Math.Pow(im - row["im_p"], 2));
            double larger = Math.Max(magnitude, Math.Sqrt((row[Real] * row[Real]) + (row["im_p"] * row["im_p"])));
            double allowed = Math.Max(0.035 * larger, 0.01 / (2 * height)) / 5;
            worst = Math.Max(worst, difference / (0.5 / height));
            Assert.True(difference <= allowed, $"{row}: got {re}, {im}; off by {difference}, allowed {allowed}");
        }

        Assert.True(worst < 2e-3, $"worst difference {worst} of a wall");
    }

    // Endless wall: the image source, exact (Kinsler et al., 4th ed., from memory). Single precision of nothing: 1e-12.
    [Fact]
    public void Wall_is_an_image_source()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("wall_image_computed.csv").Rows)
        {
            double range = row["range_m"];
            var wall = new PlanePart("wall", new Vec3(range, 0, 0), -Vec3.UnitX);
            double p = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), wall).Magnitude;
            Assert.Equal(row["p_echo_over_p_1m"], p, 1e-9 * 2);

            // A large board is a wall, up to its rim: 20 m square, rim 10 m away and out of step.
            var board = PolygonPart.Rectangle("board", new Vec3(range, 0, 0), new Vec3(0, -10, 0), new Vec3(0, 0, 10));
            double b = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), board).Magnitude;
            Assert.True(Math.Abs(b / p - 1) < 0.05, $"{range} m: {b} against {p}");
        }
    }

    // Rows of the far field: A/λ·cos·sinc (Urick, table 9.1; quadrature); evaluated here from 4 km away, where the outline of up to
    // 0.5 m is in its far field to 1e-4 of a wavelength. Rows at finite range: quadrature of the Kirchhoff integral.
    [Fact]
    public void Plates_match_far_field_and_quadrature()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("plate_computed.csv").Rows)
        {
            bool isFar = row.Text("range_m") == "inf";
            double range = isFar ? 4000 : row["range_m"];
            double tilt = row["tilt_deg_in_x"] * Math.PI / 180;
            var across = new Vec3(0.5 * row["Lx_m"] * Math.Sin(tilt), 0.5 * row["Lx_m"] * Math.Cos(tilt), 0);
            var plate = PolygonPart.Rectangle("plate", new Vec3(range, 0, 0), across, new Vec3(0, 0, 0.5 * row["Ly_m"]));
            double f = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), plate).Magnitude * range * range;
            double expected = row["abs_f_eff_quadrature_m"];
            double wall = isFar ? row["Lx_m"] * row["Ly_m"] / EchoBench.Wavelength : 0.5 * range;
            Assert.True(Math.Abs(f - expected) < Math.Max(0.007 * expected, 0.002 * wall), $"{row}: {f}");
        }
    }

    [Fact]
    public void Discs_match_far_field_and_quadrature()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("disc_computed.csv").Rows)
        {
            bool isFar = row.Text("range_m") == "inf";
            double range = isFar ? 4000 : row["range_m"];
            double tilt = row["tilt_deg"] * Math.PI / 180;
            var disc = new DiscPart("disc", new Vec3(range, 0, 0), new Vec3(-Math.Cos(tilt), Math.Sin(tilt), 0), row["radius_m"]);
            double f = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), disc).Magnitude * range * range;
            double expected = row["abs_f_eff_quadrature_m"];
            double wall = isFar ? Math.PI * row["radius_m"] * row["radius_m"] / EchoBench.Wavelength : 0.5 * range;
            Assert.True(Math.Abs(f - expected) < Math.Max(0.007 * expected, 0.002 * wall), $"{row}: {f}");
        }
    }

    // On the axis of a disc the Kirchhoff integral is elementary: p = e^{2ikR}/2R − R e^{2ikRb}/2Rb², Rb² = R² + b². Exact.
    [Theory]
    [InlineData(0.5, 0.05)]
    [InlineData(1.0, 0.0655)]
    [InlineData(2.0, 0.2)]
    public void Disc_on_its_axis_is_exact(double range, double radius)
    {
        double k = EchoBench.Wavenumber;
        double rim = Math.Sqrt((range * range) + (radius * radius));
        double re = (Math.Cos(2 * k * range) / (2 * range)) - (range * Math.Cos(2 * k * rim) / (2 * rim * rim));
        double im = (Math.Sin(2 * k * range) / (2 * range)) - (range * Math.Sin(2 * k * rim) / (2 * rim * rim));
        var disc = new DiscPart("disc", new Vec3(range, 0, 0), -Vec3.UnitX, radius);
        var p = EchoBench.Pressure(EchoBench.At(EchoBench.Even, Vec3.Zero), disc);
        Assert.Equal(re, p.Real, 1e-9);
        Assert.Equal(im, p.Imaginary, 1e-9);
    }
}
