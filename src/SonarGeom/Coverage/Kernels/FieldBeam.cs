using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// An axisymmetric directivity prepared for the level kernels: a polynomial in the squared cosine of the angle off axis where
/// that is exact enough, else a table over the cosine with straight lines between its entries. Immutable.
/// </summary>
/// <remarks>
/// <para>A piston's <c>D = 2·J₁(x)/x</c> with <c>x² = (ka)²·(1 − cos²θ)</c> is an entire function of the squared cosine, so that
/// neither a root nor an angle is needed. With <c>q = (ka/2)²</c> its m-th derivative is at most <c>q^m/(m+1)!</c>: D is
/// <c>₀F₁(; 2; −q·sin²θ)</c>, a derivative raises 2 to 2 + m and divides by (m+1)!, and <c>₀F₁</c> of a negative argument is at
/// most 1 by Poisson's integral (Watson, Theory of Bessel Functions, §2.3; from memory). Interpolation of degree n at
/// Chebyshev's points of [0, 1] is therefore off by at most <c>q^(n+1) / ((n+1)!·(n+2)!) · 2^−(2n+1)</c>:
/// <see cref="PistonErrorBound"/>.</para>
/// </remarks>
public sealed class FieldBeam
{
    /// <summary>The error of the amplitude that is aimed at, relative to the boresight. [unitless]</summary>
    internal const double Tolerance = 5e-7;

    private const int LowestDegree = 3;
    private const int HighestDegree = 15;
    private const int TableIntervals = 1024;
    private const int Samples = 8192;

    private readonly Func<double, double> _exact;

    private FieldBeam(Func<double, double> exactOfCosine, float[] coefficients, float[] table, double error, string description)
    {
        _exact = exactOfCosine;
        Coefficients = coefficients;
        Table = table;
        MaximumAmplitudeError = error;
        Description = description;
        (MonotoneFromCosine, SideAmplitude, Padding) = Envelope();
    }

    /// <summary>Gets the pattern in words.</summary>
    public string Description { get; }

    /// <summary>Gets the largest error of the prepared pattern, relative to the amplitude on the boresight. [unitless]</summary>
    public double MaximumAmplitudeError { get; }

    /// <summary>Gets whether the pattern is a polynomial; a table is slower.</summary>
    public bool IsPolynomial => Coefficients.Length > 0;

    /// <summary>Gets the degree of the polynomial in the squared cosine; 0 for a table.</summary>
    public int Degree => Math.Max(0, Coefficients.Length - 1);

    /// <summary>The coefficients, constant term first; none for a table.</summary>
    internal float[] Coefficients { get; }

    /// <summary>The amplitudes at evenly spaced cosines from 0 to 1, and one more; none for a polynomial.</summary>
    internal float[] Table { get; }

    /// <summary>The cosine from which on, towards 1, the amplitude rises to the boresight.</summary>
    internal double MonotoneFromCosine { get; }

    /// <summary>No amplitude at smaller cosines is above this.</summary>
    internal double SideAmplitude { get; }

    /// <summary>What sampling and rounding can have missed in the two members above.</summary>
    internal double Padding { get; }

    /// <summary>Prepares a directivity at one frequency.</summary>
    /// <param name="directivity">An axisymmetric directivity.</param>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength, above 0. [rad/m]</param>
    /// <exception cref="ArgumentException">The directivity is not axisymmetric.</exception>
    public static FieldBeam Of(Directivity directivity, double wavenumberRadiansPerMetre)
    {
        ArgumentNullException.ThrowIfNull(directivity);
        if (!directivity.IsAxisymmetric)
        {
            throw new ArgumentException($"The level field needs an axisymmetric beam; this one is not: {directivity.Description}.", nameof(directivity));
        }

        return Fit(
            cosine => directivity.Amplitude(new Vec3(cosine, Math.Sqrt(Math.Max(0, 1 - (cosine * cosine))), 0), wavenumberRadiansPerMetre),
            directivity.Description);
    }

    /// <summary>Prepares the pattern of a circular piston.</summary>
    /// <param name="wavenumberTimesRadius">k·a, above 0. [rad]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not above 0 or not finite.</exception>
    public static FieldBeam OfCircularPiston(double wavenumberTimesRadius)
    {
        if (!(wavenumberTimesRadius > 0) || !double.IsFinite(wavenumberTimesRadius))
        {
            throw new ArgumentOutOfRangeException(nameof(wavenumberTimesRadius), $"k·a is {wavenumberTimesRadius}; it must be above 0.");
        }

        return Fit(
            cosine => PistonPattern.Evaluate(wavenumberTimesRadius * Math.Sqrt(Math.Max(0, 1 - (cosine * cosine)))),
            $"circular piston, k·a = {wavenumberTimesRadius:0.###}");
    }

    /// <summary>Returns the largest error that interpolation of a degree can have for a piston, before rounding. [unitless]</summary>
    /// <param name="wavenumberTimesRadius">k·a. [rad]</param>
    /// <param name="degree">Degree of the polynomial.</param>
    public static double PistonErrorBound(double wavenumberTimesRadius, int degree)
    {
        double q = wavenumberTimesRadius * wavenumberTimesRadius / 4;
        double bound = 2.0 / (degree + 2);
        for (int i = 1; i <= degree + 1; i++)
        {
            bound *= q / (4.0 * i * i);
        }

        return bound;
    }

