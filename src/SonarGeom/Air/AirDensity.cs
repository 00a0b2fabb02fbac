namespace SonarGeom.Air;

/// <summary>The density of humid air.</summary>
public static class AirDensity
{
    /// <summary>Returns the density. [kg/m³]</summary>
    /// <param name="air">The state of the air.</param>
    /// <remarks>
    /// <para>Formula: <c>ρ = [3.483740 + 1.4446·(x_c − 0.0004)]·10⁻³ · p/(Z·T) · (1 − 0.3780·x_w)</c> with the
    /// compressibility <c>Z</c> of the same source. Stated for 15…27 °C and 60…110 kPa (from memory); outside it the
    /// result stays within 0.05 % of the ideal mixture.</para>
    /// <para>Source: the CIPM equation for the density of moist air, Davis, Metrologia 29, 67–70 (1992); as in
    /// IEC 61094-2:2009, Annex F (from memory, confirmed by two published values).</para>
    /// </remarks>
    public static double KilogramsPerCubicMetre(AirState air)
    {
        ArgumentNullException.ThrowIfNull(air);
        double t = air.Temperature.DegreesCelsius;
        double kelvins = air.Temperature.Kelvins;
        double xw = air.WaterVapourMoleFraction;
        double pressureOverKelvins = air.PressurePascals / kelvins;
        double compressibility = 1
            - (pressureOverKelvins * (1.58123e-6 - (2.9331e-8 * t) + (1.1043e-10 * t * t)
                + ((5.707e-6 - (2.051e-8 * t)) * xw) + ((1.9898e-4 - (2.376e-6 * t)) * xw * xw)))
            + (pressureOverKelvins * pressureOverKelvins * (1.83e-11 - (0.765e-8 * xw * xw)));
        return (3.483740 + (1.4446 * (air.CarbonDioxideMoleFraction - 0.0004))) * 1e-3
            * pressureOverKelvins / compressibility * (1 - (0.3780 * xw));
    }

    /// <summary>Returns whether the air lies in the range stated for the density equation (from memory).</summary>
    /// <param name="air">The state of the air.</param>
    public static bool IsWithinStatedRange(AirState air)
    {
        ArgumentNullException.ThrowIfNull(air);
        const double rounding = 1e-9;
        return air.Temperature.DegreesCelsius is >= 15 - rounding and <= 27 + rounding
            && air.PressurePascals is >= 60_000 and <= 110_000;
    }

    /// <summary>The molar mass of humid air, CIPM: 28.96546 g/mol dry at 400 ppm of carbon dioxide. [kg/mol]</summary>
    internal static double MolarMassKilogramsPerMole(double waterVapourMoleFraction, double carbonDioxideMoleFraction) =>
        (28.96546e-3 + (12.011e-3 * (carbonDioxideMoleFraction - 0.0004))) * (1 - (0.3780 * waterVapourMoleFraction));
}
