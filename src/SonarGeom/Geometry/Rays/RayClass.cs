namespace SonarGeom.Geometry.Rays;

/// <summary>The signs of a direction and the axis along which it runs fastest.</summary>
/// <param name="Code">Signs in the low three bits, the fastest axis above them.</param>
internal readonly record struct RayClass(byte Code)
{
    /// <summary>A ray that needs more than the plain treatment.</summary>
    public static RayClass Special => new(31);

    /// <summary>Gets the fastest axis.</summary>
    public int AxisW => Code >> 3;

    /// <summary>Gets the axis after the fastest.</summary>
    public int AxisU => AxisW == 2 ? 0 : AxisW + 1;

    /// <summary>Gets the axis before the fastest.</summary>
    public int AxisV => AxisW == 0 ? 2 : AxisW - 1;

    /// <summary>Returns whether the direction is negative along an axis.</summary>
    public bool IsNegative(int axis) => ((Code >> axis) & 1) != 0;
}
