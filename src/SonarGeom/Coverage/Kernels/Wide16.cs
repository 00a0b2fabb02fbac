using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Rows of 16 numbers.</summary>
internal readonly struct Wide16 : IWide<Vector512<float>>
{
    public static bool IsFast => Vector512.IsHardwareAccelerated && Avx512F.IsSupported;

    public static int Count => 16;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Load(ref float source, int index) => Vector512.LoadUnsafe(ref Unsafe.Add(ref source, index));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(Vector512<float> value, ref float target, int index) => value.StoreUnsafe(ref Unsafe.Add(ref target, index));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Broadcast(float value) => Vector512.Create(value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Add(Vector512<float> a, Vector512<float> b) => a + b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Subtract(Vector512<float> a, Vector512<float> b) => a - b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Multiply(Vector512<float> a, Vector512<float> b) => a * b;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> MultiplyAdd(Vector512<float> a, Vector512<float> b, Vector512<float> c) => Avx512F.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> MultiplySubtractFrom(Vector512<float> a, Vector512<float> b, Vector512<float> c) =>
        Avx512F.FusedMultiplyAddNegated(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> ReciprocalRootEstimate(Vector512<float> a) => Avx512F.ReciprocalSqrt14(a);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Abs(Vector512<float> a) => Vector512.Abs(a);

    // The processor's own minimum and maximum: no kernel feeds them NaN or cares for the sign of zero.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Min(Vector512<float> a, Vector512<float> b) => Avx512F.Min(a, b);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Max(Vector512<float> a, Vector512<float> b) => Avx512F.Max(a, b);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> WherePositive(Vector512<float> sign, Vector512<float> value) =>
        Vector512.ConditionalSelect(Vector512.GreaterThan(sign, Vector512<float>.Zero), value, Vector512<float>.Zero);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> WhereAtLeast(Vector512<float> a, Vector512<float> b, Vector512<float> value) =>
        Vector512.ConditionalSelect(Vector512.GreaterThanOrEqual(a, b), value, Vector512<float>.Zero);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong AtLeast(Vector512<float> a, Vector512<float> b) => Vector512.GreaterThanOrEqual(a, b).ExtractMostSignificantBits();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> PowerOfTwo(Vector512<float> wholeExponent) =>
        Vector512.ShiftLeft(Avx512F.ConvertToVector512Int32(wholeExponent) + Vector512.Create(127), 23).AsSingle();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Round(Vector512<float> a) => Avx512F.RoundScale(a, 0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Log2(Vector512<float> a) => Vector512.Log2(a);

    public static Vector512<float> LookUp(ReadOnlySpan<float> table, Vector512<float> wholeIndex) =>
        Vector512.Create(Wide8.LookUp(table, wholeIndex.GetLower()), Wide8.LookUp(table, wholeIndex.GetUpper()));

    public static float Smallest(Vector512<float> a) => Wide8.Smallest(Vector256.Min(a.GetLower(), a.GetUpper()));

    public static float Largest(Vector512<float> a) => Wide8.Largest(Vector256.Max(a.GetLower(), a.GetUpper()));
}
