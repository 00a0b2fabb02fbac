using System.Runtime.CompilerServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>A box in any attitude.</summary>
/// <param name="WorldFromBox">Centre and attitude.</param>
/// <param name="HalfSizes">Half the edge lengths along the box's own axes. [m]</param>
internal readonly record struct BoxShape(RigidTransform WorldFromBox, Vec3 HalfSizes)
{
    /// <summary>A ray that is slower than this along an axis does not move along it.</summary>
    public const double Standstill = 1e-150;

    public Bounds Bounds
    {
        get
        {
            Rotation r = WorldFromBox.Rotation;
            Vec3 reach = new(
                Reach(r.AxisX.X, r.AxisY.X, r.AxisZ.X), Reach(r.AxisX.Y, r.AxisY.Y, r.AxisZ.Y), Reach(r.AxisX.Z, r.AxisY.Z, r.AxisZ.Z));
            return new(WorldFromBox.Translation - reach, WorldFromBox.Translation + reach);
        }
    }

    /// <summary>Returns the distance to the surface, from outside or from within, or null. [m]</summary>
    public double? Intersect(in Ray ray) => ChordOf(ray.Origin, ray.UnitDirection).FirstWithin(ray);

    /// <summary>Returns the part of a line inside the box.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Chord ChordOf(Vec3 origin, Vec3 direction)
    {
        Vec3 start = WorldFromBox.Rotation.ApplyInverse(origin - WorldFromBox.Translation);
        Vec3 along = WorldFromBox.Rotation.ApplyInverse(direction);
        return SlabOf(start.X, along.X, HalfSizes.X)
            .And(SlabOf(start.Y, along.Y, HalfSizes.Y))
            .And(SlabOf(start.Z, along.Z, HalfSizes.Z));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Chord SlabOf(double start, double direction, double half)
    {
        if (Math.Abs(direction) < Standstill)
        {
            return Math.Abs(start) <= half ? Chord.Whole : Chord.None;
        }

        double pace = 1 / direction;
        double first = (-half - start) * pace;
        double second = (half - start) * pace;
        return new Chord(double.MinNative(first, second), double.MaxNative(first, second));
    }

    private double Reach(double x, double y, double z) =>
        (Math.Abs(x) * HalfSizes.X) + (Math.Abs(y) * HalfSizes.Y) + (Math.Abs(z) * HalfSizes.Z);
}
