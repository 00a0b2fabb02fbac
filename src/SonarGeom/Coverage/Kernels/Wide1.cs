using System.Runtime.CompilerServices;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Rows of one number: the kernels without vectors.</summary>
internal readonly struct Wide1 : IWide<float>
{
    public static int Count => 1;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static float Load(ref float source, int index) => Unsafe.Add(ref source, index);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Store(float value, ref float target, int index) => Unsafe.Add(ref target, index) = value;

    public static float Broadcast(float value) => value;

    public static float Add(float a, float b) => a + b;

    public static float Subtract(float a, float b) => a - b;

    public static float Multiply(float a, float b) => a * b;

    public static float MultiplyAdd(float a, float b, float c) => MathF.FusedMultiplyAdd(a, b, c);

    public static float MultiplySubtractFrom(float a, float b, float c) => MathF.FusedMultiplyAdd(-a, b, c);

    public static float ReciprocalRootEstimate(float a) => 1 / MathF.Sqrt(a);

    public static float Abs(float a) => MathF.Abs(a);

    public static float Min(float a, float b) => MathF.Min(a, b);

    public static float Max(float a, float b) => MathF.Max(a, b);

    public static float WherePositive(float sign, float value) => sign > 0 ? value : 0;

    public static float WhereAtLeast(float a, float b, float value) => a >= b ? value : 0;

    public static ulong AtLeast(float a, float b) => a >= b ? 1UL : 0UL;

    public static float PowerOfTwo(float wholeExponent) => BitConverter.Int32BitsToSingle(((int)wholeExponent + 127) << 23);

    public static float Round(float a) => MathF.Round(a);

    public static float Log2(float a) => MathF.Log2(a);

    public static float LookUp(ReadOnlySpan<float> table, float wholeIndex) => table[Math.Clamp((int)wholeIndex, 0, table.Length - 1)];

    public static float Smallest(float a) => a;

    public static float Largest(float a) => a;
}
