using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class DirectivityTests
{
    private const double Wavenumber = 732;

    public static TheoryData<Directivity> All => new()
    {
        new CircularPiston(0.0065),
        new CircularPiston(0.016),
        new RectangularPiston(0.02, 0.01),
        new GaussianBeam(Angle.FromDegrees(27.5), -6),
        CosinePowerBeam.FromHalfAngle(Angle.FromDegrees(50), -6),
        new PolarTable(OpenType()),
        new PolarTable(OpenType(), NarrowCut()),
    };

    [Theory]
    [MemberData(nameof(All))]
    public void Patterns_are_mirror_symmetric_silent_behind_and_one_ahead(Directivity beam)
    {
        Assert.Equal(1, beam.Amplitude(Vec3.UnitX, Wavenumber), 1e-12);
        Assert.Equal(0, beam.Amplitude(Vec3.UnitY, Wavenumber));
        Assert.Equal(0, beam.Amplitude(-1 * Vec3.UnitX, Wavenumber));
        Assert.NotEmpty(beam.Description);
        for (int index = 0; index < 2000; index++)
        {
            var random = new Random(index);
            Vec3 direction = new Vec3(
                random.NextDouble() - 0.5, random.NextDouble() - 0.5, random.NextDouble() - 0.5).Normalized();
            double amplitude = beam.Amplitude(direction, Wavenumber);
            Assert.True(Math.Abs(amplitude) <= 1 + 1e-12, $"index {index}, {direction}: {amplitude}");
            Assert.Equal(amplitude, beam.Amplitude(direction.MirroredLeftRight(), Wavenumber));
            Assert.Equal(amplitude, beam.Amplitude(direction with { Z = -direction.Z }, Wavenumber));
            if (direction.X <= 0)
            {
                Assert.Equal(0, amplitude);
            }
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Axisymmetric_patterns_do_not_change_with_roll(Directivity beam)
    {
        if (!beam.IsAxisymmetric)
        {
            Vec3 left = new(Math.Cos(0.3), Math.Sin(0.3), 0);
            Vec3 up = new(Math.Cos(0.3), 0, Math.Sin(0.3));
            Assert.True(Math.Abs(beam.Amplitude(left, Wavenumber) - beam.Amplitude(up, Wavenumber)) > 0.05);
            return;
        }

        for (int i = 0; i < 90; i++)
        {
            double tilt = Math.PI / 180 * i;
            double expected = beam.Amplitude(new Vec3(Math.Cos(tilt), Math.Sin(tilt), 0), Wavenumber);
            double rolled = beam.Amplitude(
                new Vec3(Math.Cos(tilt), Math.Sin(tilt) * Math.Cos(1.1), Math.Sin(tilt) * Math.Sin(1.1)), Wavenumber);
            Assert.Equal(expected, rolled, 1e-12);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Half_angle_is_where_the_level_falls(Directivity beam)
    {
        foreach (bool vertical in new[] { false, true })
        {
            foreach (double level in new[] { -3.0, -6, -10 })
            {
                Angle half = beam.HalfAngleAt(level, Wavenumber, vertical);
                if (half.Degrees >= 90)
                {
                    continue;
                }

                Assert.Equal(level, Decibels.FromAmplitudeRatio(beam.AmplitudeAt(half, Wavenumber, vertical)), 1e-6);
                for (double degrees = 0; degrees < half.Degrees - 1e-6; degrees += 0.5)
                {
                    double inside = Math.Abs(beam.AmplitudeAt(Angle.FromDegrees(degrees), Wavenumber, vertical));
                    Assert.True(Decibels.FromAmplitudeRatio(inside) > level, $"{degrees}° of {half}");
                }
            }
        }
    }

    [Fact]
    public void Half_angle_of_a_beam_that_never_falls_is_a_right_angle()
    {
        Assert.Equal(90, new CosinePowerBeam(0).HalfAngleAt(-6, Wavenumber).Degrees, 1e-9);
        Assert.Equal(90, new CircularPiston(0.001).HalfAngleAt(-6, Wavenumber).Degrees, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => new CircularPiston(0.001).HalfAngleAt(0, Wavenumber));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CircularPiston(0.001).HalfAngleAt(double.NaN, Wavenumber));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Many_wavenumbers_at_once_give_the_single_values(Directivity beam)
    {
        double[] wavenumbers = [700, 720, 732, 760];
        double[] amplitudes = new double[4];
        foreach (Vec3 direction in new[] { Vec3.UnitX, new Vec3(0.8, 0.6, 0), new Vec3(0.6, -0.64, 0.48), new Vec3(-0.6, 0.8, 0) })
        {
            beam.Amplitudes(direction, wavenumbers, amplitudes);
            for (int i = 0; i < 4; i++)
            {
                Assert.Equal(beam.Amplitude(direction, wavenumbers[i]), amplitudes[i]);
            }
        }
    }

    // An even half-space source has twice the intensity of an even full-space one; cosⁿ has 2·(2n + 1) by integration.
    // Tolerance: the midpoint rule's error at 512 steps.
    [Fact]
    public void Directivity_index_follows_its_definition()
    {
        foreach (double n in new[] { 0, 1, 2.59, 5.76 })
        {
            Assert.Equal(
                Decibels.FromPowerRatio(2 * ((2 * n) + 1)), new CosinePowerBeam(n).DirectivityIndexDecibels(Wavenumber), 1e-4);
        }

        var piston = new CircularPiston(0.0065);
        var square = new RectangularPiston(0.0115, 0.0115);
        Assert.InRange(
            square.DirectivityIndexDecibels(Wavenumber) - piston.DirectivityIndexDecibels(Wavenumber), -0.3, 0.3);
    }

    [Fact]
    public void A_beam_stated_at_one_temperature_follows_the_wavelength()
    {
        var piston = CircularPiston.FromHalfAngle(Angle.FromDegrees(15), -6, Wavenumber);
        Assert.Equal(15, piston.HalfAngleAt(-6, Wavenumber).Degrees, 1e-6);
        Assert.True(piston.HalfAngleAt(-6, Wavenumber * 0.95).Degrees > 15.5);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-0.01)]
    [InlineData(double.NaN)]
    [InlineData(1.01)]
    public void Impossible_sizes_are_refused(double metres)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new CircularPiston(metres));
        Assert.Throws<ArgumentOutOfRangeException>(() => new RectangularPiston(metres, 0.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => new RectangularPiston(0.01, metres));
    }

    internal static PolarCut OpenType() => Cut((0, 0), (10, 0), (20, 0), (30, -1), (40, -3), (50, -6), (60, -9), (70, -12), (80, -14));

    internal static PolarCut Cut(params (double Degrees, double Level)[] points) =>
        PolarCut.FromPoints(points.Select(point => new PolarPoint(Angle.FromDegrees(point.Degrees), point.Level)));

    private static PolarCut NarrowCut() => Cut((0, 0), (10, -3), (20, -12), (40, -20), (90, -30));
}
