using System.Numerics;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

/// <summary>The contour form against the surface integral it stands for, with transmitter and receiver apart and with beams.</summary>
public class PlateEchoTests
{
    // Kirchhoff with the symmetric obliquity, p = −(i k/2π)∫ ½(cos θ₁ + cos θ₂)(1 + i/kr…)…: the Maggi–Rubinowicz form is exact for
    // ½[(ik − 1/r₁) cos θ₁ + (ik − 1/r₂) cos θ₂], so even at 0.3 m with 60 mm between the cans only quadrature is left: 1e-5 of a wall.
    [Fact]
    public void Separated_transducers_without_beams_match_brute_quadrature()
    {
        for (int seed = 0; seed < 25; seed++)
        {
            var random = new Random(seed);
            (SensorAtPose sensor, PolygonPart plate, _) = Scene(random, EvenBeam.Instance, isLossless: true);
            Complex exact = Quadrature(sensor, plate, beams: false);
            var p = EchoBench.Pressure(sensor, plate);
            double wall = 0.5 / Math.Abs((sensor.MidpointMetres - plate.Middle).Dot(plate.Normal));
            double error = (new Complex(p.Real, p.Imaginary) - exact).Magnitude / wall;
            Assert.True(error < 2e-3, $"seed {seed}: {error} of a wall; {p} against {exact}");
        }
    }

    // With beams the surface integral weights every element, the contour form the mirror point and every element of the rim. The
    // rule of the tables: 3.5 % of the larger and 1 % of a wall. What is left out is of order S/kR, the turn of the beams within a
    // Fresnel zone: below 0.03 for the wide piston from 0.3 m on, but 0.04 for the narrow one at 0.6 m and 0.08 at 0.3 m, so 7 % there.
    [Theory]
    [InlineData(0.0065, 0.035)]
    [InlineData(0.01167, 0.07)]
    public void Beams_and_absorption_keep_to_the_order_left_out(double pistonRadius, double share)
    {
        double worst = 0;
        for (int seed = 0; seed < 25; seed++)
        {
            var random = new Random(seed);
            (SensorAtPose sensor, PolygonPart plate, double range) = Scene(random, new CircularPiston(pistonRadius), isLossless: false);
            Complex exact = Quadrature(sensor, plate, beams: true);
            var p = EchoBench.Pressure(sensor, plate);
            double difference = Math.Abs(p.Magnitude - exact.Magnitude);
            double allowed = Math.Max(share * Math.Max(p.Magnitude, exact.Magnitude), 0.01 * 0.5 / range);
            worst = Math.Max(worst, difference / (0.5 / range));
            Assert.True(difference <= allowed, $"seed {seed}, {range} m: {p.Magnitude} against {exact.Magnitude}");
        }

        Assert.True(worst < share, $"{worst} of a wall");
    }

    // The sum of mirror term and rim is smooth where each of them jumps: walking the foot of the perpendicular across an edge, a
    // corner and the rim of a disc.
    [Fact]
    public void The_echo_is_smooth_where_the_mirror_point_crosses_the_rim()
    {
        var plate = PolygonPart.Rectangle("plate", Vec3.Zero, new Vec3(0, -0.15, 0), new Vec3(0, 0, 0.1));
        var disc = new DiscPart("disc", Vec3.Zero, -Vec3.UnitX, 0.08);
        Check(plate, s => new Vec3(-1, 0.15 + s, 0.02));
        Check(plate, s => new Vec3(-1, 0.15 + s, 0.1 + s));
        Check(plate, s => new Vec3(-1, 0.15, 0.1 + s));
        Check(disc, s => new Vec3(-1, 0.08 + s, 0));

        static void Check(TargetPart part, Func<double, Vec3> at)
        {
            const double Step = 2e-4;
            double before = double.NaN;
            for (int i = -60; i <= 60; i++)
            {
                double p = EchoBench.Pressure(EchoBench.At(EchoBench.Even, at(i * Step)), part).Magnitude;

                // The echo changes by itself over the Fresnel length, 66 mm: at most its own size in 20 mm.
                Assert.True(double.IsNaN(before) || Math.Abs(p - before) < 0.015 * 0.5, $"{part.Name}, step {i}: {before} to {p}");
                before = p;
            }
        }
    }

