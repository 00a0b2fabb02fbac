using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>A complex number for each of eight frequencies.</summary>
internal readonly struct LaneComplex(Vector512<double> real, Vector512<double> imaginary)
{
    internal readonly Vector512<double> Real = real;
    internal readonly Vector512<double> Imaginary = imaginary;

    internal Vector512<double> Power => (Real * Real) + (Imaginary * Imaginary);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LaneComplex operator +(LaneComplex a, LaneComplex b) => new(a.Real + b.Real, a.Imaginary + b.Imaginary);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LaneComplex operator -(LaneComplex a, LaneComplex b) => new(a.Real - b.Real, a.Imaginary - b.Imaginary);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LaneComplex operator *(LaneComplex a, Vector512<double> s) => new(a.Real * s, a.Imaginary * s);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LaneComplex operator *(LaneComplex a, double s) => new(a.Real * s, a.Imaginary * s);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static LaneComplex operator *(LaneComplex a, LaneComplex b) => new(
        Vector512.FusedMultiplyAdd(a.Real, b.Real, -(a.Imaginary * b.Imaginary)),
        Vector512.FusedMultiplyAdd(a.Real, b.Imaginary, a.Imaginary * b.Real));
}

/// <summary>
/// Elementary functions over eight frequencies at once. Each has its scalar reference beside it; the two agree to the error
/// stated, which a test checks on a million inputs.
/// </summary>
internal static class LaneMath
{
    /// <summary>Where the auxiliary function of the Fresnel integral is expanded: s = 1 / (1 + 0.3 x).</summary>
    private const double TailScale = 0.3;

    /// <summary>√π·e^(iπ/4): the integral of e^(iu²) over the whole line.</summary>
    internal static readonly double FullFresnelPart = Math.Sqrt(Math.PI / 2);

