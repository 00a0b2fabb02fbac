using System.Numerics;
using MathNet.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Tests.Echoes.Facets;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Published.Facets;

public class WedgeTests(ITestOutputHelper output)
{
    private static Complex Hankel(double x) => new(SpecialFunctions.BesselJ(0, x), SpecialFunctions.BesselY(0, x));

    /// <summary>
    /// The total field of a line source beside a rigid wedge by the line integral of the edge. Its integral over both the source line
    /// and the edge becomes, with hyperbolic angles, −(iν/8π) ∫₀^∞ β(η) H₀(k R(η)) dη, R² = r_S² + r_R² + 2 r_S r_R cosh η.
    /// </summary>
    private static Complex TotalField(double n, double angle, double kSource, double kReceiver)
    {
        double index = 1 / n;
        Complex diffracted = 0;
        double eta = 0;
        while (eta < 14)
        {
            // Steps that follow both the bend of β and the phase of H.
            double reach = Math.Sqrt((kSource * kSource) + (kReceiver * kReceiver) + (2 * kSource * kReceiver * Math.Cosh(eta)));
            double slope = kSource * kReceiver * Math.Sinh(eta) / reach;
            double step = Math.Min(0.005, 0.4 / (slope + 1));
            double middle = eta + (0.5 * step);
            double at = Math.Sqrt((kSource * kSource) + (kReceiver * kReceiver) + (2 * kSource * kReceiver * Math.Cosh(middle)));
            Complex hankel = at < 500
                ? Hankel(at)
                : Math.Sqrt(2 / (Math.PI * at)) * Complex.Exp(new Complex(0, at - (0.25 * Math.PI))) * new Complex(1, -0.125 / at);
            diffracted += WedgeEdge.Beta(index, angle, angle, Math.Cosh(middle)) * hankel * step;
            eta += step;
        }

        diffracted *= new Complex(0, -index / (8 * Math.PI));

        // Source and receiver at one angle: the direct wave, and mirror images in the two faces while they are seen.
        Complex geometric = Hankel(Math.Abs(kSource - kReceiver));
        foreach (double mirror in new[] { 2 * angle, 2 * ((n * Math.PI) - angle) })
        {
            if (mirror < Math.PI)
            {
                geometric += Hankel(Math.Sqrt((kSource * kSource) + (kReceiver * kReceiver) - (2 * kSource * kReceiver * Math.Cos(mirror))));
            }
        }

        return (new Complex(0, 0.25) * geometric) + diffracted;
    }

    // The line integral is exact, so the eigenfunction series must come out; quadrature leaves less than 1e-7 of the field.
    [Fact]
    public void TheEdgeIntegralGivesTheEigenfunctionSeriesOfTheWedge()
    {
        foreach (var row in FacetTable.Read("wedge_exact.csv"))
        {
            Complex got = TotalField(row.Number("n"), row.Number("phi_deg") * Math.PI / 180, row.Number("k_r0"), row.Number("k_r"));
            var expected = new Complex(row.Number("re_total"), row.Number("im_total"));
            double error = (got - expected).Magnitude / expected.Magnitude;
            output.WriteLine($"n {row["n"]}, {row["phi_deg"]}°, k r0 {row["k_r0"]}: {error:E2} of the field");
            Assert.True(error < 1e-6, $"n {row["n"]}, {row["phi_deg"]}°, k r0 {row["k_r0"]}: {got} for {expected}");
        }
    }

    // Keller's coefficient for a long edge of 90°, seen at the angles of the table; at k r of 900 and more, and 20° or more from the
    // mirror boundaries, it holds to 0.1 dB. The edge here is 5 m long under a window that leaves its ends out and bends a little over
    // the first Fresnel zone, another 0.1 dB.
    [Fact]
    public void ALongKerbEdgeIsKellersEdge()
    {
        foreach (var row in FacetTable.Read("kerb_edge.csv"))
        {
            double height = row.Number("height_m");
            double distance = row.Number("distance_m");
            double up = row.Number("sensor_height_m");
            var edge = new WedgeEdge(new MeshEdge(
                new Vec3(distance, -2.5, height), new Vec3(distance, 2.5, height), Vec3.UnitZ, -Vec3.UnitX, 1, 1, Math.PI / 2));
            var sensor = new Vec3(0, 0, up);
            double range = sensor.DistanceTo(new Vec3(distance, 0, height));
            Complex exact = 0;
            Complex excess = 0;
            const int Elements = 40_000;
            for (int i = 0; i < Elements; i++)
            {
                double y = 2.5 * ((2 * (i + 0.5) / Elements) - 1);
                var point = new Vec3(distance, y, height);
                double r = sensor.DistanceTo(point);

                // A smooth window over the edge, flat in the middle, leaves out its ends.
                double window = Math.Pow(Math.Cos(0.5 * Math.PI * y / 2.5), 4);
                Complex wave = window * Complex.Exp(new Complex(0, 2 * TestShapes.Wavenumber * r)) * (5.0 / Elements);
                exact += ExactOnly(sensor, point, range) * wave;
                excess += edge.Excess(point, sensor, sensor) * wave;
            }

            double strength = 20 * Math.Log10(exact.Magnitude * range * range);
            double extra = 20 * Math.Log10(excess.Magnitude * range * range);
            output.WriteLine($"kerb {height} m: exact edge {strength:F2} dB, Keller {row["ts_top_edge_keller_db"]} dB, beyond the surface integral {extra:F2} dB");
            Assert.Equal(row.Number("ts_top_edge_keller_db"), strength, 0.25);
        }

        // The exact line integral alone: −(ν/4π) β/(m l), with the angle from the upright face.
        double ExactOnly(Vec3 sensor, Vec3 point, double range)
        {
            Vec3 towards = sensor - point;
            double across = Math.Sqrt((towards.X * towards.X) + (towards.Z * towards.Z));
            double angle = Math.Atan2(-towards.X, -towards.Z);
            double m = towards.Length;
            double cosh = ((m * m) + (towards.Y * towards.Y)) / (across * across);
            return -(2.0 / 3.0) / (4 * Math.PI) * WedgeEdge.Beta(2.0 / 3.0, angle, angle, cosh) / (m * m);
        }
    }
}
