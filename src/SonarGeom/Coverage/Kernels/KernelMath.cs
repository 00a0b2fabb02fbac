using System.Runtime.CompilerServices;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Roots, exponentials and beams of rows of numbers.</summary>
internal static class KernelMath
{
    private const float Log2E = 1.44269504f;

    /// <summary>1/√a from the estimate and one step of Newton's method: to 2·10⁻⁷ of the value. a must be above 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V ReciprocalRoot<T, V>(V a)
        where T : IWide<V>
        where V : struct
    {
        V y = T.ReciprocalRootEstimate(a);
        V halfY = T.Multiply(y, T.Broadcast(0.5f));
        V error = T.MultiplySubtractFrom(T.Multiply(a, y), y, T.Broadcast(1f));
        return T.MultiplyAdd(halfY, error, y);
    }

    /// <summary>eˣ to 3·10⁻⁷ of the value; 0 below −87.</summary>
    /// <remarks>eˣ = 2ⁿ·e^f, |f| ≤ ln 2 / 2, by the series to f⁶: what is cut off is below 0.347⁷/5040 = 1.2·10⁻⁷.</remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Exp<T, V>(V x)
        where T : IWide<V>
        where V : struct
    {
        V bounded = T.Min(T.Max(x, T.Broadcast(-87f)), T.Broadcast(87f));
        V n = T.Round(T.Multiply(bounded, T.Broadcast(Log2E)));

        // ln 2 in two parts, the first exact in few bits, so that the remainder loses nothing.
        V f = T.MultiplySubtractFrom(n, T.Broadcast(0.693359375f), bounded);
        f = T.MultiplySubtractFrom(n, T.Broadcast(-2.12194440e-4f), f);
        V p = T.MultiplyAdd(T.Broadcast(1f / 720), f, T.Broadcast(1f / 120));
        p = T.MultiplyAdd(p, f, T.Broadcast(1f / 24));
        p = T.MultiplyAdd(p, f, T.Broadcast(1f / 6));
        p = T.MultiplyAdd(p, f, T.Broadcast(0.5f));
        p = T.MultiplyAdd(p, f, T.Broadcast(1f));
        p = T.MultiplyAdd(p, f, T.Broadcast(1f));
        return T.WhereAtLeast(x, T.Broadcast(-87f), T.Multiply(p, T.PowerOfTwo(n)));
    }

    /// <summary>The signed amplitude of a beam.</summary>
    /// <param name="beam">The beam.</param>
    /// <param name="cosine">Cosine of the angle off axis, from 0 to 1.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Amplitude<T, V>(FieldBeam beam, V cosine)
        where T : IWide<V>
        where V : struct
    {
        float[] c = beam.Coefficients;
        return c.Length == 0 ? LookUp<T, V>(beam, cosine) : Horner<T, V>(c, T.Multiply(cosine, cosine));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Horner<T, V>(float[] coefficients, V u)
        where T : IWide<V>
        where V : struct
    {
        V value = T.Broadcast(coefficients[^1]);
        for (int i = coefficients.Length - 2; i >= 0; i--)
        {
            value = T.MultiplyAdd(value, u, T.Broadcast(coefficients[i]));
        }

        return value;
    }

    internal static V LookUp<T, V>(FieldBeam beam, V cosine)
        where T : IWide<V>
        where V : struct
    {
        ReadOnlySpan<float> table = beam.Table;
        V at = T.Multiply(cosine, T.Broadcast(table.Length - 2));
        V whole = T.Round(T.Subtract(at, T.Broadcast(0.5f)));
        V low = T.LookUp(table, whole);
        V high = T.LookUp(table, T.Add(whole, T.Broadcast(1f)));
        return T.MultiplyAdd(T.Subtract(at, whole), T.Subtract(high, low), low);
    }
}
