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

    /// <summary>Returns which of eight rays are not special, number by number of the ray.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<double> IsWithin(
        Vector512<double> originX, Vector512<double> originY, Vector512<double> originZ, Vector512<double> directionX,
        Vector512<double> directionY, Vector512<double> directionZ, Vector512<double> near, Vector512<double> far)
    {
        Vector512<double> longest = Vector512.Create(LongestDirection);
        return IsBetween(originX, _bounds.Low.X, _bounds.High.X) & IsBetween(originY, _bounds.Low.Y, _bounds.High.Y)
            & IsBetween(originZ, _bounds.Low.Z, _bounds.High.Z)
            & Vector512.LessThanOrEqual(Vector512.Abs(directionX), longest) & Vector512.LessThanOrEqual(Vector512.Abs(directionY), longest)
            & Vector512.LessThanOrEqual(Vector512.Abs(directionZ), longest)
            & Vector512.GreaterThanOrEqual(near, Vector512<double>.Zero) & Vector512.LessThanOrEqual(near, far);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> IsBetween(Vector512<double> value, double low, double high) =>
        Vector512.GreaterThanOrEqual(value, Vector512.Create(low)) & Vector512.LessThanOrEqual(value, Vector512.Create(high));
}
