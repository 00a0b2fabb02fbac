using SonarGeom.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Coverage;

/// <summary>How the body moves while walking.</summary>
public enum WalkMotion
{
    /// <summary>A standing body that sways by published amounts with legs that swing: <see cref="SwayEnvelope"/>.</summary>
    Sway,

    /// <summary>Joints by published curves: <see cref="Walks.Gait"/>.</summary>
    Gait,
}

/// <summary>How the wearer walks, reacts and stops, and how the stride is sampled.</summary>
/// <param name="SpeedMetresPerSecond">Walking speed. [m/s]</param>
/// <param name="ReactionSeconds">Time from alert to the start of braking. [s]</param>
/// <param name="DecelerationMetresPerSecondSquared">Deceleration while stopping. [m/s²]</param>
/// <param name="StridePhases">Number of stride phases sampled; even, so that left and right steps are treated alike.</param>
/// <param name="Hold">How near the reports must hold.</param>
/// <param name="ReliableShare">Share of stride phases in which a hazard must be reported to count as reliably reported. [unitless]</param>
public sealed record WalkSettings(
    double SpeedMetresPerSecond = 0.8,
    double ReactionSeconds = 1.0,
    double DecelerationMetresPerSecondSquared = 1.0,
    int StridePhases = 16,
    HoldRule Hold = HoldRule.DeadZone,
    double ReliableShare = 0.9)
{
    /// <summary>Gets how the body moves.</summary>
    public WalkMotion Motion { get; init; }

    /// <summary>Gets how a cane is swept; a swaying body keeps its tip on the ground in either case.</summary>
    public CaneTechnique CaneTechnique { get; init; }

    /// <summary>Returns how a wearer walks.</summary>
    /// <param name="body">The wearer.</param>
    public IWalkingMotion MotionOf(Body body) => Motion == WalkMotion.Gait
        ? Walks.Gait.Of(body, SpeedMetresPerSecond, CaneTechnique)
        : SwayEnvelope.Of(body, SpeedMetresPerSecond);
}
