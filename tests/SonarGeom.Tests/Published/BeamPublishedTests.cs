using SonarGeom.Air;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Published;

public class BeamPublishedTests
{
    private const double Wavenumber40Khz = 2 * Math.PI * 40_000 / 343.2;

    // Zeros of J1, tables of Bessel functions (Abramowitz and Stegun, Table 9.5). Tolerance: the digits given.
    [Theory]
    [InlineData(3.83170597)]
    [InlineData(7.01558667)]
    [InlineData(10.17346814)]
    [InlineData(13.32369194)]
    public void Pattern_is_zero_at_the_zeros_of_the_bessel_function(double zero)
    {
        // One digit more or less changes the sign.
        Assert.True(PistonPattern.Evaluate(zero - 1e-8) * PistonPattern.Evaluate(zero + 1e-8) < 0);
    }

    // Kinsler, Frey, Coppens and Sanders, Fundamentals of Acoustics, 4th ed., §7.4 (from memory; zeros also seen in public
    // text): half power at x = 1.6163, half pressure at 2.2151, first side lobe −17.57 dB. Tolerance: the digits given.
    [Fact]
    public void Piston_has_the_textbook_beam()
    {
        Assert.Equal(1.6163, CircularPiston.PhaseAtLevel(10 * Math.Log10(0.5)), 1e-4);
        Assert.Equal(2.2151, CircularPiston.PhaseAtLevel(20 * Math.Log10(0.5)), 1e-4);
        double lobe = Enumerable.Range(0, 30_000).Min(i => PistonPattern.Evaluate(3.9 + (i * 1e-4)));
        Assert.Equal(-17.57, Decibels.FromAmplitudeRatio(lobe), 0.01);
        Assert.True(lobe < 0, "the first side lobe has the opposite sign");
    }

    // Eight cycles at 40 kHz last 200 µs (common practice).
    [Fact]
    public void Eight_cycles_last_two_hundred_microseconds()
    {
        Transducer pair = SonarGeom.Tests.Transducers.TransducerTests.Pair();
        Assert.Equal(200e-6, pair.BurstSeconds, 1e-12);
    }

    // The build-up after 8 cycles, evaluated independently for one resonator and for two. Tolerance: the digits given.
    [Theory]
    [InlineData(20, 0.715, 0.434)]
    [InlineData(35, 0.512, 0.259)]
    [InlineData(60, 0.342, 0.153)]
    public void Build_up_after_eight_cycles(double quality, double one, double two)
    {
        Assert.Equal(one, BurstBuildUp.OneStage(8, quality), 6e-4);
        Assert.Equal(two, BurstBuildUp.TwoStage(8, quality, quality), 6e-4);
    }

    // A ring-down of 1.2 ms from the start of the burst, as data sheets of 40 kHz parts allow, blanks 0.206 m (c = 343.2 m/s).
    [Fact]
    public void A_ring_down_of_a_data_sheet_blanks_twenty_centimetres()
    {
        Transducer pair = SonarGeom.Tests.Transducers.TransducerTests.Pair() with { RingDownSeconds = 1.2e-3 };
        Assert.Equal(0.206, pair.DeadZoneMetres(343.2), 5e-4);
    }

