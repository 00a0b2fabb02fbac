using System.Numerics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// The integral of a linear phase over a flat triangle, exact for every triangle and every phase gradient.
/// </summary>
/// <remarks>
/// <para>The Hermite–Genocchi formula writes the integral as twice the area times a second divided difference of exp(i a) at the
/// phases a₀, a₁, a₂ of the corners. It has no singular cases: edges along the wave fronts and waves along the normal need no
/// exception. Where the corner phases lie close together the difference quotient loses digits, and its power series is summed
/// instead.</para>
/// <para>Source: derived here from the Hermite–Genocchi formula (textbooks of numerical analysis on divided differences).</para>
/// </remarks>
public static class TrianglePhaseIntegral
{
    /// <summary>Corner phases closer than this are summed as a power series. [rad]</summary>
    internal const double SeriesSpan = 0.5;

    private const int SeriesTerms = 16;

    private static readonly double[] InverseFactorials = MakeInverseFactorials();

    /// <summary>Returns ∫ exp(i q·x) dS over a triangle. [m²]</summary>
    /// <param name="first">First corner. [m]</param>
    /// <param name="second">Second corner. [m]</param>
    /// <param name="third">Third corner. [m]</param>
    /// <param name="phaseGradientRadiansPerMetre">The gradient q of the phase. [rad/m]</param>
    /// <returns>The integral; for q = 0 the area. Error below 1e-12 of the area while |q·x| stays below about 1000 rad.</returns>
    public static Complex Of(Vec3 first, Vec3 second, Vec3 third, Vec3 phaseGradientRadiansPerMetre)
    {
        double area = 0.5 * (second - first).Cross(third - first).Length;
        double a0 = phaseGradientRadiansPerMetre.Dot(first);
        double a1 = phaseGradientRadiansPerMetre.Dot(second);
        double a2 = phaseGradientRadiansPerMetre.Dot(third);
        double mean = (a0 + a1 + a2) / 3.0;
        var (sine, cosine) = Math.SinCos(mean);
        return area * new Complex(cosine, sine) * Ratio(a0 - mean, a1 - mean, a2 - mean);
    }

    /// <summary>
    /// Returns the integral over the triangle of exp(i b) divided by the area, from the corner phases relative to their mean.
    /// </summary>
    /// <param name="b0">Phase of a corner relative to the mean of the three. [rad]</param>
    /// <param name="b1">Phase of another corner, likewise. [rad]</param>
    /// <param name="b2">Phase of the last corner, likewise. [rad]</param>
    internal static Complex Ratio(double b0, double b1, double b2)
    {
        Sort(ref b0, ref b1, ref b2);
        return b2 - b0 < SeriesSpan ? Series(b0, b1, b2) : DifferenceQuotient(b0, b1, b2);
    }

    /// <summary>Puts three numbers in ascending order.</summary>
    internal static void Sort(ref double b0, ref double b1, ref double b2)
    {
        if (b0 > b1)
        {
            (b0, b1) = (b1, b0);
        }

        if (b1 > b2)
        {
            (b1, b2) = (b2, b1);
        }

        if (b0 > b1)
        {
            (b0, b1) = (b1, b0);
        }
    }

    /// <summary>Returns sin x / x.</summary>
    internal static double Sinc(double x) => Math.Abs(x) < 1e-4 ? 1.0 - (x * x / 6.0) : Math.Sin(x) / x;

    private static Complex DifferenceQuotient(double b0, double b1, double b2)
    {
        // 2 (E01 − E12) / (i (b0 − b2)), where E_xy = exp(i (b_x + b_y)/2) sinc((b_x − b_y)/2).
        var (s01, c01) = Math.SinCos(0.5 * (b0 + b1));
        var (s12, c12) = Math.SinCos(0.5 * (b1 + b2));
        double w01 = Sinc(0.5 * (b0 - b1));
        double w12 = Sinc(0.5 * (b1 - b2));
        double real = (c01 * w01) - (c12 * w12);
        double imaginary = (s01 * w01) - (s12 * w12);
        double scale = 2.0 / (b0 - b2);
        return new Complex(scale * imaginary, -scale * real);
    }

    private static Complex Series(double b0, double b1, double b2)
    {
        // 2 Σ iⁿ hₙ/(n+2)!, with hₙ the complete symmetric polynomials of corner phases whose sum is zero.
        double e2 = (b0 * b1) + (b0 * b2) + (b1 * b2);
        double e3 = b0 * b1 * b2;
        double h0 = 1.0;
        double h1 = 0.0;
        double h2 = -e2;
        double real = InverseFactorials[2];
        double imaginary = 0.0;
        double sign = -1.0;
        for (int n = 2; n < SeriesTerms; n += 2)
        {
            real += sign * h2 * InverseFactorials[n + 2];
            double h3 = (-e2 * h1) + (e3 * h0);
            imaginary += sign * h3 * InverseFactorials[n + 3];
            double h4 = (-e2 * h2) + (e3 * h1);
            (h0, h1, h2) = (h2, h3, h4);
            sign = -sign;
        }

        return new Complex(2.0 * real, 2.0 * imaginary);
    }

    private static double[] MakeInverseFactorials()
    {
        var inverse = new double[SeriesTerms + 4];
        inverse[0] = 1.0;
        for (int n = 1; n < inverse.Length; n++)
        {
            inverse[n] = inverse[n - 1] / n;
        }

        return inverse;
    }
}
