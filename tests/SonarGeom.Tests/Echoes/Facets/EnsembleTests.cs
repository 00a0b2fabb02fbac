using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Facets;

public class EnsembleTests
{
    private const double Speed = 343.2;
    private const double Wavelength = Speed / 40_000;
    private static readonly FrequencyBand Burst = FrequencyBand.Between(38_000, 42_000, 8);

    // |f|² of a disc averaged over all attitudes, by quadrature: many leaves far off add up in power.
    [Fact]
    public void LeavesAddUpInPowerToTheMeanOverTheirAttitudes()
    {
        const double Radius = 0.02;
        const double Range = 8.0;
        var foliage = Ball(Range, new Vec3(0.1, 0.1, 0.1), Radius, 5e4);
        var sensor = FacetSensor.Omnidirectional(Vec3.Zero, Speed);

        // Thin foliage of the same leaves: no shadows to speak of.
        var thin = Ball(Range, new Vec3(0.5, 0.5, 0.5), Radius, 400);
        EnsembleEcho echo = thin.Evaluate(sensor, Burst, 400, 1);
        double mean = 0;
        const int Steps = 20_000;
        for (int i = 0; i < Steps; i++)
        {
            double cosine = (i + 0.5) / Steps;
            double f = Math.PI * Radius * Radius / Wavelength * cosine * PistonPattern.Evaluate(2 * 2 * Math.PI / Wavelength * Radius * Math.Sqrt(1 - (cosine * cosine)));
            mean += f * f / Steps;
        }

        // Shadows: a mean depth of ¾ of the radius each way for a ball; power exp(−N A/2 · both ways).
        double extinction = 400 * 0.5 * Math.PI * Radius * Radius;
        double expected = 10 * Math.Log10(thin.LeafCount * mean) - (40 * Math.Log10(Range)) - (4.343 * extinction * 2 * 0.375);
        Assert.InRange(echo.MeanDecibels(), expected - 1.0, expected + 1.0);

        // The mean lies far below a leaf struck square on, and dense foliage answers from its front only.
        Assert.True(10 * Math.Log10(mean) < 20 * Math.Log10(thin.BroadsideStrengthMetres(Wavelength)) - 15);
        Assert.True(foliage.LeafCount > 150);
    }

    private static Foliage Ball(double ahead, Vec3 halfAxes, double radius, double perCubicMetre) => new(
        new FoliagePart("leaves", new RigidTransform(Rotation.Identity, new Vec3(ahead, 0, 0)), FoliageForm.Ellipsoid, halfAxes, radius, perCubicMetre));

    [Fact]
    public void TheSameSeedGivesTheSameLeaves()
    {
        var foliage = Ball(1.5, new Vec3(0.3, 0.4, 0.2), 0.025, 2000);
        var sensor = FacetSensor.Omnidirectional(Vec3.Zero, Speed);
        EnsembleEcho one = foliage.Evaluate(sensor, Burst, 3, 7);
        EnsembleEcho other = foliage.Evaluate(sensor, Burst, 3, 7);
        EnsembleEcho third = foliage.Evaluate(sensor, Burst, 3, 8);
        Assert.True(one.Members[2].Pressures.SequenceEqual(other.Members[2].Pressures));
        Assert.False(one.Members[2].Pressures.SequenceEqual(third.Members[2].Pressures));
        Assert.True(one.QuantileDecibels(0) < one.QuantileDecibels(1));
    }

    // Lambert's law integrated over a ring, mean power: μ ∫ sin²ψ D⁴ exp(−4αr)/r⁴ dA. Omnidirectional and lossless: the ring from
    // ρ₁ to ρ₂ at height h has π μ h² [1/(2 r⁴)] from outside to inside.
    [Fact]
    public void RoughGroundScattersTheMeanPowerOfLambertsLaw()
    {
        const double Height = 1.1;
        var ground = new RoughGround(0, -15, 2000);
        var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0, Height), Speed);
        EnsembleEcho echo = ground.Evaluate(sensor, Burst, 0.6, 1.2, 300, 3);
        double inner = (0.6 * 0.6) + (Height * Height);
        double outer = (1.2 * 1.2) + (Height * Height);
        double expected = -15 + (10 * Math.Log10(Math.PI * Height * Height * 0.5 * ((1 / (inner * inner)) - (1 / (outer * outer)))));

        // 300 members of 8 frequencies: the mean of exponential powers, correlated over frequency, errs by below 0.3 dB (1σ).
        Assert.InRange(echo.MeanDecibels(), expected - 0.9, expected + 0.9);

        // Single members fluctuate: band means of partly correlated frequencies spread over several dB.
        Assert.InRange(echo.QuantileDecibels(0.9) - echo.QuantileDecibels(0.1), 1.5, 14);
    }
}