    /// <summary>Prepares any pattern that depends on the angle off axis alone.</summary>
    /// <param name="amplitudeOfCosine">The amplitude as a function of the cosine, from 0 to 1.</param>
    /// <param name="description">The pattern in words.</param>
    internal static FieldBeam Fit(Func<double, double> amplitudeOfCosine, string description)
    {
        // Behind and at 90° patterns are cut off to 0: the fit is to the limit from the front.
        double Front(double cosine) => amplitudeOfCosine(Math.Max(cosine, 1e-9));

        FieldBeam? best = null;
        for (int degree = LowestDegree; degree <= HighestDegree; degree++)
        {
            float[] coefficients = Interpolate(Front, degree);
            double error = LargestError(Front, cosine => Horner(coefficients, (float)(cosine * cosine)));
            if (best is null || error < 0.5 * best.MaximumAmplitudeError)
            {
                best = new FieldBeam(Front, coefficients, [], error, description);
            }

            if (error <= Tolerance)
            {
                return best;
            }
        }

        float[] table = [.. Enumerable.Range(0, TableIntervals + 2).Select(i => (float)Front(Math.Min(1, i / (double)TableIntervals)))];
        double tableError = LargestError(Front, cosine => LookUp(table, (float)cosine));
        return tableError < best!.MaximumAmplitudeError ? new FieldBeam(Front, [], table, tableError, description) : best;
    }

    /// <summary>Returns the pattern itself, as it was given, at a cosine from 0 to 1.</summary>
    internal double ExactAmplitude(double cosine) => _exact(cosine);

    /// <summary>Returns the prepared pattern at a cosine from 0 to 1.</summary>
    internal float PreparedAmplitude(float cosine) => IsPolynomial ? Horner(Coefficients, cosine * cosine) : LookUp(Table, cosine);

    private static float Horner(float[] coefficients, float u)
    {
        float value = coefficients[^1];
        for (int i = coefficients.Length - 2; i >= 0; i--)
        {
            value = MathF.FusedMultiplyAdd(value, u, coefficients[i]);
        }

        return value;
    }

    private static float LookUp(float[] table, float cosine)
    {
        float at = cosine * TableIntervals;
        float whole = MathF.Round(at - 0.5f);
        int i = Math.Clamp((int)whole, 0, table.Length - 2);
        return MathF.FusedMultiplyAdd(at - whole, table[i + 1] - table[i], table[i]);
    }

    private static double LargestError(Func<double, double> exact, Func<double, float> prepared)
    {
        double largest = 0;
        for (int i = 0; i <= Samples; i++)
        {
            // Half of the samples evenly in the cosine, half evenly in the angle.
            double t = i / (double)Samples;
            double cosine = (i & 1) == 0 ? t : Math.Cos(t * Math.PI / 2);
            largest = Math.Max(largest, Math.Abs(prepared(cosine) - exact(cosine)));
        }

        return largest;
    }

    /// <summary>Interpolates in the squared cosine at Chebyshev's points of [0, 1] and expands to powers.</summary>
    private static float[] Interpolate(Func<double, double> exact, int degree)
    {
        int n = degree + 1;
        var points = new double[n];
        var divided = new double[n];
        for (int i = 0; i < n; i++)
        {
            points[i] = 0.5 - (0.5 * Math.Cos(Math.PI * (i + 0.5) / n));
            divided[i] = exact(Math.Sqrt(points[i]));
        }

        for (int order = 1; order < n; order++)
        {
            for (int i = n - 1; i >= order; i--)
            {
                divided[i] = (divided[i] - divided[i - 1]) / (points[i] - points[i - order]);
            }
        }

        // Newton's form to powers.
        var powers = new double[n];
        for (int i = n - 1; i >= 0; i--)
        {
            for (int j = n - 1; j > 0; j--)
            {
                powers[j] = powers[j - 1] - (points[i] * powers[j]);
            }

            powers[0] = divided[i] - (points[i] * powers[0]);
        }

        return [.. powers.Select(value => (float)value)];
    }

    /// <summary>Finds where the main lobe ends and how strong anything outside it is, on the prepared pattern.</summary>
    private (double MonotoneFrom, double Side, double Padding) Envelope()
    {
        // Between samples of the squared cosine the pattern departs from a straight line by at most h²/8 times its second derivative.
        double step = 1.0 / Samples;
        double curvature = 0;
        for (int k = 2; k < Coefficients.Length; k++)
        {
            curvature += k * (k - 1) * Math.Abs(Coefficients[k]);
        }

        // A table is a straight line between its entries; 3·10⁻⁶ covers the rounding of single precision.
        double padding = (step * step / 8 * curvature) + 3e-6;
        int lobe = Samples;
        double lowest = Amplitude(lobe);
        while (lobe > 0)
        {
            // A rise that rounding can explain is no rise; the padding makes up for it.
            double next = Amplitude(lobe - 1);
            if (next > lowest + 1e-6)
            {
                break;
            }

            lowest = Math.Min(lowest, next);
            lobe--;
        }

        double side = 0;
        for (int i = 0; i <= lobe; i++)
        {
            side = Math.Max(side, Amplitude(i));
        }

        return (Cosine(lobe), side, padding);

        double Cosine(int i) => IsPolynomial ? Math.Sqrt(i * step) : i * step;

        double Amplitude(int i) => Math.Abs(PreparedAmplitude((float)Cosine(i)));
    }
}
