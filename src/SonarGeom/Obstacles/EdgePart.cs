using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Obstacles;

/// <summary>A straight sharp edge of a solid or of a thin sheet.</summary>
/// <param name="Name">What it is.</param>
/// <param name="End1Metres">One end. [m]</param>
/// <param name="End2Metres">The other end. [m]</param>
/// <param name="FaceDirection">
/// Direction that lies in one face, square to the edge and away from it: angles round the edge are counted from here through
/// the open air.
/// </param>
/// <param name="FaceNormal">Outward normal of that face, square to the edge.</param>
/// <param name="ExteriorAngle">
/// Angle of open air round the edge, above 180° and at most 360°: 270° for the square edge of a solid, 360° for a thin sheet.
/// </param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record EdgePart(
    string Name, Vec3 End1Metres, Vec3 End2Metres, Vec3 FaceDirection, Vec3 FaceNormal, Angle ExteriorAngle,
    double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the other end. [m]</summary>
    public Vec3 End2Metres { get; init; } = Apart(End2Metres, End1Metres, nameof(End2Metres));

    /// <summary>Gets the unit direction in one face away from the edge.</summary>
    public Vec3 FaceDirection { get; init; } = Unit(FaceDirection, nameof(FaceDirection));

    /// <summary>Gets the unit outward normal of that face.</summary>
    public Vec3 FaceNormal { get; init; } = Unit(FaceNormal, nameof(FaceNormal));

    /// <summary>Gets the angle of open air round the square edge of a solid, 270°.</summary>
    public static Angle Square { get; } = Angle.FromDegrees(270);

    /// <summary>Gets the angle of open air round the edge.</summary>
    public Angle ExteriorAngle { get; init; } = ExteriorAngle.Radians is > Math.PI and <= (2 * Math.PI) + 1e-12
        ? ExteriorAngle
        : throw new ArgumentOutOfRangeException(nameof(ExteriorAngle), $"ExteriorAngle is {ExteriorAngle}; it must be above 180° and at most 360°.");

    /// <inheritdoc/>
    public override Vec3 Middle => 0.5 * (End1Metres + End2Metres);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => new EdgePart(
        Name, targetFromSource.ApplyToPoint(End1Metres), targetFromSource.ApplyToPoint(End2Metres),
        targetFromSource.ApplyToDirection(FaceDirection), targetFromSource.ApplyToDirection(FaceNormal), ExteriorAngle, ReflectionLossDecibels)
    { RoughnessRmsMetres = RoughnessRmsMetres, CountsAsDetection = CountsAsDetection };
}
