using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>What a file says of one obstacle, before it is made.</summary>
internal sealed record ObstacleDraft(string Id, ObstacleKind Kind, Vec3 PositionMetres)
{
    internal MeshShape? Shape { get; init; }

    internal double YawDegrees { get; init; }

    internal double PitchDegrees { get; init; }

    internal double RollDegrees { get; init; }

    internal double? LengthMetres { get; init; }

    internal double? WidthMetres { get; init; }

    internal double? HeightMetres { get; init; }

    internal double? DepthMetres { get; init; }

    internal double? DiameterMetres { get; init; }

    internal CapShape? Cap { get; init; }

    internal double? CapRiseMetres { get; init; }

    internal double? SagMetres { get; init; }

    internal double? RiserMetres { get; init; }

    internal double? GoingMetres { get; init; }

    internal int? Steps { get; init; }

    internal FoliageForm? Form { get; init; }

    internal double? LeafRadiusMillimetres { get; init; }

    internal double? LeavesPerCubicMetre { get; init; }

    internal double ReflectionLossDecibels { get; init; }

    internal double? RoughnessMillimetres { get; init; }

    internal double? ClosingSpeedMetresPerSecond { get; init; }

    internal string Note { get; init; } = string.Empty;

    internal string Source { get; init; } = string.Empty;

    /// <summary>Makes the obstacle.</summary>
    /// <exception cref="ArgumentException">Its sizes do not fit one another; the message says which.</exception>
    internal Obstacle Make() => new Obstacle(Id, Kind, PositionMetres)
    {
        Shape = Shape,
        Yaw = Angle.FromDegrees(YawDegrees),
        Pitch = Angle.FromDegrees(PitchDegrees),
        Roll = Angle.FromDegrees(RollDegrees),
        WidthMetres = WidthMetres ?? LengthMetres ?? 0,
        HeightMetres = HeightMetres ?? RiserMetres ?? 0,
        DepthMetres = DepthMetres ?? GoingMetres ?? 0,
        DiameterMetres = DiameterMetres ?? 0,
        Cap = Cap ?? CapShape.Flat,
        CapSizeMetres = CapRiseMetres ?? 0,
        SagMetres = SagMetres ?? 0,
        StepCount = Steps ?? 0,
        FoliageForm = Form ?? FoliageForm.Ellipsoid,
        LeafRadiusMetres = LeafRadiusMillimetres / 1000 ?? 0,
        LeavesPerCubicMetre = LeavesPerCubicMetre ?? 0,
        ReflectionLossDecibels = ReflectionLossDecibels,
        RoughnessRmsMetres = RoughnessMillimetres / 1000,
        ClosingSpeedMetresPerSecond = ClosingSpeedMetresPerSecond,
        Note = Note,
        Source = Source,
    }.Validated();

    /// <summary>Returns what a file would say of an obstacle.</summary>
    internal static ObstacleDraft Of(Obstacle obstacle)
    {
        (System.Collections.Immutable.ImmutableArray<string> needed, System.Collections.Immutable.ImmutableArray<string> optional) = ObstacleRules.Of(obstacle.Kind);
        return new ObstacleDraft(obstacle.Id, obstacle.Kind, obstacle.PositionMetres)
        {
            YawDegrees = obstacle.Yaw.Degrees,
            PitchDegrees = obstacle.Pitch.Degrees,
            RollDegrees = obstacle.Roll.Degrees,
            LengthMetres = If(ObstacleRules.Length, obstacle.WidthMetres),
            WidthMetres = If(ObstacleRules.Width, obstacle.WidthMetres),
            HeightMetres = If(ObstacleRules.Height, obstacle.HeightMetres),
            DepthMetres = If(ObstacleRules.Depth, obstacle.DepthMetres),
            DiameterMetres = If(ObstacleRules.Diameter, obstacle.DiameterMetres),
            Cap = obstacle.Kind is ObstacleKind.Bollard ? obstacle.Cap : null,
            CapRiseMetres = If(ObstacleRules.CapRise, obstacle.CapSizeMetres),
            SagMetres = If(ObstacleRules.Sag, obstacle.SagMetres),
            RiserMetres = If(ObstacleRules.Riser, obstacle.HeightMetres),
            GoingMetres = If(ObstacleRules.Going, obstacle.DepthMetres),
            Steps = obstacle.Kind is ObstacleKind.Stairs ? obstacle.StepCount : null,
            Form = obstacle.Kind is ObstacleKind.Foliage ? obstacle.FoliageForm : null,
            LeafRadiusMillimetres = If(ObstacleRules.LeafRadius, obstacle.LeafRadiusMetres * 1000),
            LeavesPerCubicMetre = If(ObstacleRules.Leaves, obstacle.LeavesPerCubicMetre),
            ReflectionLossDecibels = obstacle.ReflectionLossDecibels,
            RoughnessMillimetres = obstacle.RoughnessRmsMetres * 1000,
            ClosingSpeedMetresPerSecond = obstacle.ClosingSpeedMetresPerSecond,
            Note = obstacle.Note,
            Source = obstacle.Source,
        };

        double? If(string size, double metres) =>
            needed.Contains(size) || (optional.Contains(size) && metres > 0) ? metres : null;
    }
}