    /// <summary>Returns e^(ix) for |x| below 1e9; absolute error below 1e-15 + 2e-16·|x|.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static LaneComplex Phase(Vector512<double> x)
    {
        // Three-part reduction by π/2 (Cody and Waite); the magic number leaves the rounded quotient in the low bits.
        Vector512<double> magic = Vector512.Create(6755399441055744.0);
        Vector512<double> shifted = Vector512.FusedMultiplyAdd(x, Vector512.Create(0.63661977236758134308), magic);
        Vector512<double> n = shifted - magic;
        Vector512<double> r = Vector512.FusedMultiplyAdd(n, Vector512.Create(-1.5707963267948966), x);
        r = Vector512.FusedMultiplyAdd(n, Vector512.Create(-6.123233995736766e-17), r);
        Vector512<double> z = r * r;

        // Taylor coefficients; on |r| ≤ π/4 the first terms left out are below 2e-16 (sine, r¹⁷/17!) and 4e-17 (cosine, r¹⁸/18!).
        Vector512<double> s = Vector512.FusedMultiplyAdd(z, Vector512.Create(-7.647163731819816e-13), Vector512.Create(1.605904383682161e-10));
        s = Vector512.FusedMultiplyAdd(s, z, Vector512.Create(-2.505210838544172e-8));
        s = Vector512.FusedMultiplyAdd(s, z, Vector512.Create(2.7557319223985893e-6));
        s = Vector512.FusedMultiplyAdd(s, z, Vector512.Create(-1.984126984126984e-4));
        s = Vector512.FusedMultiplyAdd(s, z, Vector512.Create(8.333333333333333e-3));
        s = Vector512.FusedMultiplyAdd(s, z, Vector512.Create(-0.16666666666666666));
        s = Vector512.FusedMultiplyAdd(s * z, r, r);
        Vector512<double> c = Vector512.FusedMultiplyAdd(z, Vector512.Create(4.779477332387385e-14), Vector512.Create(-1.1470745597729725e-11));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(2.08767569878681e-9));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(-2.755731922398589e-7));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(2.48015873015873e-5));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(-1.388888888888889e-3));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(4.1666666666666664e-2));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512.Create(-0.5));
        c = Vector512.FusedMultiplyAdd(c, z, Vector512<double>.One);

        Vector512<long> quarter = shifted.AsInt64();
        Vector512<double> swap = Vector512.Equals(quarter & Vector512<long>.One, Vector512<long>.One).AsDouble();
        Vector512<long> sineSign = Vector512.ShiftLeft(quarter & Vector512.Create(2L), 62);
        Vector512<long> cosineSign = Vector512.ShiftLeft((quarter + Vector512<long>.One) & Vector512.Create(2L), 62);
        Vector512<double> cosine = Vector512.ConditionalSelect(swap, s, c);
        Vector512<double> sine = Vector512.ConditionalSelect(swap, c, s);
        return new LaneComplex((cosine.AsInt64() ^ cosineSign).AsDouble(), (sine.AsInt64() ^ sineSign).AsDouble());
    }

    /// <summary><see cref="Phase"/> as a call, for code that is not a loop.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    internal static LaneComplex PhaseOnce(Vector512<double> x) => Phase(x);

    /// <summary>Returns W(x) = e^(−ix²) ∫ₓ^∞ e^(iu²) du for x ≥ 0; relative error below 6e-7.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    internal static LaneComplex FresnelTail(Vector512<double> x)
    {
        // Fit made for this project: 17 Chebyshev nodes in s on [0, 1] to 40-digit values, rewritten in powers of y = 2s − 1.
        Vector512<double> s = Vector512<double>.One / Vector512.FusedMultiplyAdd(x, Vector512.Create(TailScale), Vector512<double>.One);
        Vector512<double> y = (s + s) - Vector512<double>.One;
        // Even and odd powers apart: four short chains instead of two long ones.
        Vector512<double> z = y * y;
        Vector512<double> realEven = Vector512.FusedMultiplyAdd(Vector512.Create(-0.013913486434635172), z, Vector512.Create(0.07007411397628868));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(-0.14914573874605286));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(0.15152856214899629));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(0.0094310546039106668));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(-0.24534374251509684));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(0.19390580350977466));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(0.24763989130005654));
        realEven = Vector512.FusedMultiplyAdd(realEven, z, Vector512.Create(0.052526971030496493));
        Vector512<double> realOdd = Vector512.FusedMultiplyAdd(Vector512.Create(-0.0074233520557996737), z, Vector512.Create(0.048329186834413589));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(-0.14677747637310322));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(0.26375935610566316));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(-0.25354857686915287));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(-0.028016974529471539));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(0.2867397311362875));
        realOdd = Vector512.FusedMultiplyAdd(realOdd, z, Vector512.Create(0.14689161929332143));
        Vector512<double> imaginaryEven = Vector512.FusedMultiplyAdd(Vector512.Create(-0.0088769908491246765), z, Vector512.Create(0.042911460209076774));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(-0.081348556796365731));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(0.046408198779436299));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(0.10902634334496188));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(-0.23145335938534171));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(-0.025525530588873466));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(0.23889955688437378));
        imaginaryEven = Vector512.FusedMultiplyAdd(imaginaryEven, z, Vector512.Create(0.29828734265872871));
        Vector512<double> imaginaryOdd = Vector512.FusedMultiplyAdd(Vector512.Create(-0.0077918348855451365), z, Vector512.Create(0.047464711019389237));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(-0.13175093587675977));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(0.20182259504597236));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(-0.1097369397896194));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(-0.18129690925876495));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(0.13427257564441885));
        imaginaryOdd = Vector512.FusedMultiplyAdd(imaginaryOdd, z, Vector512.Create(0.28534524088496241));
        Vector512<double> real = Vector512.FusedMultiplyAdd(realOdd, y, realEven);
        Vector512<double> imaginary = Vector512.FusedMultiplyAdd(imaginaryOdd, y, imaginaryEven);
        return new LaneComplex(real * s * s * s, imaginary * s);
    }

    /// <summary>
    /// Scalar reference of <see cref="FresnelTail(Vector512{double})"/> by another road: the integrals of the auxiliary functions,
    /// <c>f, g = (1/π√2) ∫₀^∞ e^(−πz²t/2) t^(∓1/2)/(t²+1) dt</c> (Abramowitz and Stegun 7.3.5, 7.3.6 and DLMF 7.7), by the
    /// trapezoidal rule in log t, which converges exponentially.
    /// </summary>
    internal static (double Real, double Imaginary) FresnelTail(double x)
    {
        double f = 0;
        double g = 0;
        const double Step = 0.05;
        for (int i = -1600; i <= 1600; i++)
        {
            double t = Math.Exp(i * Step);
            double common = Math.Exp(-x * x * t) * Step / ((t * t) + 1);
            f += common * Math.Sqrt(t);
            g += common * t * Math.Sqrt(t);
        }

        double scale = Math.Sqrt(Math.PI / 2) / (Math.PI * Math.Sqrt(2));
        return (g * scale, f * scale);
    }

    /// <summary>Returns e^(−αP) for absorption over a path of any length.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    internal static Vector512<double> Decay(Vector512<double> nepersPerMetre, double pathMetres)
    {
        // Air takes 0.02 to 0.3 Np/m: short paths need no general exponential.
        Vector512<double> x = nepersPerMetre * pathMetres;
        return Vector512.LessThanOrEqualAll(x, Vector512.Create(4.0)) ? SmallDecay(x) : Vector512.Exp(-x);
    }

    /// <summary>Returns e^(−x) for 0 ≤ x ≤ 4 by the eighth power of a polynomial; relative error below 2e-5 there, 2e-9 below 1.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector512<double> SmallDecay(Vector512<double> x)
    {
        Vector512<double> q = x * Vector512.Create(-0.125);
        Vector512<double> e = Vector512.FusedMultiplyAdd(q, Vector512.Create(1.0 / 720), Vector512.Create(1.0 / 120));
        e = Vector512.FusedMultiplyAdd(e, q, Vector512.Create(1.0 / 24));
        e = Vector512.FusedMultiplyAdd(e, q, Vector512.Create(1.0 / 6));
        e = Vector512.FusedMultiplyAdd(e, q, Vector512.Create(0.5));
        e = Vector512.FusedMultiplyAdd(e, q, Vector512<double>.One);
        e = Vector512.FusedMultiplyAdd(e, q, Vector512<double>.One);
        e *= e;
        e *= e;
        return e * e;
    }
}
