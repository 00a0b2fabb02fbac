using SonarGeom.Quantities;

namespace SonarGeom.Geometry;

/// <summary>A proper rotation: the images of the three unit vectors of the source frame, in the target frame.</summary>
/// <param name="AxisX">Image of (1, 0, 0).</param>
/// <param name="AxisY">Image of (0, 1, 0).</param>
/// <param name="AxisZ">Image of (0, 0, 1).</param>
public readonly record struct Rotation(Vec3 AxisX, Vec3 AxisY, Vec3 AxisZ)
{
    /// <summary>The rotation by nothing.</summary>
    public static Rotation Identity => new(Vec3.UnitX, Vec3.UnitY, Vec3.UnitZ);

    /// <summary>Gets the inverse rotation.</summary>
    public Rotation Inverse => new(
        new Vec3(AxisX.X, AxisY.X, AxisZ.X), new Vec3(AxisX.Y, AxisY.Y, AxisZ.Y), new Vec3(AxisX.Z, AxisY.Z, AxisZ.Z));

    /// <summary>Rotates about +X: positive turns Y towards Z.</summary>
    public static Rotation AboutX(Angle angle)
    {
        var (s, c) = Math.SinCos(angle.Radians);
        return new(Vec3.UnitX, new Vec3(0, c, s), new Vec3(0, -s, c));
    }

    /// <summary>Rotates about +Y: positive turns Z towards X (the nose down).</summary>
    public static Rotation AboutY(Angle angle)
    {
        var (s, c) = Math.SinCos(angle.Radians);
        return new(new Vec3(c, 0, -s), Vec3.UnitY, new Vec3(s, 0, c));
    }

    /// <summary>Rotates about +Z: positive turns X towards Y (to the left).</summary>
    public static Rotation AboutZ(Angle angle)
    {
        var (s, c) = Math.SinCos(angle.Radians);
        return new(new Vec3(c, s, 0), new Vec3(-s, c, 0), Vec3.UnitZ);
    }

    /// <summary>
    /// Returns the attitude of a boresight (local X) that is turned by an azimuth (positive left), then raised by a tilt
    /// (positive up), then rolled right-handed about itself.
    /// </summary>
    public static Rotation FromAzimuthTiltRoll(Angle azimuth, Angle tilt, Angle roll) =>
        AboutZ(azimuth) * AboutY(-tilt) * AboutX(roll);

    /// <summary>Returns the shortest turn that brings one direction to another; half a turn about a level axis when they are opposite and not upright.</summary>
    /// <param name="from">A unit direction.</param>
    /// <param name="to">The other.</param>
    public static Rotation Between(Vec3 from, Vec3 to)
    {
        Vec3 axis = from.Cross(to);
        double sine = axis.Length, cosine = from.Dot(to);
        if (!(sine > 1e-12))
        {
            if (cosine > 0)
            {
                return Identity;
            }

            axis = Math.Abs(from.Z) < 0.9 ? Vec3.UnitZ.Cross(from) : Vec3.UnitX.Cross(from);
        }

        axis = axis.Normalized();
        Vec3 Turned(Vec3 v) => (cosine * v) + (sine * axis.Cross(v)) + ((1 - cosine) * axis.Dot(v) * axis);
        return new Rotation(Turned(Vec3.UnitX), Turned(Vec3.UnitY), Turned(Vec3.UnitZ));
    }

    /// <summary>The rotation <paramref name="left"/> after <paramref name="right"/>.</summary>
    public static Rotation operator *(Rotation left, Rotation right) =>
        new(left.Apply(right.AxisX), left.Apply(right.AxisY), left.Apply(right.AxisZ));

    /// <summary>Returns the rotated vector.</summary>
    public Vec3 Apply(Vec3 v) => (v.X * AxisX) + (v.Y * AxisY) + (v.Z * AxisZ);

    /// <summary>Returns the vector rotated by the inverse.</summary>
    public Vec3 ApplyInverse(Vec3 v) => new(v.Dot(AxisX), v.Dot(AxisY), v.Dot(AxisZ));

    /// <summary>Writes the images of the three unit vectors. The inverse is left out: it would write its own inverse without end.</summary>
    public override string ToString() => $"Rotation {{ AxisX = {AxisX}, AxisY = {AxisY}, AxisZ = {AxisZ} }}";
}
