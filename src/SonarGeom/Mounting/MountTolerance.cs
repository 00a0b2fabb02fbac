using SonarGeom.Quantities;

namespace SonarGeom.Mounting;

/// <summary>How far a mount may be off when worn: each value is meant both ways.</summary>
/// <param name="Tilt">Of the tilt.</param>
/// <param name="Azimuth">Of the azimuth.</param>
/// <param name="Roll">Of the roll.</param>
/// <param name="PositionMetres">Of the position, in any direction. [m]</param>
public sealed record MountTolerance(Angle Tilt, Angle Azimuth, Angle Roll, double PositionMetres)
{
    /// <summary>The mount that is never off.</summary>
    public static MountTolerance None { get; } = new(Angle.Zero, Angle.Zero, Angle.Zero, 0);
}
