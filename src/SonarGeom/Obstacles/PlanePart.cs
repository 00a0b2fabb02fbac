using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A plane without end.</summary>
/// <param name="Name">What it is.</param>
/// <param name="PointMetres">A point on it. [m]</param>
/// <param name="Normal">Direction of its front; only the front answers.</param>
/// <param name="ReflectionLossDecibels">Material loss. [dB]</param>
public sealed record PlanePart(string Name, Vec3 PointMetres, Vec3 Normal, double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets the unit normal towards the front.</summary>
    public Vec3 Normal { get; init; } = Unit(Normal, nameof(Normal));

    /// <inheritdoc/>
    public override Vec3 Middle => PointMetres;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with
    {
        PointMetres = targetFromSource.ApplyToPoint(PointMetres),
        Normal = targetFromSource.ApplyToDirection(Normal),
    };
}
