namespace SonarGeom.Trials;

/// <summary>What a report comes from.</summary>
public enum AlertSource
{
    /// <summary>An obstacle.</summary>
    Obstacle,

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
