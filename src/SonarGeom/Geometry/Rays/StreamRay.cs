using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A ray made ready to travel with many others: one cache line for boxes and one for patches of triangles. Positions are
/// relative to the centre of the scene; the names of the coordinates are those of <see cref="PreparedRay"/>.
/// </summary>
[StructLayout(LayoutKind.Sequential, Size = 128)]
internal struct StreamRay
{
    public float InverseX;
    public float InverseY;
    public float InverseZ;

    /// <summary>Near end, rounded down. [m]</summary>
    public float Nearest;
    public float OffsetX;
    public float OffsetY;
    public float OffsetZ;

    /// <summary>Far end, rounded up; negative once the ray is no longer searched for. [m]</summary>
    public float Farthest;

    /// <summary>Where a node keeps the planes that the ray meets first, in bytes.</summary>
    public int NearX;
    public int NearY;
    public int NearZ;

    /// <summary>Which ray of the caller this is.</summary>
    public int Number;
    private readonly Vector128<int> _unused;

    public float OriginU;
    public float OriginV;
    public float OriginW;

    /// <summary>The largest magnitude of a coordinate of the origin. [m]</summary>
    public float OriginReach;
    public float ShearU;
    public float ShearV;
    private readonly double _unusedToo;
    public int RowU;
    public int RowV;
    public int RowW;

    /// <summary>Prepares the ray.</summary>
    /// <param name="number">Which ray of the caller it is.</param>
    /// <param name="row">Origin from the centre, direction, near and far end.</param>
    /// <param name="axisW">The axis along which it runs fastest.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Fill(int number, Vector256<float> row, int axisW)
    {
        Vector128<float> origin = row.GetLower();
        Vector128<float> direction = Vector256.Shuffle(row, Vector256.Create(3, 4, 5, 5, 3, 4, 5, 5)).GetLower();
        Vector128<float> safe = Vector128.MaxNative(Vector128.Abs(direction), Vector128.Create(PreparedRay.LeastDirection));
        Vector128<float> inverse = Vector128<float>.One / (safe | (direction & Vector128.Create(-0f)));
        Vector128<float> offset = -(origin * inverse);
        ref float first = ref InverseX;
        inverse.StoreUnsafe(ref first);
        offset.StoreUnsafe(ref first, 4);
        Nearest = row.GetElement(6) * PreparedRay.Down;
        Farthest = row.GetElement(7) * PreparedRay.Up;
        Vector128<int> near = Vector128.Create(0, 2 * WideNode.Row, 4 * WideNode.Row, 0)
            + ((direction.AsInt32() >> 31) & Vector128.Create(WideNode.Row));
        near.StoreUnsafe(ref NearX);
        Number = number;

        Vector128<int> names = Vector128.LoadUnsafe(ref MemoryMarshal.GetReference(Renaming), (nuint)(axisW * 4));
        Vector128<float> magnitude = Vector128.Abs(origin);
        Vector128<float> reach = Vector128.MaxNative(magnitude, Vector128.Shuffle(magnitude, Vector128.Create(1, 2, 0, 3)));
        reach = Vector128.MaxNative(reach, Vector128.Shuffle(magnitude, Vector128.Create(2, 0, 1, 3)));
        Vector128.ShuffleNative(origin, names).StoreUnsafe(ref OriginU);
        OriginReach = reach.ToScalar();
        Vector128<float> shear = Vector128.ShuffleNative(direction, names)
            * Vector128.Shuffle(Vector128.ShuffleNative(inverse, names), Vector128.Create(2, 2, 2, 2));
        (-shear).StoreUnsafe(ref ShearU);
        (names * TrianglePatch.Row).StoreUnsafe(ref RowU);
    }

    // For each fastest axis: the coordinates U, V and W.
    private static ReadOnlySpan<int> Renaming => [1, 2, 0, 0, 2, 0, 1, 0, 0, 1, 2, 0];
}
