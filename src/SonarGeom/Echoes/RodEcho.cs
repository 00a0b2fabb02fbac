using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Round rods, chamfers and ropes: a line integral along the side that faces the sensor.</summary>
/// <remarks>
/// <c>p = √(a/(2λ(R + a)))·R·∫ D_T D_R e^{2ikr} r^{−5/2} dz</c>, R the distance from the sensor to the line on the surface, z along
/// it: stationary phase round the circumference only, exact distances along the rod. A long rod gives
/// <c>p = (1/2R)√(a/(a + R))</c> (geometrical acoustics). Thin rods are multiplied by |f₂|/√(a/2) of the exact series. For separate
/// transmitter and receiver r^{−5/2} becomes <c>1/(r_T r_R)·√((r_T + r_R)/(2 r_T r_R))</c>.
/// </remarks>
internal static class RodEcho
{
    internal static LaneComplex Cylinder(in EchoView view, CylinderPart part, out EchoPath path) =>
        Rod(view, part.End1Metres, part.End2Metres, part.RadiusMetres, out path);

    /// <summary>A rope: its straight pieces with their phases; the ends between pieces cancel.</summary>
    internal static LaneComplex Rope(in EchoView view, RopePart part, out EchoPath path)
    {
        LaneComplex sum = default;
        path = EchoPath.Silent(part.Middle);
        double strongest = 0;
        ReadOnlySpan<Vec3> points = part.PointsMetres.AsSpan();
        for (int i = 1; i < points.Length; i++)
        {
            LaneComplex piece = Rod(view, points[i - 1], points[i], part.RadiusMetres, out EchoPath own);
            sum += piece;
            double power = Vector512.Sum(piece.Power * view.Block.PowerWeights);
            if (power > strongest)
            {
                strongest = power;
                path = own;
            }
        }

        return sum;
    }

    /// <summary>A truncated cone: a rod along the generator that faces the sensor, of the cone's radius of curvature there.</summary>
    internal static LaneComplex Cone(in EchoView view, ConePart part, out EchoPath path)
    {
        Vec3 axis = (part.End2Metres - part.End1Metres).Normalized();
        Vec3 towards = view.Midpoint - part.End1Metres;
        Vec3 radial = towards - (towards.Dot(axis) * axis);
        double distance = radial.Length;
        path = EchoPath.Silent(part.Middle);
        if (!(distance > 1e-9))
        {
            return default;
        }

        radial /= distance;
        Vec3 low = part.End1Metres + (part.Radius1Metres * radial);
        Vec3 high = part.End2Metres + (part.Radius2Metres * radial);
        Vec3 along = (high - low).Normalized();
        double cosine = along.Dot(axis);
        Vec3 normal = radial - (radial.Dot(along) * along);
        if (!(normal.Dot(view.Midpoint - low) > 0))
        {
            return default;
        }

        double length = high.DistanceTo(low);
        double foot = Math.Clamp((view.Midpoint - low).Dot(along), 0, length) / length;
        double radius = (part.Radius1Metres + (foot * (part.Radius2Metres - part.Radius1Metres))) / cosine;
        return OnSurface(view, low, along, length, radius, out path);
    }

    private static LaneComplex Rod(in EchoView view, Vec3 end1, Vec3 end2, double radius, out EchoPath path)
    {
        if (!SideOf(view, end1, end2, radius, out Vec3 origin, out Vec3 axis, out double length))
        {
            path = EchoPath.Silent(end1);
            return default;
        }

        return OnSurface(view, origin, axis, length, radius, out path);
    }

    /// <summary>The line along the side that faces the sensor; none from inside the endless rod, where no side can be seen.</summary>
    private static bool SideOf(in EchoView view, Vec3 end1, Vec3 end2, double radius, out Vec3 origin, out Vec3 axis, out double length)
    {
        axis = end2 - end1;
        length = axis.Length;
        axis /= length;
        Vec3 towards = view.Midpoint - end1;
        Vec3 radial = towards - (towards.Dot(axis) * axis);
        double distance = radial.Length;
        origin = end1 + (radius / distance * radial);
        return distance > radius + 1e-6;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LaneComplex OnSurface(in EchoView view, Vec3 origin, Vec3 along, double length, double radius, out EchoPath path)
    {
        LaneBlock block = view.Block;
        var line = new LineIntegral(view, origin, along, 0, length);
        Vector512<double> factor = block.RootWavenumbers * block.CylinderRatio(radius);
        RodWeight weight = WeightOf(line, radius);
        if (view.Gross is { } gross)
        {
            gross.Begin(view, factor);
            if (gross.ArmMetres > 0)
            {
                line.AddRodMoves(gross, block, weight);
            }
        }

        LaneComplex integral = line.Evaluate(view, weight);
        path = new EchoPath(origin + (line.Nearest * along), 0.5 * line.NearestPath, line.IsStationaryInside);

        // 1/√λ = √(k/2π).
        return integral * factor;
    }

    private static RodWeight WeightOf(in LineIntegral line, double radius)
    {
        double range = 0.5 * line.LeastPath;
        return new RodWeight(range * Math.Sqrt(radius / (4 * Math.PI * (range + radius))));
    }

    private readonly struct RodWeight(double scale) : ILineWeight
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> At(Vector512<double> z, Vector512<double> rT, Vector512<double> rR, Vector512<double> inverse) =>
            scale * inverse * Vector512.Sqrt(0.5 * (rT + rR) * inverse);
    }
}
