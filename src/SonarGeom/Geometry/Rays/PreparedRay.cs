using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A ray made ready for boxes and for patches of triangles, and the best hit so far. Positions are relative to the centre of
/// the scene.
/// </summary>
/// <remarks>
/// For triangles the coordinates are renamed: W is the one along which the ray runs fastest, U and V follow it cyclically, and
/// the shear turns the ray into the axis W.
/// </remarks>
[StructLayout(LayoutKind.Sequential)]
internal struct PreparedRay
{
    // Stands in for a direction component of zero, whose reciprocal would turn products into NaN.
    internal const float LeastDirection = 1e-18f;

    // Moves a rounded number past the one it stands for.
    internal const float Up = 1 + (1f / (1 << 23));
    internal const float Down = 1 - (1f / (1 << 23));

    public float InverseX;
    public float InverseY;
    public float InverseZ;
    public float Nearest;
    public float OffsetX;
    public float OffsetY;
    public float OffsetZ;
    public float Farthest;
    public float OriginU;
    public float OriginV;
    public float OriginW;
    public float OriginReach;
    public float ShearU;
    public float ShearV;
    public uint Negative;
    public int Slot;
    public int RowU;
    public int RowV;
    public int RowW;
    private readonly int _unused;
    public double OriginX;
    public double OriginY;
    public double OriginZ;
    public double Near;
    public double DirectionX;
    public double DirectionY;
    public double DirectionZ;
    public double Far;
    public double SceneX;
    public double SceneY;
    public double SceneZ;
    public double Moved;

    // For each outcome of the comparisons |x| > |y|, |y| > |z|, |z| > |x|: the coordinates U, V and W.
    internal static ReadOnlySpan<int> Renaming =>
    [
        0, 1, 2, 0,
        1, 2, 0, 0,
        2, 0, 1, 0,
        1, 2, 0, 0,
        0, 1, 2, 0,
        0, 1, 2, 0,
        2, 0, 1, 0,
        0, 1, 2, 0,
    ];

    /// <summary>Prepares a ray.</summary>
    /// <param name="centre">The centre of the scene, and 0. [m]</param>
    /// <param name="origin">The origin, and the near end. [m]</param>
    /// <param name="direction">The direction, and the far end.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Prepare(Vector256<double> centre, Vector256<double> origin, Vector256<double> direction)
    {
        origin.StoreUnsafe(ref SceneX);
        Moved = 0;
        Prepare(origin - centre, direction);
    }

    /// <summary>Prepares a ray whose origin is moved along it.</summary>
    /// <param name="centre">The centre of the scene, and 0. [m]</param>
    /// <param name="origin">The origin, and the near end from the place where it is moved to. [m]</param>
    /// <param name="direction">The direction, and the far end from there.</param>
    /// <param name="moved">How far it is moved. [m]</param>
    public void Prepare(Vector256<double> centre, Vector256<double> origin, Vector256<double> direction, double moved)
    {
        origin.StoreUnsafe(ref SceneX);
        Moved = moved;
        Prepare(origin - centre + (Vector256.Create(moved, moved, moved, 0) * direction.WithElement(3, 0)), direction);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Prepare(Vector256<double> relative, Vector256<double> exactDirection)
    {
        relative.StoreUnsafe(ref OriginX);
        exactDirection.StoreUnsafe(ref DirectionX);
        Slot = -1;

        Vector128<float> origin = Round(relative);
        Vector128<float> direction = Round(exactDirection);
        Vector128<float> magnitude = Vector128.Abs(direction);
        Vector128<float> safe = Vector128.MaxNative(magnitude, Vector128.Create(LeastDirection));
        Vector128<float> inverse = Vector128<float>.One / (safe | (direction & Vector128.Create(-0f)));
        Vector128<float> offset = -(origin * inverse);
        Vector128<int> isEnd = Vector128.Create(0, 0, 0, -1);
        Vector128.ConditionalSelect(isEnd.AsSingle(), origin * Down, inverse).StoreUnsafe(ref InverseX);
        Vector128.ConditionalSelect(isEnd.AsSingle(), direction * Up, offset).StoreUnsafe(ref OffsetX);
        Negative = direction.ExtractMostSignificantBits() & 7;

        Vector128<float> turned = Vector128.Shuffle(magnitude, Vector128.Create(1, 2, 0, 3));
        uint order = Vector128.GreaterThan(magnitude, turned).ExtractMostSignificantBits() & 7;
        Vector128<int> names = Vector128.LoadUnsafe(ref MemoryMarshal.GetReference(Renaming), order * 4);
        Vector128<float> shear = Vector128.ShuffleNative(direction, names) * Vector128.Shuffle(Vector128.ShuffleNative(inverse, names), Vector128.Create(2, 2, 2, 2));
        Vector128<float> size = Vector128.Abs(origin);
        Vector128<float> reach = Vector128.MaxNative(size, Vector128.MaxNative(
            Vector128.Shuffle(size, Vector128.Create(1, 2, 0, 3)), Vector128.Shuffle(size, Vector128.Create(2, 0, 1, 3))));
        Vector128.ConditionalSelect(
            isEnd.AsSingle(), Vector128.Shuffle(reach, Vector128.Create(0, 0, 0, 0)), Vector128.ShuffleNative(origin, names)).StoreUnsafe(ref OriginU);
        ShearU = -shear.ToScalar();
        ShearV = -shear.GetElement(1);
        (names * TrianglePatch.Row).StoreUnsafe(ref RowU);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<float> Round(Vector256<double> v) =>
        Avx.IsSupported ? Avx.ConvertToVector128Single(v) : Vector128.Narrow(v.GetLower(), v.GetUpper());

    /// <summary>Returns the ray in the frame of the scene; its far end is left to the caller.</summary>
    public readonly Ray InScene() => new(
        new Vec3(SceneX, SceneY, SceneZ), new Vec3(DirectionX, DirectionY, DirectionZ), Near + Moved, double.PositiveInfinity);

    /// <summary>Takes a nearer end of the ray.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Take(int slot, double distance)
    {
        Slot = slot;
        Far = distance;
        Farthest = (float)distance * Up;
    }
}
