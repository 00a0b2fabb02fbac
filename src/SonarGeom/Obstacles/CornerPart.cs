using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>
/// The square corner between an upright flat face and the smooth ground in front of it: a kerb, a riser, a wall foot. It sends
/// sound back along the way it came, by two reflections, in the plane across the corner line.
/// </summary>
/// <param name="Name">What it is.</param>
/// <param name="End1Metres">One end of the corner line. [m]</param>
/// <param name="End2Metres">The other end. [m]</param>
/// <param name="FaceNormal">Direction from the face towards the open side, square to the line.</param>
/// <param name="FloorNormal">Direction up from the floor, square to the line and the face normal.</param>
/// <param name="FaceHeightMetres">Height of the face, above 0. [m]</param>
/// <param name="FloorDepthMetres">Depth of smooth floor in front of the face, above 0; +∞ for open ground. [m]</param>
/// <param name="ReflectionLossDecibels">Material loss of the face; the floor is taken as hard. [dB]</param>
public sealed record CornerPart(
    string Name, Vec3 End1Metres, Vec3 End2Metres, Vec3 FaceNormal, Vec3 FloorNormal, double FaceHeightMetres,
    double FloorDepthMetres = double.PositiveInfinity, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the other end of the corner line. [m]</summary>
    public Vec3 End2Metres { get; init; } = Apart(End2Metres, End1Metres, nameof(End2Metres));

    /// <summary>Gets the unit normal of the face.</summary>
    public Vec3 FaceNormal { get; init; } = Unit(FaceNormal, nameof(FaceNormal));

    /// <summary>Gets the unit normal of the floor.</summary>
    public Vec3 FloorNormal { get; init; } = Unit(FloorNormal, nameof(FloorNormal));

    /// <summary>Gets the height of the face. [m]</summary>
    public double FaceHeightMetres { get; init; } = Size(FaceHeightMetres, nameof(FaceHeightMetres));

    /// <summary>Gets the depth of smooth floor in front of the face. [m]</summary>
    public double FloorDepthMetres { get; init; } = FloorDepthMetres > 0
        ? FloorDepthMetres
        : throw new ArgumentOutOfRangeException(nameof(FloorDepthMetres), $"FloorDepthMetres is {FloorDepthMetres} m; it must be above 0 m.");

    /// <summary>Gets the root-mean-square height of the floor; <see cref="TargetPart.RoughnessRmsMetres"/> is that of the face. [m]</summary>
    public double FloorRoughnessRmsMetres { get; init; }

    /// <inheritdoc/>
    public override Vec3 Middle => 0.5 * (End1Metres + End2Metres);

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => new CornerPart(
        Name, targetFromSource.ApplyToPoint(End1Metres), targetFromSource.ApplyToPoint(End2Metres),
        targetFromSource.ApplyToDirection(FaceNormal), targetFromSource.ApplyToDirection(FloorNormal),
        FaceHeightMetres, FloorDepthMetres, ReflectionLossDecibels)
    {
        RoughnessRmsMetres = RoughnessRmsMetres,
        FloorRoughnessRmsMetres = FloorRoughnessRmsMetres,
        CountsAsDetection = CountsAsDetection,
    };
}
