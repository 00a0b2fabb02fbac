using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Turns and reaches of limbs. Mirroring the input mirrors the result.</summary>
internal static class Limb
{
    /// <summary>Returns the smallest rotation that brings one direction onto another.</summary>
    internal static Rotation Between(Vec3 from, Vec3 to)
    {
        Vec3 a = from.Normalized();
        Vec3 b = to.Normalized();
        Vec3 v = a.Cross(b);
        double c = a.Dot(b);
        if (c < -1 + 1e-9)
        {
            return new Rotation(-Vec3.UnitX, -Vec3.UnitY, Vec3.UnitZ);
        }

        // Rodrigues: R = 1 + [v] + [v]²/(1 + c).
        double k = 1 / (1 + c);
        return new Rotation(
            new Vec3((k * v.X * v.X) + c, (k * v.X * v.Y) + v.Z, (k * v.X * v.Z) - v.Y),
            new Vec3((k * v.X * v.Y) - v.Z, (k * v.Y * v.Y) + c, (k * v.Y * v.Z) + v.X),
            new Vec3((k * v.X * v.Z) + v.Y, (k * v.Y * v.Z) - v.X, (k * v.Z * v.Z) + c));
    }

    /// <summary>Returns where the middle joint of a two-part limb lies when its end reaches towards a target.</summary>
    /// <param name="root">First joint. [m]</param>
    /// <param name="target">Where the end is wanted; beyond reach the limb is straight. [m]</param>
    /// <param name="first">Length of the first part. [m]</param>
    /// <param name="second">Length of the second part. [m]</param>
    /// <param name="bend">Direction to which the middle joint gives way.</param>
    internal static Vec3 Middle(Vec3 root, Vec3 target, double first, double second, Vec3 bend)
    {
        Vec3 line = target - root;
        double reach = Math.Min(line.Length, first + second);
        Vec3 along = line.Normalized();
        double foot = ((first * first) - (second * second) + (reach * reach)) / (2 * reach);
        double height = Math.Sqrt(Math.Max(0, (first * first) - (foot * foot)));
        Vec3 across = bend - (bend.Dot(along) * along);
        return root + (foot * along) + (height * across.Normalized());
    }
}