    [Fact]
    public void Beams_agree_with_an_independent_program()
    {
        Dictionary<string, double> values =
            PublishedTable.Read("piston_computed.csv").Rows.ToDictionary(row => row.Text("quantity"), row => row["value"]);

        foreach (double level in new[] { -3.0, -6, -10, -20 })
        {
            string key = values.Keys.Single(name => name.StartsWith($"x=ka sin(theta) at {level:0.0##} dB", StringComparison.Ordinal)
                || name == $"x=ka sin(theta) at {level:0} dB");
            Assert.Equal(values[key], CircularPiston.PhaseAtLevel(level), 1e-8);
        }

        for (int lobe = 1; lobe <= 3; lobe++)
        {
            double x = values[$"sidelobe {lobe} x"];
            Assert.Equal(values[$"sidelobe {lobe} level"], Decibels.FromAmplitudeRatio(PistonPattern.Evaluate(x)), 1e-7);
            double peak = Math.Abs(PistonPattern.Evaluate(x));
            Assert.True(peak > Math.Abs(PistonPattern.Evaluate(x - 1e-3)) && peak > Math.Abs(PistonPattern.Evaluate(x + 1e-3)));
        }

        // The radii are for c = 343.2 m/s.
        foreach (int full in new[] { 15, 30, 45, 55, 60, 80, 85, 100, 120 })
        {
            var half = Angle.FromDegrees(0.5 * full);
            var piston = CircularPiston.FromHalfAngle(half, -6, Wavenumber40Khz);
            Assert.Equal(values[$"radius a at 40 kHz 20C for {full} deg"], piston.RadiusMetres, 1e-7);
            Assert.Equal(half.Degrees, piston.HalfAngleAt(-6, Wavenumber40Khz).Degrees, 1e-6);
            Assert.Equal(values[$"DI for {full} deg"], piston.DirectivityIndexDecibels(Wavenumber40Khz), 1e-6);
            Assert.Equal(
                values[$"one-way level at 15 deg off axis, full {full} deg"],
                Decibels.FromAmplitudeRatio(piston.AmplitudeAt(Angle.FromDegrees(15), Wavenumber40Khz)),
                1e-6);
        }

        foreach (double ka in new[] { 0.5, 1, 2, 3, 5, 10, 20 })
        {
            var piston = new CircularPiston(ka / 1000);
            Assert.Equal(values[$"DI closed ka={ka}"], piston.DirectivityIndexDecibels(1000), 1e-8);
            Assert.Equal(values[$"DI quadrature ka={ka}"], DirectivityIndexByQuadrature(piston), 1e-3);
        }

        foreach (int full in new[] { 30, 55, 80 })
        {
            var half = Angle.FromDegrees(0.5 * full);
            Assert.Equal(
                values[$"cos^n pressure exponent n for full {full} deg at -6.0 dB"],
                CosinePowerBeam.FromHalfAngle(half, -6).Exponent,
                1e-7);
            Assert.Equal(
                values[$"Gaussian theta_e (p=exp(-(th/the)^2)) full {full} deg"],
                new GaussianBeam(half, -6).FoldingAngle.Degrees,
                1e-6);
        }

        foreach ((string key, double level) in new[]
        {
            ("sinc (line/rect) u=(k L/2)sin at -3.0103 dB", 10 * Math.Log10(0.5)),
            ("sinc u at -6.0206 dB", 20 * Math.Log10(0.5)),
        })
        {
            Assert.Equal(level, Decibels.FromAmplitudeRatio(RectangularPiston.Sinc(values[key])), 1e-6);
        }
    }

    // Fits through −6 dB against the piston inside its −10 dB contour, 30°, 55° and 80° full angle: up to 0.73 dB for the
    // Gaussian and 1.2 dB for cosⁿ (computed independently): the reason why both are called fits.
    [Theory]
    [InlineData(30, 0.73, 1.2)]
    [InlineData(55, 0.41, 0.67)]
    [InlineData(80, 0.35, 1.2)]
    public void Fits_stay_near_the_piston_inside_its_main_lobe(double full, double gaussianError, double cosineError)
    {
        var half = Angle.FromDegrees(0.5 * full);
        var piston = CircularPiston.FromHalfAngle(half, -6, Wavenumber40Khz);
        double edge = piston.HalfAngleAt(-10, Wavenumber40Khz).Degrees;
        Assert.True(Worst(new GaussianBeam(half, -6)) <= gaussianError + 0.01);
        Assert.True(Worst(CosinePowerBeam.FromHalfAngle(half, -6)) <= cosineError + 0.01);

        double Worst(Directivity fit) =>
            Enumerable.Range(0, 1001).Max(i =>
            {
                var angle = Angle.FromDegrees(edge * i / 1000);
                return Math.Abs(
                    Decibels.FromAmplitudeRatio(fit.AmplitudeAt(angle, Wavenumber40Khz))
                    - Decibels.FromAmplitudeRatio(piston.AmplitudeAt(angle, Wavenumber40Khz)));
            });
    }

    private static double DirectivityIndexByQuadrature(CircularPiston piston) =>
        new Unturned(piston).DirectivityIndexDecibels(1000);

    /// <summary>Hides the closed form, so that the general quadrature is tested.</summary>
    private sealed class Unturned(CircularPiston piston) : Directivity
    {
        public override bool IsAxisymmetric => false;

        public override bool DependsOnWavenumber => true;

        public override string Description => piston.Description;

        public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre) =>
            piston.Amplitude(unitDirection, wavenumberRadiansPerMetre);
    }
}
