using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Echoes.Facets;

/// <summary>Functions of sixteen numbers at once that the fast kernel is made of.</summary>
internal sealed partial class FacetKernel
{
    // cos 2πt and sin 2πt / t as polynomials in t² for |t| ≤ ½ and for |t| ≤ ¼, from Chebyshev points: errors below 2e-8 and 6e-8.
    private static readonly float[] WideCosine = Fit(t => Math.Cos(2 * Math.PI * t), 0.5, 7);
    private static readonly float[] WideSine = Fit(t => Math.Sin(2 * Math.PI * t) / t, 0.5, 7);
    private static readonly float[] NarrowCosine = Fit(t => Math.Cos(2 * Math.PI * t), 0.25, 5);
    private static readonly float[] NarrowSine = Fit(t => Math.Sin(2 * Math.PI * t) / t, 0.25, 5);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Node(
        ref float table, ref float nodeGains, int m, nuint at, bool isFitted, Vector512<float> v1, int degree1, Vector512<float> v2, int degree2, Vector512<float> smear)
    {
        const int Powers = BeamFit.HighDegree + 1;
        Vector512<float> beams = isFitted
            ? Horner(ref table, m * Powers, degree1, v1) * Horner(ref table, (Nodes + m) * Powers, degree2, v2)
            : Vector512.LoadUnsafe(ref nodeGains, (nuint)(m * Room) + at);

        // exp(−k²M/2) for a facet that the phase crosses with variance k²M.
        return beams * Exponential(smear * Broadcast(ref table, (2 * Nodes * Powers) + (Nodes * Nodes) + Nodes + m));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Quartic(ref float table, int row, Vector512<float> v)
    {
        Vector512<float> p = Fma(v, Broadcast(ref table, row + 4), Broadcast(ref table, row + 3));
        p = Fma(p, v, Broadcast(ref table, row + 2));
        p = Fma(p, v, Broadcast(ref table, row + 1));
        return Fma(p, v, Broadcast(ref table, row));
    }

    private static Vector512<float> Horner(ref float table, int row, int degree, Vector512<float> v)
    {
        Vector512<float> p = Broadcast(ref table, row + degree);
        for (int e = degree - 1; e >= 0; e--)
        {
            p = Fma(p, v, Broadcast(ref table, row + e));
        }

        return p;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Row(
        ref float table, int row, Vector512<float> n0, Vector512<float> n1, Vector512<float> n2, Vector512<float> n3, Vector512<float> n4)
    {
        Vector512<float> sum = n0 * Broadcast(ref table, row);
        sum = Fma(n1, Broadcast(ref table, row + 1), sum);
        sum = Fma(n2, Broadcast(ref table, row + 2), sum);
        sum = Fma(n3, Broadcast(ref table, row + 3), sum);
        return Fma(n4, Broadcast(ref table, row + 4), sum);
    }

    private static Vector512<float> Smear(FacetCloud cloud, nuint at, Vector512<float> x, Vector512<float> y, Vector512<float> z)
    {
        float[][] e = cloud.Extents;
        Vector512<float> p = Dot(
            x, y, z, Vector512.LoadUnsafe(ref e[0][0], at), Vector512.LoadUnsafe(ref e[1][0], at), Vector512.LoadUnsafe(ref e[2][0], at));
        Vector512<float> r = Dot(
            x, y, z, Vector512.LoadUnsafe(ref e[3][0], at), Vector512.LoadUnsafe(ref e[4][0], at), Vector512.LoadUnsafe(ref e[5][0], at));
        return Fma(p, p, r * r);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void WideTurn(Vector512<float> turns, out Vector512<float> cosine, out Vector512<float> sine)
    {
        Vector512<float> t = turns - Vector512.Round(turns);
        Vector512<float> q = t * t;
        ref float c = ref MemoryMarshal.GetArrayDataReference(WideCosine);
        ref float s = ref MemoryMarshal.GetArrayDataReference(WideSine);
        Vector512<float> p = Broadcast(ref c, 6);
        Vector512<float> o = Broadcast(ref s, 6);
        for (int i = 5; i >= 0; i--)
        {
            p = Fma(p, q, Broadcast(ref c, i));
            o = Fma(o, q, Broadcast(ref s, i));
        }

        cosine = p;
        sine = o * t;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void NarrowTurn(Vector512<float> t, out Vector512<float> cosine, out Vector512<float> sine)
    {
        Vector512<float> q = t * t;
        ref float c = ref MemoryMarshal.GetArrayDataReference(NarrowCosine);
        ref float s = ref MemoryMarshal.GetArrayDataReference(NarrowSine);
        Vector512<float> p = Broadcast(ref c, 4);
        Vector512<float> o = Broadcast(ref s, 4);
        for (int i = 3; i >= 0; i--)
        {
            p = Fma(p, q, Broadcast(ref c, i));
            o = Fma(o, q, Broadcast(ref s, i));
        }

        cosine = p;
        sine = o * t;
    }

    /// <summary>exp x for |x| up to a few tenths: the paths of a chunk differ by decimetres. Error below 3e-7 for |x| ≤ 0.3.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> SmallExponential(Vector512<float> x)
    {
        Vector512<float> p = Fma(x, Vector512.Create(1.0f / 120), Vector512.Create(1.0f / 24));
        p = Fma(p, x, Vector512.Create(1.0f / 6));
        p = Fma(p, x, Vector512.Create(0.5f));
        p = Fma(p, x, Vector512<float>.One);
        return Fma(p, x, Vector512<float>.One);
    }

    private static Vector512<float> Exponential(Vector512<float> x) => Vector512.Exp(x);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> InverseRoot(Vector512<float> x)
    {
        if (Avx512F.IsSupported)
        {
            Vector512<float> y = Avx512F.ReciprocalSqrt14(x);
            Vector512<float> h = x * y * Vector512.Create(-0.5f);
            return y * Fma(h, y, Vector512.Create(1.5f));
        }

        return Vector512<float>.One / Vector512.Sqrt(x);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Inverse(Vector512<float> x)
    {
        if (Avx512F.IsSupported)
        {
            Vector512<float> y = Avx512F.Reciprocal14(x);
            return Fma(y, Fma(-x, y, Vector512<float>.One), y);
        }

        return Vector512<float>.One / x;
    }

    /// <summary>Writes the chosen lanes side by side; a whole vector is written, of which the next overwrites the rest.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Pack(Vector512<float> values, Vector512<float> mask, ref float to, int index)
    {
        if (Avx512F.IsSupported)
        {
            Avx512F.Compress(Vector512<float>.Zero, mask, values).StoreUnsafe(ref to, (nuint)index);
            return;
        }

        for (int lane = 0; lane < Width; lane++)
        {
            if (BitConverter.SingleToInt32Bits(mask[lane]) != 0)
            {
                Unsafe.Add(ref to, index++) = values[lane];
            }
        }
    }

    private static float Least(Vector512<float> values)
    {
        float least = values[0];
        for (int lane = 1; lane < Width; lane++)
        {
            least = Math.Min(least, values[lane]);
        }

        return least;
    }

    private static double Fraction(double turns) => turns - Math.Floor(turns);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Fma(Vector512<float> a, Vector512<float> b, Vector512<float> c) => Vector512.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Dot(
        Vector512<float> ax, Vector512<float> ay, Vector512<float> az, Vector512<float> bx, Vector512<float> by, Vector512<float> bz) =>
        Fma(ax, bx, Fma(ay, by, az * bz));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Set(double value) => Vector512.Create((float)value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Broadcast(ref float table, int index) => Vector512.Create(Unsafe.Add(ref table, index));

    /// <summary>Fits an even function by a polynomial in t², through Chebyshev points of t² from 0 to the square of the reach.</summary>
    private static float[] Fit(Func<double, double> function, double reach, int terms)
    {
        var polynomial = new double[terms];
        var coefficients = new double[terms];
        for (int i = 0; i < terms; i++)
        {
            Array.Clear(polynomial);
            polynomial[0] = 1.0;
            double denominator = 1.0;
            int degree = 0;
            for (int other = 0; other < terms; other++)
            {
                if (other != i)
                {
                    double root = Point(other);
                    denominator *= Point(i) - root;
                    degree++;
                    for (int e = degree; e >= 0; e--)
                    {
                        polynomial[e] = (e > 0 ? polynomial[e - 1] : 0.0) - (root * polynomial[e]);
                    }
                }
            }

            double value = function(Math.Sqrt(Point(i))) / denominator;
            for (int e = 0; e < terms; e++)
            {
                coefficients[e] += polynomial[e] * value;
            }
        }

        return [.. coefficients.Select(c => (float)c)];

        double Point(int i) => 0.5 * reach * reach * (1.0 - Math.Cos(Math.PI * (i + 0.5) / terms));
    }
}
