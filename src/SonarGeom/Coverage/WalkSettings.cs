namespace SonarGeom.Coverage;

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
    double ReliableShare = 0.9);
