namespace SonarGeom.Trials;

/// <summary>Why an alert came although nothing was in the way.</summary>
public enum FalseAlertCause
{
    /// <summary>Something that the wearer passes without touching it.</summary>
    PassedBeside,

    /// <summary>The floor.</summary>
    Floor,

    /// <summary>A limb of the wearer or the cane.</summary>
    OwnLimb,

    /// <summary>An earlier burst of the same sensor.</summary>
    Ghost,

    /// <summary>The burst of another sensor of the layout.</summary>
    Crosstalk,

    /// <summary>Noise.</summary>
    Noise,

    /// <summary>Another wearer's device.</summary>
    OtherDevice,
}
