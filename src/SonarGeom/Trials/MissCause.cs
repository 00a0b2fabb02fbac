namespace SonarGeom.Trials;

/// <summary>Why a wearer was not warned in time of an obstacle that was then touched.</summary>
public enum MissCause
{
    /// <summary>Alerted or heard only when it was too near to stop.</summary>
    TooLate,

    /// <summary>Alerted in time, but on the other side.</summary>
    WrongSide,

    /// <summary>Heard now and then, too seldom for the filter or outside the alert zones.</summary>
    FilterNotMet,

    /// <summary>The device was giving another message.</summary>
    OtherMessage,

    /// <summary>The device did not look.</summary>
    NotLooking,

    /// <summary>The floor answered first.</summary>
    MaskedByFloor,

    /// <summary>An own limb or the cane answered first.</summary>
    MaskedByOwnLimb,

    /// <summary>Another obstacle, or a sound from elsewhere, answered first.</summary>
    MaskedByOther,

    /// <summary>The wearer's body or another obstacle stood in the way.</summary>
    Hidden,

    /// <summary>Inside the dead zone.</summary>
    DeadZone,

    /// <summary>At the last useful moment still farther than the alert zones or the listening window reach.</summary>
    BeyondZones,

    /// <summary>Outside the beams.</summary>
    OutOfBeam,

    /// <summary>Turned away like a mirror.</summary>
    Specular,

    /// <summary>Too weak.</summary>
    TooWeak,
}
