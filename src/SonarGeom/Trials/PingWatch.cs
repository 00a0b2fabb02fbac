namespace SonarGeom.Trials;

/// <summary>How near a ping came to reporting an obstacle that is about to be touched.</summary>
internal enum PingWatch
{
    Reported,
    NotLooking,
    MaskedByFloor,
    MaskedByOwnLimb,
    MaskedByOther,
    Hidden,
    DeadZone,
    NotHeard,
}
