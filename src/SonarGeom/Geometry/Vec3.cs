namespace SonarGeom.Geometry;

/// <summary>A position or displacement in metres, or a direction. World frame: right-handed, X ahead, Y left, Z up.</summary>
/// <param name="X">Component ahead. [m]</param>
/// <param name="Y">Component to the left. [m]</param>
/// <param name="Z">Component up. [m]</param>
public readonly record struct Vec3(double X, double Y, double Z)
{
    /// <summary>The zero vector.</summary>
    public static Vec3 Zero => default;

    /// <summary>The unit vector ahead.</summary>
    public static Vec3 UnitX => new(1, 0, 0);

    /// <summary>The unit vector to the left.</summary>
    public static Vec3 UnitY => new(0, 1, 0);

    /// <summary>The unit vector up.</summary>
    public static Vec3 UnitZ => new(0, 0, 1);

    /// <summary>Gets the squared length. [m²]</summary>
    public double LengthSquared => (X * X) + (Y * Y) + (Z * Z);

    /// <summary>Gets the length. [m]</summary>
    public double Length => Math.Sqrt(LengthSquared);

    /// <summary>Gets whether all components are finite.</summary>
    public bool IsFinite => double.IsFinite(X) && double.IsFinite(Y) && double.IsFinite(Z);

    /// <summary>The sum.</summary>
    public static Vec3 operator +(Vec3 a, Vec3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    /// <summary>The difference.</summary>
    public static Vec3 operator -(Vec3 a, Vec3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    /// <summary>The opposite vector.</summary>
    public static Vec3 operator -(Vec3 a) => new(-a.X, -a.Y, -a.Z);

    /// <summary>The vector times a number.</summary>
    public static Vec3 operator *(double s, Vec3 a) => new(s * a.X, s * a.Y, s * a.Z);

    /// <summary>The vector times a number.</summary>
    public static Vec3 operator *(Vec3 a, double s) => s * a;

    /// <summary>The vector divided by a number.</summary>
    public static Vec3 operator /(Vec3 a, double s) => (1.0 / s) * a;

    /// <summary>Returns the scalar product.</summary>
    public double Dot(Vec3 other) => (X * other.X) + (Y * other.Y) + (Z * other.Z);

    /// <summary>Returns the vector product.</summary>
    public Vec3 Cross(Vec3 other) =>
        new((Y * other.Z) - (Z * other.Y), (Z * other.X) - (X * other.Z), (X * other.Y) - (Y * other.X));

    /// <summary>Returns the unit vector of the same direction; NaN components for the zero vector.</summary>
    public Vec3 Normalized() => this / Length;

    /// <summary>Returns the distance to another position. [m]</summary>
    public double DistanceTo(Vec3 other) => (this - other).Length;

    /// <summary>Returns the mirror image in the plane Y = 0.</summary>
    public Vec3 MirroredLeftRight() => new(X, -Y, Z);
}
