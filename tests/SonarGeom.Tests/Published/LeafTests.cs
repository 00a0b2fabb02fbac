using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Published;

public class LeafTests
{
    // A disc struck square on: area over wavelength (handbook formula, from memory); b = 25 mm at 40 kHz and 343.2 m/s: −12.8 dB.
    [Fact]
    public void ALeafSquareOnReturnsItsAreaOverTheWavelength()
    {
        var foliage = new Foliage(new FoliagePart("leaves", RigidTransform.Identity, FoliageForm.Ellipsoid, new Vec3(1, 1, 1), 0.025, 100));
        Assert.Equal(-12.8, 20 * Math.Log10(foliage.BroadsideStrengthMetres(EchoBench.Wavelength)), 0.05);
    }

    // Ray acoustics: a convex mirror returns a quarter of its surface over 4π on average over its attitudes, 2πb²/(16π) = b²/8 for a disc.
    // A Kirchhoff disc tends to that as kb grows: 4.5 % less at kb 11, 2.3 % at 22, 0.8 % at 66 (its obliquity), by another program's Bessel functions.
    [Theory]
    [InlineData(0.015, 0.05)]
    [InlineData(0.03, 0.03)]
    [InlineData(0.09, 0.02)]
    public void TheMeanOverAttitudesIsThatOfRayAcoustics(double radius, double tolerance) =>
        Assert.Equal(1, new LeafScatter(EchoBench.Even.Band, radius).Mean * 8 / (radius * radius), tolerance);

    // The power of many echoes of random phase is exponentially distributed (Rayleigh): nine in ten exceed −ln 0.9 of the mean, −9.77 dB; half
    // exceed ln 2, −1.59 dB; one in ten exceeds ln 10, 3.62 dB. The table ends at 40 effective scatterers: within 0.15 dB of the limit.
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    public void ManyLeavesSwingAsNoiseDoes(double share)
    {
        LeafSwing swing = LeafSwing.Of(18.3);
        Assert.Equal(10 * Math.Log10(-Math.Log(1 - share)), swing.QuantileDecibels(1e9, share), 0.15);
    }

    // Second moment of a Poisson number of scatterers of random phase, ⟨I²⟩/⟨I⟩² = 2 + 1/M, M = n⟨σ⟩²/⟨σ²⟩ (Jakeman and Pusey 1976, from
    // memory), by quantiles of the distribution. Its tail beyond 12 dB is cut off: 10 % for a few scatterers.
    [Fact]
    public void TheMomentsAreThoseOfAPoissonNumberOfScatterers()
    {
        LeafSwing swing = LeafSwing.Of(9);
        foreach (double scatterers in (double[])[4, 10, 30])
        {
            double n = scatterers / swing.ScatterersPerLeaf, mean = 0, square = 0;
            const int Steps = 20_000;
            for (int i = 0; i < Steps; i++)
            {
                double power = Math.Pow(10, 0.1 * swing.QuantileDecibels(n, (i + 0.5) / Steps));
                mean += power / Steps;
                square += power * power / Steps;
            }

            Assert.Equal(1, mean, 0.03);
            Assert.Equal(2 + (1 / scatterers), square / (mean * mean), 0.1 * (2 + (1 / scatterers)));
        }
    }

    // Against walks drawn at random: leaf powers at random attitudes, phases at random, a Poisson number of them.
    [Theory]
    [InlineData(12)]
    [InlineData(60)]
    public void TheLowTailIsThatOfRandomWalks(double leaves)
    {
        const double Kb = 18.4;
        const int Walks = 6000;
        var random = new Random(4);
        var powers = new double[Walks];
        for (int w = 0; w < Walks; w++)
        {
            double x = 0, y = 0, wait = -Math.Log(1 - random.NextDouble());
            for (; wait < leaves; wait -= Math.Log(1 - random.NextDouble()))
            {
                double cosine = random.NextDouble(), sine = Math.Sqrt(1 - (cosine * cosine)), power = 0;
                foreach (double off in (ReadOnlySpan<double>)[0.96, 0.98, 1, 1.02, 1.04])
                {
                    double f = cosine * SonarGeom.Transducers.PistonPattern.Evaluate(2 * Kb * off * sine);
                    power += 0.2 * f * f;
                }

                (double s, double c) = Math.SinCos(2 * Math.PI * random.NextDouble());
                (x, y) = (x + (Math.Sqrt(power) * c), y + (Math.Sqrt(power) * s));
            }

            powers[w] = (x * x) + (y * y);
        }

        Array.Sort(powers);

        // ⟨cos² (2J₁(w)/w)²⟩ over all attitudes: 1/(2k²b²) but for some per cent; by the same steps here.
        double mean = 0;
        for (int i = 0; i < 4000; i++)
        {
            double cosine = (i + 0.5) / 4000, f = cosine * SonarGeom.Transducers.PistonPattern.Evaluate(2 * Kb * Math.Sqrt(1 - (cosine * cosine)));
            mean += f * f / 4000;
        }

        // The tenth and the half of 6000 walks are known to 0.25 dB (2σ); kb is taken up to 5 % larger: another 0.3 dB.
        foreach (double share in (double[])[0.1, 0.5])
        {
            Assert.Equal(10 * Math.Log10(powers[(int)(share * Walks)] / (leaves * mean)), LeafSwing.Of(Kb).QuantileDecibels(leaves, share), 0.7);
        }
    }
}