    [Fact]
    public void The_back_of_a_one_sided_face_is_silent_and_of_a_sheet_is_not()
    {
        SensorAtPose behind = EchoBench.At(EchoBench.Even, new Vec3(1, 0, 0));
        SensorAtPose front = EchoBench.At(EchoBench.Even, new Vec3(-1, 0, 0));
        var sheet = PolygonPart.Rectangle("sheet", Vec3.Zero, new Vec3(0, -0.2, 0), new Vec3(0, 0, 0.2));
        var face = PolygonPart.Rectangle("face", Vec3.Zero, new Vec3(0, -0.2, 0), new Vec3(0, 0, 0.2), isTwoSided: false);
        Assert.Equal(PartEchoes.Evaluate(front, sheet).BandLevelDecibels, PartEchoes.Evaluate(behind, sheet).BandLevelDecibels, 1e-9);
        Assert.True(PartEchoes.Evaluate(behind, face).IsSilent);
        Assert.False(PartEchoes.Evaluate(front, face).IsSilent);
    }

    private static (SensorAtPose Sensor, PolygonPart Plate, double Range) Scene(Random random, Directivity beam, bool isLossless)
    {
        double range = 0.3 * Math.Pow(5, random.NextDouble());
        double across = 0.05 + (0.2 * random.NextDouble());
        double up = 0.05 + (0.2 * random.NextDouble());
        double tilt = 0.5 * (random.NextDouble() - 0.5);
        var (s, c) = Math.SinCos(tilt);
        var offset = new Vec3(range, 0.2 * (random.NextDouble() - 0.5), 0.2 * (random.NextDouble() - 0.5));
        PolygonPart plate = PolygonPart.Rectangle("plate", offset, 0.5 * across * new Vec3(s, -c, 0), new Vec3(0, 0, 0.5 * up));
        PreparedTransducer prepared = new(EchoBench.Part(beam, 0.06, 0), EchoBench.Medium, isLossless);
        return (EchoBench.At(prepared, Vec3.Zero, 20 * (random.NextDouble() - 0.5), 20 * (random.NextDouble() - 0.5)), plate, range);
    }

    /// <summary>Midpoint rule over the surface, a twelfth of a wavelength.</summary>
    private static Complex Quadrature(SensorAtPose sensor, PolygonPart plate, bool beams)
    {
        double k = EchoBench.Wavenumber;
        double alpha = sensor.Prepared.AbsorptionDecibelsPerMetre / 8.685889638065035;
        Vec3 origin = plate.CornersMetres[0];
        Vec3 a = plate.CornersMetres[1] - origin;
        Vec3 b = plate.CornersMetres[3] - origin;
        int na = (int)(12 * a.Length / EchoBench.Wavelength);
        int nb = (int)(12 * b.Length / EchoBench.Wavelength);
        double area = a.Length * b.Length / (na * (double)nb);
        Complex sum = Complex.Zero;
        for (int i = 0; i < na; i++)
        {
            for (int j = 0; j < nb; j++)
            {
                Vec3 q = origin + ((i + 0.5) / na * a) + ((j + 0.5) / nb * b);
                Vec3 t = sensor.TransmitterMetres - q;
                Vec3 r = sensor.ReceiverMetres - q;
                double r1 = t.Length;
                double r2 = r.Length;
                Complex kernel = (new Complex(-1 / r1, k) * Math.Abs(t.Dot(plate.Normal)) / r1) + (new Complex(-1 / r2, k) * Math.Abs(r.Dot(plate.Normal)) / r2);
                double d = beams ? sensor.TransmitAmplitude(q) * sensor.ReceiveAmplitude(q) * Math.Exp(-alpha * (r1 + r2)) : 1;
                sum += d * kernel * Complex.Exp(new Complex(0, k * (r1 + r2))) / (r1 * r2);
            }
        }

        return -sum * area / (4 * Math.PI);
    }
}
