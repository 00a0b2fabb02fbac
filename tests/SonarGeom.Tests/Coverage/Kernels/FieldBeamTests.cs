using SonarGeom.Coverage.Kernels;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Coverage.Kernels;

public class FieldBeamTests
{
    [Theory]
    [InlineData(0.5)]
    [InlineData(1.2)]
    [InlineData(4.395)]
    [InlineData(5.86)]
    [InlineData(9.0)]
    [InlineData(14.5)]
    public void Pistons_are_polynomials_within_their_proved_bound(double wavenumberTimesRadius)
    {
        FieldBeam beam = FieldBeam.OfCircularPiston(wavenumberTimesRadius);
        Assert.True(beam.IsPolynomial);

        // The bound is that of interpolation. Rounding adds 2⁻²⁴ of each term: once for its coefficient, once for the squared
        // cosine and once in each step of the sum after it.
        double rounding = beam.Coefficients.Sum(Math.Abs) * (beam.Degree + 2) * Math.ScaleB(1, -24);
        Assert.InRange(beam.MaximumAmplitudeError, 0, FieldBeam.PistonErrorBound(wavenumberTimesRadius, beam.Degree) + rounding);
        for (int i = 0; i <= 20000; i++)
        {
            // The cosine as the kernel gets it: rounding it is not an error of the polynomial.
            float cosine = (float)Math.Cos(Math.PI / 2 * i / 20000);
            double exact = PistonPattern.Evaluate(wavenumberTimesRadius * Math.Sqrt(Math.Max(0, 1 - ((double)cosine * cosine))));
            double error = Math.Abs(beam.PreparedAmplitude(cosine) - exact);
            double square = 6e-8 * wavenumberTimesRadius * wavenumberTimesRadius / 8;
            Assert.True(error <= beam.MaximumAmplitudeError + square + 3e-7, $"at cosine {cosine}: {error}");
        }
    }

    [Fact]
    public void The_bound_of_a_piston_is_met_by_the_interpolation_itself()
    {
        // Degree 4 at k·a = 5.86 leaves errors far above rounding: they come within a tenth of the bound and never exceed it.
        double bound = FieldBeam.PistonErrorBound(5.86, 4);
        Assert.InRange(bound, 1e-4, 1e-2);
        double worst = 0;
        for (int i = 0; i <= 1000; i++)
        {
            worst = Math.Max(worst, Math.Abs(Interpolated(5.86, 4, i / 1000.0) - PistonPattern.Evaluate(5.86 * Math.Sqrt(1 - (i / 1000.0)))));
        }

        Assert.InRange(worst, 0.1 * bound, bound);
    }

    [Fact]
    public void Every_kind_of_beam_keeps_to_its_stated_error_and_its_envelope()
    {
        foreach (FieldBeam beam in FieldScenes.Beams())
        {
            double largestSoFar = 0;
            double worst = 0;
            for (int i = 0; i <= 50000; i++)
            {
                double cosine = i / 50000.0;
                double prepared = Math.Abs(beam.PreparedAmplitude((float)cosine));
                worst = Math.Max(worst, Math.Abs(beam.PreparedAmplitude((float)cosine) - beam.ExactAmplitude(cosine)));
                largestSoFar = Math.Max(largestSoFar, prepared);
                double above = Math.Max(cosine >= beam.MonotoneFromCosine ? prepared : 0, beam.SideAmplitude) + beam.Padding;
                Assert.True(above >= largestSoFar, $"{beam.Description} at {cosine}: {above} below {largestSoFar}");
            }

            Assert.True(worst <= (1.5 * beam.MaximumAmplitudeError) + 3e-7, $"{beam.Description}: {worst} against {beam.MaximumAmplitudeError}");
        }
    }

    [Fact]
    public void Smooth_beams_are_polynomials_and_the_others_tables_of_small_error()
    {
        Assert.True(FieldBeam.Of(new CosinePowerBeam(4), 733).IsPolynomial);
        Assert.True(FieldBeam.Of(new GaussianBeam(Angle.FromDegrees(40), -6), 733).MaximumAmplitudeError < 1e-4);
        Assert.True(FieldBeam.Of(new CosinePowerBeam(1.7), 733).MaximumAmplitudeError < 2e-3);
    }

    [Fact]
    public void A_beam_that_is_not_axisymmetric_is_refused() =>
        Assert.Throws<ArgumentException>(() => FieldBeam.Of(new RectangularPiston(0.01, 0.02), 733));

    /// <summary>Lagrange's form at Chebyshev's points, in double precision.</summary>
    private static double Interpolated(double wavenumberTimesRadius, int degree, double u)
    {
        double[] at = [.. Enumerable.Range(0, degree + 1).Select(i => 0.5 - (0.5 * Math.Cos(Math.PI * (i + 0.5) / (degree + 1))))];
        double sum = 0;
        foreach (double point in at)
        {
            double weight = at.Where(other => other != point).Aggregate(1.0, (product, other) => product * (u - other) / (point - other));
            sum += weight * PistonPattern.Evaluate(wavenumberTimesRadius * Math.Sqrt(1 - point));
        }

        return sum;
    }
}
