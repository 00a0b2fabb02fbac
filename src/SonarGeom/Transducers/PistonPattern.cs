using System.Runtime.CompilerServices;

namespace SonarGeom.Transducers;

/// <summary>The far-field pattern of a circular piston, <c>F(x) = 2·J₁(x)/x</c>, of its own: no library call, no branch on the order.</summary>
/// <remarks>
/// <para>F solves <c>x·F″ + 3·F′ + x·F = 0</c>, which gives its Taylor coefficients about any point. They are kept for points
/// half a unit apart up to 64, so that a value is one polynomial of degree 11 in an offset of at most 1/4.</para>
/// <para>Error bound: F is a weighted mean of <c>cos(x·t)</c> over t in 0…1 with positive weights of sum 1 (Poisson's
/// integral), so no derivative exceeds 1 and the part cut off is below <c>(1/4)¹²/12! = 1.3·10⁻¹⁶</c>. Rounding brings the
/// absolute error to 1·10⁻¹⁵ at most, as the tests show against an independent library.</para>
/// <para>Beyond 64 Hankel's expansion is used (Watson, Theory of Bessel Functions, §7.21; from memory), whose first term left
/// out is below 10⁻¹⁶ there.</para>
/// </remarks>
public static class PistonPattern
{
    /// <summary>The first zero of J₁ and so of the pattern. [rad]</summary>
    public const double FirstZeroRadians = 3.8317059702075123;

    private const int Degree = 11;
    private const int Stride = Degree + 1;
    private const double Spacing = 0.5;
    private const double Largest = 64;
    private const double SeriesLimit = 4;
    private const int Centres = (int)(Largest / Spacing) + 1;

    private static readonly double[] Table = BuildTable();

    /// <summary>Returns 2·J₁(x)/x: x the phase: signed, even in x, 1 at 0. [unitless]</summary>
    /// <param name="phaseRadians">Wavenumber times radius times the sine of the angle off axis; finite. [rad]</param>
    public static double Evaluate(double phaseRadians)
    {
        double magnitude = Math.Abs(phaseRadians);
        if (!(magnitude < Largest))
        {
            return Hankel(magnitude);
        }

        int centre = (int)((magnitude * (1 / Spacing)) + 0.5);
        double d = magnitude - (centre * Spacing);
        ReadOnlySpan<double> a = Table.AsSpan(centre * Stride, Stride);

        // Two interleaved polynomials in d² shorten the chain of dependent operations.
        double d2 = d * d;
        double even = Fma(Fma(Fma(Fma(Fma(a[10], d2, a[8]), d2, a[6]), d2, a[4]), d2, a[2]), d2, a[0]);
        double odd = Fma(Fma(Fma(Fma(Fma(a[11], d2, a[9]), d2, a[7]), d2, a[5]), d2, a[3]), d2, a[1]);
        return Fma(odd, d, even);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Fma(double a, double b, double c) => Math.FusedMultiplyAdd(a, b, c);

    private static double[] BuildTable()
    {
        double[] table = new double[Centres * Stride];
        Span<double> coefficients = stackalloc double[40];
        double value = 1;
        double slope = 0;
        for (int centre = 0; centre < Centres; centre++)
        {
            double at = centre * Spacing;
            if (at <= SeriesLimit)
            {
                (value, slope) = PowerSeries(at);
            }

            TaylorAbout(at, value, slope, coefficients);
            coefficients[..Stride].CopyTo(table.AsSpan(centre * Stride, Stride));
            if (at >= SeriesLimit)
            {
                (value, slope) = Step(coefficients, Spacing);
            }
        }

        return table;
    }

    /// <summary>Fills in the Taylor coefficients from the differential equation, given value and slope at the centre.</summary>
    private static void TaylorAbout(double at, double value, double slope, Span<double> a)
    {
        if (at == 0)
        {
            a.Clear();
            double term = 1;
            for (int n = 0; 2 * n < a.Length; n++)
            {
                a[2 * n] = term;
                term *= -0.25 / ((n + 1) * (n + 2.0));
            }

            return;
        }

        a[0] = value;
        a[1] = slope;
        for (int m = 0; m + 2 < a.Length; m++)
        {
            double before = m > 0 ? a[m - 1] : 0;
            a[m + 2] = -(((m + 1) * (m + 3.0) * a[m + 1]) + (at * a[m]) + before) / (at * (m + 2.0) * (m + 1));
        }
    }

    /// <summary>Value and slope from the power series; terms stay below 5 up to x = 4, so that no digits are lost.</summary>
    private static (double Value, double Slope) PowerSeries(double x)
    {
        double term = 1;
        double value = 0;
        double slope = 0;
        for (int n = 0; n < 40; n++)
        {
            value += term;
            slope += 2 * n * term;
            term *= -0.25 * x * x / ((n + 1) * (n + 2.0));
        }

        return (value, x > 0 ? slope / x : 0);
    }

    private static (double Value, double Slope) Step(ReadOnlySpan<double> a, double by)
    {
        double value = 0;
        double slope = 0;
        for (int m = a.Length - 1; m >= 0; m--)
        {
            slope = (slope * by) + value;
            value = (value * by) + a[m];
        }

        return (value, slope);
    }

    /// <summary>Hankel's asymptotic expansion of J₁, μ = 4.</summary>
    private static double Hankel(double x)
    {
        double p = 0;
        double q = 0;
        double term = 1;
        for (int k = 0; k < 14; k += 2)
        {
            p += term;
            term *= (4 - ((2.0 * k) + 1) * ((2.0 * k) + 1)) / ((k + 1) * 8.0 * x);
            q += term;
            term *= -(4 - ((2.0 * k) + 3) * ((2.0 * k) + 3)) / ((k + 2) * 8.0 * x);
        }

        double phase = x - (0.75 * Math.PI);
        double bessel = Math.Sqrt(2 / (Math.PI * x)) * ((p * Math.Cos(phase)) - (q * Math.Sin(phase)));
        return 2 * bessel / x;
    }
}
