using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Rows of 8 numbers.</summary>
internal readonly struct Wide8 : IWide<Vector256<float>>
{
    public static bool IsFast => Vector256.IsHardwareAccelerated;

    public static int Count => 8;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Load(ref float source, int index) => Vector256.LoadUnsafe(ref Unsafe.Add(ref source, index));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(Vector256<float> value, ref float target, int index) => value.StoreUnsafe(ref Unsafe.Add(ref target, index));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Broadcast(float value) => Vector256.Create(value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Add(Vector256<float> a, Vector256<float> b) => a + b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Subtract(Vector256<float> a, Vector256<float> b) => a - b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Multiply(Vector256<float> a, Vector256<float> b) => a * b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> MultiplyAdd(Vector256<float> a, Vector256<float> b, Vector256<float> c) => Vector256.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> MultiplySubtractFrom(Vector256<float> a, Vector256<float> b, Vector256<float> c) =>
        Vector256.FusedMultiplyAdd(-a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> ReciprocalRootEstimate(Vector256<float> a) =>
        Avx512F.VL.IsSupported ? Avx512F.VL.ReciprocalSqrt14(a)
        : Avx.IsSupported ? Avx.ReciprocalSqrt(a)
        : Vector256<float>.One / Vector256.Sqrt(a);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Abs(Vector256<float> a) => Vector256.Abs(a);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Min(Vector256<float> a, Vector256<float> b) => Vector256.Min(a, b);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Max(Vector256<float> a, Vector256<float> b) => Vector256.Max(a, b);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> WherePositive(Vector256<float> sign, Vector256<float> value) =>
        Vector256.ConditionalSelect(Vector256.GreaterThan(sign, Vector256<float>.Zero), value, Vector256<float>.Zero);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> WhereAtLeast(Vector256<float> a, Vector256<float> b, Vector256<float> value) =>
        Vector256.ConditionalSelect(Vector256.GreaterThanOrEqual(a, b), value, Vector256<float>.Zero);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong AtLeast(Vector256<float> a, Vector256<float> b) => Vector256.GreaterThanOrEqual(a, b).ExtractMostSignificantBits();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> PowerOfTwo(Vector256<float> wholeExponent) =>
        Vector256.ShiftLeft(Vector256.ConvertToInt32(wholeExponent) + Vector256.Create(127), 23).AsSingle();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Round(Vector256<float> a) => Vector256.Round(a);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Log2(Vector256<float> a) => Vector256.Log2(a);

    public static unsafe Vector256<float> LookUp(ReadOnlySpan<float> table, Vector256<float> wholeIndex)
    {
        Vector256<int> index = Vector256.Min(
            Vector256.Max(Vector256.ConvertToInt32(wholeIndex), Vector256<int>.Zero), Vector256.Create(table.Length - 1));
        fixed (float* entries = table)
        {
            if (Avx2.IsSupported)
            {
                return Avx2.GatherVector256(entries, index, sizeof(float));
            }

            float* found = stackalloc float[Vector256<float>.Count];
            for (int i = 0; i < Vector256<float>.Count; i++)
            {
                found[i] = entries[index.GetElement(i)];
            }

            return Vector256.Load(found);
        }
    }

    public static float Smallest(Vector256<float> a)
    {
        Vector128<float> four = Vector128.Min(a.GetLower(), a.GetUpper());
        Vector128<float> two = Vector128.Min(four, Vector128.Shuffle(four, Vector128.Create(2, 3, 0, 1)));
        return Math.Min(two.GetElement(0), two.GetElement(1));
    }

    public static float Largest(Vector256<float> a)
    {
        Vector128<float> four = Vector128.Max(a.GetLower(), a.GetUpper());
        Vector128<float> two = Vector128.Max(four, Vector128.Shuffle(four, Vector128.Create(2, 3, 0, 1)));
        return Math.Max(two.GetElement(0), two.GetElement(1));
    }
}
