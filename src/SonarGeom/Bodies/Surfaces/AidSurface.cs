using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>The long cane and the wheelchair, drawn by eye around the few sizes that matter: cane length, seat height.</summary>
internal static class AidSurface
{
    internal const double ShaftRadiusMetres = 0.0065;
    private const double GripRadiusMetres = 0.014;
    private const double GripBehindMetres = 0.09;
    private const double GripAheadMetres = 0.13;

    /// <summary>Returns a cane lying ahead along X, the hand at the origin.</summary>
    internal static TriangleMesh Cane(double handToTipMetres)
    {
        Section[] grip =
        [
            Section.Round(-GripBehindMetres, 0, 0, GripRadiusMetres),
            Section.Round(GripAheadMetres, 0, 0, 0.9 * GripRadiusMetres),
        ];
        Section[] shaft =
        [
            Section.Round(GripAheadMetres - 0.02, 0, 0, ShaftRadiusMetres),
            Section.Round(handToTipMetres - ShaftRadiusMetres, 0, 0, ShaftRadiusMetres),
        ];
        return MeshShaping.Together(
            Loft.Through(grip, 3, 12, 0.01, 0.01).LaidAhead(),
            Loft.Through(shaft, 6, 8, 0.005, ShaftRadiusMetres).LaidAhead());
    }

    /// <summary>Returns a wheelchair in the world frame, its seat at a height, the hip joints at the origin of X.</summary>
    internal static TriangleMesh Wheelchair(double seat, double halfBreadth, double thighLength, double buttockBehind, double footrest)
    {
        double half = halfBreadth + 0.03;
        double back = -buttockBehind;
        double wheelRadius = Math.Min(0.30, seat - 0.12);
        TriangleMesh wheel = Wheel(new Vec3(back + 0.06, half + 0.03, wheelRadius), wheelRadius);
        TriangleMesh caster = Wheel(new Vec3(thighLength - 0.06, half - 0.02, 0.09), 0.09);
        TriangleMesh rest = Box(new Vec3(thighLength + 0.02, 0, 0), new Vec3(0.10, half - 0.04, 0.01), footrest - 0.02);
        return MeshShaping.Together(
            Box(new Vec3((back + thighLength - 0.05) / 2, 0, 0), new Vec3((thighLength - 0.05 - back) / 2, half, 0.03), seat - 0.045),
            Box(new Vec3(back - 0.02, 0, 0), new Vec3(0.015, half, 0.21), seat + 0.21),
            rest,
            wheel,
            wheel.MirroredLeftRight(),
            caster,
            caster.MirroredLeftRight());
    }

    // A box lofted upwards, with corners rounded a little; symmetric left and right when its middle is.
    private static TriangleMesh Box(Vec3 middle, Vec3 half, double height)
    {
        Section[] keys =
        [
            new(height - half.Z, middle.X, half.X, half.X, middle.Y, half.Y, 12),
            new(height + half.Z, middle.X, half.X, half.X, middle.Y, half.Y, 12),
        ];
        return Loft.Through(keys, 2, 20, 0.005, 0.005);
    }

    private static TriangleMesh Wheel(Vec3 hub, double radius)
    {
        Section[] keys =
        [
            Section.Round(-0.012, 0, 0, radius),
            Section.Round(0.012, 0, 0, radius),
        ];
        TriangleMesh disc = Loft.Through(keys, 2, 24, 0.004, 0.004);

        // The loft's axis becomes the left-right axis: (x, y, z) to (y, z, x) is a rotation.
        return disc with { Vertices = [.. disc.Vertices.Select(v => new Vec3(v.Y, v.Z, v.X) + hub)] };
    }
}
