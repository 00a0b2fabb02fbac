namespace SonarGeom.Geometry.Rays;

/// <summary>A box with faces along the axes. Empty when a low corner lies above its high corner.</summary>
/// <param name="Low">Least coordinates. [m]</param>
/// <param name="High">Greatest coordinates. [m]</param>
public readonly record struct Bounds(Vec3 Low, Vec3 High)
{
    /// <summary>The box that holds nothing.</summary>
    public static Bounds Empty { get; } = new(
        new Vec3(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity),
        new Vec3(double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity));

    /// <summary>Gets whether the box holds nothing.</summary>
    public bool IsEmpty => !(Low.X <= High.X && Low.Y <= High.Y && Low.Z <= High.Z);

    /// <summary>Gets the centre. [m]</summary>
    public Vec3 Centre => 0.5 * (Low + High);

    /// <summary>Returns the smallest box that holds this one and a position.</summary>
    public Bounds With(Vec3 point) => new(Least(Low, point), Greatest(High, point));

    /// <summary>Returns the smallest box that holds this one and another.</summary>
    public Bounds With(Bounds other) => new(Least(Low, other.Low), Greatest(High, other.High));

    private static Vec3 Least(Vec3 a, Vec3 b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Min(a.Z, b.Z));

    private static Vec3 Greatest(Vec3 a, Vec3 b) => new(Math.Max(a.X, b.X), Math.Max(a.Y, b.Y), Math.Max(a.Z, b.Z));
}
