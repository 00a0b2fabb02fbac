using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>A box laid out so that its three pairs of faces are tested side by side.</summary>
/// <remarks>Four numbers are loaded where three are meant: the fourth is the first of the next three and of no account.</remarks>
[StructLayout(LayoutKind.Sequential)]
internal readonly struct BoxRecord
{
    // Its images of the unit vectors are what a step along X, Y and Z of the scene is along the three axes of the box.
    private readonly Rotation _boxFromWorld;
    private readonly Vec3 _half;
    private readonly Vec3 _centre;

    public BoxRecord(in BoxShape box)
    {
        _boxFromWorld = box.WorldFromBox.Rotation.Inverse;
        _half = box.HalfSizes;
        _centre = box.WorldFromBox.Translation;
    }

    /// <summary>Returns the distance to the surface, from a distance on; not a number if there is none. [m]</summary>
    /// <remarks>Number for number what <see cref="BoxShape.ChordOf"/> finds.</remarks>
    [SkipLocalsInit]
    public double FirstFrom(double nearMetres, double ox, double oy, double oz, double dx, double dy, double dz)
    {
        ref readonly double numbers = ref Unsafe.As<BoxRecord, double>(ref Unsafe.AsRef(in this));
        Vector256<double> alongX = Vector256.LoadUnsafe(in numbers);
        Vector256<double> alongY = Vector256.LoadUnsafe(in numbers, 3);
        Vector256<double> alongZ = Vector256.LoadUnsafe(in numbers, 6);
        Vector256<double> half = Vector256.LoadUnsafe(in numbers, 9);
        Vector256<double> speed = (Vector256.Create(dx) * alongX) + (Vector256.Create(dy) * alongY) + (Vector256.Create(dz) * alongZ);
        Vector256<double> start = (Vector256.Create(ox - _centre.X) * alongX) + (Vector256.Create(oy - _centre.Y) * alongY)
            + (Vector256.Create(oz - _centre.Z) * alongZ);
        Vector256<double> isAcross = Vector256.LessThan(Vector256.Abs(speed), Vector256.Create(BoxShape.Standstill));
        if ((isAcross.ExtractMostSignificantBits() & 7) != 0)
        {
            return ToShape().ChordOf(new Vec3(ox, oy, oz), new Vec3(dx, dy, dz)).FirstFrom(nearMetres);
        }

        Vector256<double> pace = Vector256<double>.One / speed;
        Vector256<double> first = (-half - start) * pace;
        Vector256<double> second = (half - start) * pace;
        Vector256<double> enter = Vector256.MinNative(first, second);
        Vector256<double> leave = Vector256.MaxNative(first, second);
        return new Chord(
            double.MaxNative(double.MaxNative(enter.ToScalar(), enter.GetElement(1)), enter.GetElement(2)),
            double.MinNative(double.MinNative(leave.ToScalar(), leave.GetElement(1)), leave.GetElement(2))).FirstFrom(nearMetres);
    }

    private BoxShape ToShape() => new(new RigidTransform(_boxFromWorld.Inverse, _centre), _half);
}
