namespace SonarGeom.Air;

/// <summary>How accurate ISO 9613-1:1993, clause 7, states its absorption formula to be (seen second-hand).</summary>
public enum AbsorptionAccuracy
{
    /// <summary>Within ±10 %: water vapour 0.05 % to 5 % by moles, −20 °C to 50 °C, below 200 kPa, f/p from 4·10⁻⁴ to 10 Hz/Pa.</summary>
    TenPercent,

    /// <summary>Within ±20 %: as before, but water vapour from 0.005 % to 0.05 %, or above 5 %.</summary>
    TwentyPercent,

    /// <summary>Outside the two classes above.</summary>
    Outside,
}
