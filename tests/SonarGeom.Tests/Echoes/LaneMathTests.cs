using System.Runtime.Intrinsics;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

public class LaneMathTests
{
    // A million seeded inputs; the bound is the one stated beside the function.
    [Fact]
    public void Phase_follows_sine_and_cosine()
    {
        var random = new Random(1);
        for (int i = 0; i < 125_000; i++)
        {
            double scale = Math.Pow(10, random.Next(-3, 6));
            var x = Vector512.Create(Next(), Next(), Next(), Next(), Next(), Next(), Next(), Next());
            LaneComplex phase = LaneMath.Phase(x);
            for (int lane = 0; lane < 8; lane++)
            {
                double bound = 1e-15 + (2e-16 * Math.Abs(x[lane]));
                Assert.True(Math.Abs(phase.Real[lane] - Math.Cos(x[lane])) < bound && Math.Abs(phase.Imaginary[lane] - Math.Sin(x[lane])) < bound, $"x = {x[lane]:R}");
            }

            double Next() => scale * ((2 * random.NextDouble()) - 1);
        }
    }

    [Fact]
    public void Fresnel_tail_follows_its_scalar_reference()
    {
        for (int i = 0; i < 400; i++)
        {
            double x = i < 200 ? 0.02 * i : 4 * Math.Pow(1.03, i - 200);
            var (real, imaginary) = LaneMath.FresnelTail(x);
            LaneComplex tail = LaneMath.FresnelTail(Vector512.Create(x));
            double error = Math.Sqrt(Math.Pow(tail.Real[0] - real, 2) + Math.Pow(tail.Imaginary[0] - imaginary, 2));
            Assert.True(error < 6e-7 * Math.Sqrt((real * real) + (imaginary * imaginary)), $"x = {x}: {error}");
        }
    }

    // ∫₀^∞ e^{iu²} du = ½√π e^{iπ/4} (Fresnel); Fresnel's C(1) = 0.7798934, S(1) = 0.4382591 (Abramowitz and Stegun, table 7.7, from memory).
    [Fact]
    public void Fresnel_reference_has_the_tabulated_values()
    {
        var (real, imaginary) = LaneMath.FresnelTail(0);
        Assert.Equal(Math.Sqrt(Math.PI / 8), real, 1e-9);
        Assert.Equal(Math.Sqrt(Math.PI / 8), imaginary, 1e-9);
        double x = Math.Sqrt(Math.PI / 2);
        (real, imaginary) = LaneMath.FresnelTail(x);

        // (½ − C) + i(½ − S) = √(2/π)·e^{ix²}·W(x), and e^{ix²} = i here.
        Assert.Equal(0.5 - 0.7798934, -imaginary * Math.Sqrt(2 / Math.PI), 1e-7);
        Assert.Equal(0.5 - 0.4382591, real * Math.Sqrt(2 / Math.PI), 1e-7);
    }

    [Fact]
    public void Small_decay_follows_the_exponential()
    {
        for (int i = 0; i <= 400; i++)
        {
            double x = 0.01 * i;
            Assert.True(Math.Abs((LaneMath.SmallDecay(Vector512.Create(x))[0] / Math.Exp(-x)) - 1) < (x <= 1 ? 2e-9 : 2e-5), $"{x}");
        }
    }

    // Interpolated beams against the patterns themselves. ka 4.8 wide, 14 narrow; the steps of the table are 1/384 in the cosine.
    [Theory]
    [InlineData(0.0065, 3e-6)]
    [InlineData(0.0160, 1e-5)]
    [InlineData(0.0300, 1e-4)]
    public void Tabulated_piston_follows_the_piston(double radius, double bound) => CheckBeam(new CircularPiston(radius), bound);

    [Fact]
    public void Tabulated_rectangle_follows_the_rectangle() => CheckBeam(new RectangularPiston(0.020, 0.010), 4e-4);

    [Fact]
    public void Tabulated_cosine_power_follows_it() => CheckBeam(new CosinePowerBeam(5.76), 1e-5);

    private static void CheckBeam(Directivity beam, double bound)
    {
        var table = new DirectivityTable(beam, Enumerable.Repeat(EchoBench.Wavenumber, 8).ToArray());
        var random = new Random(7);
        for (int i = 0; i < 20_000; i++)
        {
            var d = new Vec3(random.NextDouble(), (2 * random.NextDouble()) - 1, (2 * random.NextDouble()) - 1).Normalized();
            double exact = beam.Amplitude(d, EchoBench.Wavenumber);
            double got = table.At(2.5 * d, 1 / 2.5, Rotation.Identity)[0];

            // Beside the face the two-plane table is carried on beyond the directions that exist and has a kink.
            double allowed = !beam.IsAxisymmetric && d.X < 0.1 ? 20 * bound : bound;
            Assert.True(Math.Abs(exact - got) < allowed, $"case {i}, direction {d}: {exact} against {got}");
        }

        Assert.Equal(1, table.At(Vec3.UnitX, 1, Rotation.Identity)[3], 1e-12);
        Assert.Equal(0, table.At(-Vec3.UnitX, 1, Rotation.Identity)[3]);
    }
}
