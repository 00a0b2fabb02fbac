namespace SonarGeom.Bodies;

/// <summary>The rigid parts of which a body is made.</summary>
public enum SegmentId
{
    /// <summary>Head, moving on the top of the neck.</summary>
    Head,

    /// <summary>Neck, moving on the thorax.</summary>
    Neck,

    /// <summary>Trunk above the waist, moving on the pelvis.</summary>
    Thorax,

    /// <summary>Trunk below the waist: the root of the chain.</summary>
    Pelvis,

    /// <summary>Left upper arm.</summary>
    UpperArmLeft,

    /// <summary>Right upper arm.</summary>
    UpperArmRight,

    /// <summary>Left forearm.</summary>
    ForearmLeft,

    /// <summary>Right forearm.</summary>
    ForearmRight,

    /// <summary>Left hand.</summary>
    HandLeft,

    /// <summary>Right hand.</summary>
    HandRight,

    /// <summary>Left thigh.</summary>
    ThighLeft,

    /// <summary>Right thigh.</summary>
    ThighRight,

    /// <summary>Left shank.</summary>
    ShankLeft,

    /// <summary>Right shank.</summary>
    ShankRight,

    /// <summary>Left foot with its shoe.</summary>
    FootLeft,

    /// <summary>Right foot with its shoe.</summary>
    FootRight,

    /// <summary>The long cane, grip and shaft; present only if the wearer carries one.</summary>
    Cane,

    /// <summary>The wheelchair; present only if the wearer uses one.</summary>
    Seat,
}
