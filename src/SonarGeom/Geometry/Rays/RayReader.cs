using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>Tells the class of a ray and rounds its numbers, all of them at a time.</summary>
internal readonly unsafe struct RayReader
{
    // A little more than the length of any unit direction.
    private const double LongestDirection = 1.0001;

    // For each outcome of the comparisons |x| > |y|, |y| > |z|, |z| > |x|: the fastest axis, two bits each.
    private const uint FastestAxes = 2 | (0 << 2) | (1 << 4) | (0 << 6) | (2 << 8) | (2 << 10) | (1 << 12) | (2 << 14);

    private readonly Vector512<double> _low;
    private readonly Vector512<double> _high;
    private readonly Vector512<double> _centre;
    private readonly Bounds _bounds;

    public RayReader(in Bounds bounds, Vec3 centre)
    {
        (Vec3 low, Vec3 high) = bounds;
        _low = Vector512.Create(low.X, low.Y, low.Z, -LongestDirection, -LongestDirection, -LongestDirection, 0, 0);
        _high = Vector512.Create(
            high.X, high.Y, high.Z, LongestDirection, LongestDirection, LongestDirection, double.PositiveInfinity, double.PositiveInfinity);
        _centre = Vector512.Create(centre.X, centre.Y, centre.Z, 0, 0, 0, 0, 0);
        _bounds = bounds;
        Centre = centre;
    }

    /// <summary>Gets the centre of the scene. [m]</summary>
    public Vec3 Centre { get; }

    /// <summary>Returns the class, and origin from the centre, direction, near and far end in single precision.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public RayClass Read(Ray* ray, out Vector256<float> row)
    {
        Vector512<double> numbers = Vector512.Load((double*)ray);
        Vector512<double> relative = numbers - _centre;
        row = Vector256.Narrow(relative.GetLower(), relative.GetUpper());
        ulong isWithin = (Vector512.GreaterThanOrEqual(numbers, _low) & Vector512.LessThanOrEqual(numbers, _high)).ExtractMostSignificantBits();
        if (isWithin != 0xFF || !(ray->NearMetres <= ray->FarMetres))
        {
            return RayClass.Special;
        }

        Vector256<float> magnitude = Vector256.Abs(row);
        Vector256<float> turned = Vector256.Shuffle(magnitude, Vector256.Create(0, 1, 2, 4, 5, 3, 6, 7));
        int order = (int)(Vector256.GreaterThan(magnitude, turned).ExtractMostSignificantBits() >> 3) & 7;
        uint signs = (row.ExtractMostSignificantBits() >> 3) & 7;
        return new RayClass((byte)(signs | (((FastestAxes >> (2 * order)) & 3) << 3)));
    }

    /// <summary>Returns which of eight rays get the plain treatment, one bit each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint IsPlain(Vector512<double> directionX, Vector512<double> directionY, Vector512<double> directionZ, Vector512<double> near, Vector512<double> far)
    {
        Vector512<double> longest = Vector512.Create(LongestDirection);
        Vector512<double> size = Vector512.MaxNative(Vector512.Abs(directionX), Vector512.MaxNative(Vector512.Abs(directionY), Vector512.Abs(directionZ)));
        return (uint)(Vector512.LessThanOrEqual(size, longest) & Vector512.Equals(directionX, directionX) & Vector512.Equals(directionY, directionY)
            & Vector512.GreaterThanOrEqual(near, Vector512<double>.Zero) & Vector512.LessThanOrEqual(near, far)).ExtractMostSignificantBits();
    }

    /// <summary>Returns which of eight origins lie in the box around the scene, one bit each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public uint IsInside(Vector512<double> x, Vector512<double> y, Vector512<double> z) =>
        (uint)(IsBetween(x, _bounds.Low.X, _bounds.High.X) & IsBetween(y, _bounds.Low.Y, _bounds.High.Y)
            & IsBetween(z, _bounds.Low.Z, _bounds.High.Z)).ExtractMostSignificantBits();

    /// <summary>
    /// Moves the origins of rays from outside to where the rays enter the box around the scene, in the steps of a ray alone; rays
    /// that miss the box end before they start.
    /// </summary>
    /// <returns>How far each has moved. [m]</returns>
    [MethodImpl(MethodImplOptions.NoInlining)]
    public Vector512<double> Enter(
        ref Eight rays, Vector512<double> directionX, Vector512<double> directionY, Vector512<double> directionZ, uint isInside)
    {
        Vec3 half = 0.5 * (_bounds.High - _bounds.Low);
        (Vector512<double> enterX, Vector512<double> leaveX) = Slab(rays.X, directionX, half.X);
        (Vector512<double> enterY, Vector512<double> leaveY) = Slab(rays.Y, directionY, half.Y);
        (Vector512<double> enterZ, Vector512<double> leaveZ) = Slab(rays.Z, directionZ, half.Z);
        Vector512<double> enter = Vector512.MaxNative(enterX, Vector512.MaxNative(enterY, enterZ));
        Vector512<double> leave = Vector512.MinNative(leaveX, Vector512.MinNative(leaveY, leaveZ));
        Vector512<long> bits = Vector512.Create(1L, 2, 4, 8, 16, 32, 64, 128);
        Vector512<double> inside = Vector512.Equals(bits & Vector512.Create((long)isInside), bits).AsDouble();
        Vector512<double> entering = ~inside & Vector512.LessThanOrEqual(enter, leave)
            & Vector512.GreaterThanOrEqual(leave, rays.Near) & Vector512.LessThanOrEqual(enter, rays.Far);
        Vector512<double> onTheWay = inside | entering;
        Vector512<double> moved = Vector512.MaxNative(enter, Vector512<double>.Zero) & entering;
        rays = new(
            (rays.X + (moved * directionX)) & onTheWay, (rays.Y + (moved * directionY)) & onTheWay, (rays.Z + (moved * directionZ)) & onTheWay,
            Vector512.MaxNative(rays.Near - moved, Vector512<double>.Zero) & onTheWay,
            Vector512.ConditionalSelect(onTheWay, rays.Far - moved, Vector512.Create(-1.0)));
        return moved;
    }

    private static (Vector512<double> Enter, Vector512<double> Leave) Slab(Vector512<double> start, Vector512<double> direction, double half)
    {
        Vector512<double> pace = Vector512<double>.One / direction;
        Vector512<double> first = (Vector512.Create(-half) - start) * pace;
        Vector512<double> second = (Vector512.Create(half) - start) * pace;
        Vector512<double> isAcross = Vector512.LessThan(Vector512.Abs(direction), Vector512.Create(BoxShape.Standstill));
        Vector512<double> isBetween = Vector512.LessThanOrEqual(Vector512.Abs(start), Vector512.Create(half));
        Vector512<double> never = Vector512.Create(double.PositiveInfinity);
        Vector512<double> enter = Vector512.ConditionalSelect(isBetween, -never, never);
        return (Vector512.ConditionalSelect(isAcross, enter, Vector512.MinNative(first, second)),
            Vector512.ConditionalSelect(isAcross, -enter, Vector512.MaxNative(first, second)));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> IsBetween(Vector512<double> value, double low, double high) =>
        Vector512.GreaterThanOrEqual(value, Vector512.Create(low)) & Vector512.LessThanOrEqual(value, Vector512.Create(high));

    /// <summary>Origins, from the centre, and ends of eight rays. [m]</summary>
    public readonly record struct Eight(
        Vector512<double> X, Vector512<double> Y, Vector512<double> Z, Vector512<double> Near, Vector512<double> Far);
}
