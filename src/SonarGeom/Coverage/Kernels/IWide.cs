namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// The operations on a row of float numbers from which the level kernels are built, so that one text serves every width of
/// vector. <see cref="Wide16"/>, <see cref="Wide8"/> and the scalar <see cref="Wide1"/> implement it; the compiler makes a
/// kernel of its own for each.
/// </summary>
/// <typeparam name="V">The row of numbers.</typeparam>
internal interface IWide<V>
    where V : struct
{
    /// <summary>How many numbers there are in a row.</summary>
    static abstract int Count { get; }

    static abstract V Load(ref float source, int index);

    static abstract void Store(V value, ref float target, int index);

    static abstract V Broadcast(float value);

    static abstract V Add(V a, V b);

    static abstract V Subtract(V a, V b);

    static abstract V Multiply(V a, V b);

    /// <summary>a·b + c, rounded once.</summary>
    static abstract V MultiplyAdd(V a, V b, V c);

    /// <summary>c − a·b, rounded once.</summary>
    static abstract V MultiplySubtractFrom(V a, V b, V c);

    /// <summary>1/√a to at least 11 bits.</summary>
    static abstract V ReciprocalRootEstimate(V a);

    static abstract V Abs(V a);

    static abstract V Min(V a, V b);

    static abstract V Max(V a, V b);

    /// <summary>The value where the sign number is above 0, else 0.</summary>
    static abstract V WherePositive(V sign, V value);

    /// <summary>The value where a is at least b, else 0.</summary>
    static abstract V WhereAtLeast(V a, V b, V value);

    /// <summary>One bit for each number of the row, the first one lowest: whether a is at least b.</summary>
    static abstract ulong AtLeast(V a, V b);

    /// <summary>2 to a whole power, from −126 to 127.</summary>
    static abstract V PowerOfTwo(V wholeExponent);

    static abstract V Round(V a);

    /// <summary>log₂ a; −∞ for 0.</summary>
    static abstract V Log2(V a);

    /// <summary>Looks up table[i] for whole numbers i.</summary>
    static abstract V LookUp(ReadOnlySpan<float> table, V wholeIndex);

    static abstract float Smallest(V a);

    static abstract float Largest(V a);
}
