using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A ray made ready for boxes and for patches of triangles, and the best hit so far. Positions are relative to the centre of
/// the scene.
/// </summary>
/// <remarks>
/// For triangles the coordinates are renamed: W is the one along which the ray runs fastest, U and V follow it cyclically, and
/// the shear turns the ray into the axis W.
/// </remarks>
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
    public float OffsetX;
    public float OffsetY;
    public float OffsetZ;
    public float OriginU;
    public float OriginV;
    public float OriginW;
    public float ShearU;
    public float ShearV;
    public float OriginReach;
    public float Nearest;
    public float Farthest;
    public uint Negative;
    public int RowU;
    public int RowV;
    public int RowW;
    public int Slot;
    public double SceneX;
    public double SceneY;
    public double SceneZ;
    public double Moved;
    public double OriginX;
    public double OriginY;
    public double OriginZ;
    public double DirectionX;
    public double DirectionY;
    public double DirectionZ;
    public double Near;
    public double Far;

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

    /// <summary>Prepares everything but the position in double precision.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Prepare(Vec3 centre, double x, double y, double z, double dx, double dy, double dz, double near, double far, double moved)
    {
        SceneX = x;
        SceneY = y;
        SceneZ = z;
        Moved = moved;
        double ox = x - centre.X + (moved * dx);
        double oy = y - centre.Y + (moved * dy);
        double oz = z - centre.Z + (moved * dz);
        OriginX = ox;
        OriginY = oy;
        OriginZ = oz;
        DirectionX = dx;
        DirectionY = dy;
        DirectionZ = dz;
        Near = near;
        Far = far;
        Slot = -1;
        Nearest = (float)near * Down;
        Farthest = (float)far * Up;

        Vector128<float> origin = Vector128.Create((float)ox, (float)oy, (float)oz, 0);
        Vector128<float> direction = Vector128.Create((float)dx, (float)dy, (float)dz, 0);
        Vector128<float> magnitude = Vector128.Abs(direction);
        Vector128<float> safe = Vector128.MaxNative(magnitude, Vector128.Create(LeastDirection));
        Vector128<float> inverse = Vector128<float>.One / (safe | (direction & Vector128.Create(-0f)));
        Vector128<float> offset = -(origin * inverse);
        InverseX = inverse.ToScalar();
        InverseY = inverse.GetElement(1);
        InverseZ = inverse.GetElement(2);
        OffsetX = offset.ToScalar();
        OffsetY = offset.GetElement(1);
        OffsetZ = offset.GetElement(2);
        Negative = direction.ExtractMostSignificantBits();

        Vector128<float> turned = Vector128.Shuffle(magnitude, Vector128.Create(1, 2, 0, 3));
        uint order = Vector128.GreaterThan(magnitude, turned).ExtractMostSignificantBits() & 7;
        Vector128<int> names = Vector128.LoadUnsafe(ref System.Runtime.InteropServices.MemoryMarshal.GetReference(Renaming), order * 4);
        Vector128<float> renamedOrigin = Vector128.ShuffleNative(origin, names);
        Vector128<float> shear = Vector128.ShuffleNative(direction, names) * Vector128.Shuffle(Vector128.ShuffleNative(inverse, names), Vector128.Create(2, 2, 2, 2));
        OriginU = renamedOrigin.ToScalar();
        OriginV = renamedOrigin.GetElement(1);
        OriginW = renamedOrigin.GetElement(2);
        ShearU = -shear.ToScalar();
        ShearV = -shear.GetElement(1);
        Vector128<int> rows = names * TrianglePatch.Row;
        RowU = rows.ToScalar();
        RowV = rows.GetElement(1);
        RowW = rows.GetElement(2);
        Vector128<float> reach = Vector128.Abs(origin);
        reach = Vector128.MaxNative(reach, Vector128.Shuffle(reach, Vector128.Create(1, 2, 0, 3)));
        OriginReach = Vector128.MaxNative(reach, Vector128.Shuffle(reach, Vector128.Create(2, 0, 1, 3))).ToScalar();
    }

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
