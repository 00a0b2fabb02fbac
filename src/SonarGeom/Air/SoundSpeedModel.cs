namespace SonarGeom.Air;

/// <summary>The formula used for the speed of sound.</summary>
public enum SoundSpeedModel
{
    /// <summary>Cramer 1993 within its stated range; outside it the humid ideal gas, flagged. The default.</summary>
    Humid,

    /// <summary>The dry ideal gas of ISO 9613-1:1993, Eq. (A.5): temperature only.</summary>
    DryIdealGas,

    /// <summary>The textbook line 331.3 + 0.606·t: temperature only.</summary>
    Linear,
}
