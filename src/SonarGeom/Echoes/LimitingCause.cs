namespace SonarGeom.Echoes;

/// <summary>
/// Why an obstacle is not detected: the one factor whose removal alone brings the margin to 0 dB or more; when none does, the
/// largest loss.
/// </summary>
public enum LimitingCause
{
    /// <summary>It is detected.</summary>
    None,

    /// <summary>Too near: the echo hides under blanking or ringing.</summary>
    DeadZone,

    /// <summary>Too far: the echo comes after listening has ended.</summary>
    OutsideListeningWindow,

    /// <summary>The beams are too weak in its direction.</summary>
    OutOfBeam,

    /// <summary>Even its best attitude, on the boresight and unobstructed, is below the threshold at that range.</summary>
    TooWeak,

    /// <summary>Its mirror reflection leaves the receiver.</summary>
    Specular,

    /// <summary>The wearer's own body is in the way.</summary>
    OccludedByWearer,

    /// <summary>Another obstacle is in the way.</summary>
    OccludedByObstacle,

    /// <summary>The floor crosses the threshold before it and is reported in its place.</summary>
    MaskedByFloor,

    /// <summary>A limb, cane or garment of the wearer is reported in its place.</summary>
    MaskedByOwnLimb,

    /// <summary>It is detected, but with less time than is needed.</summary>
    TooLate,

    /// <summary>It is detected in time, but announced on the wrong side.</summary>
    WrongSide,

    /// <summary>The mesh follows its curved faces too coarsely for the wavelength: no verdict may rest on its echo.</summary>
    MeshTooCoarse,
}
