using SonarGeom.Quantities;

namespace SonarGeom.Air;

/// <summary>How much water vapour humid air holds.</summary>
public static class WaterVapour
{
    /// <summary>Returns the saturation pressure of water vapour over (supercooled) water. [Pa]</summary>
    /// <param name="temperature">Air temperature; meant for −20 °C to 50 °C.</param>
    /// <remarks>
    /// <para>Formula: <c>exp(A·T² + B·T + C + D/T)</c>.</para>
    /// <para>Source: Davis, Metrologia 29, 67–70 (1992), Eq. (22); the coefficients also stand in IEC 61094-2:2009,
    /// Annex F, Table F.2 (seen second-hand).</para>
    /// </remarks>
    public static double SaturationPressurePascals(Temperature temperature)
    {
        double kelvins = temperature.Kelvins;
        return Math.Exp(
            (1.2378847e-5 * kelvins * kelvins) - (1.9121316e-2 * kelvins) + 33.93711047 - (6.3431645e3 / kelvins));
    }

    /// <summary>Returns the mole fraction of water vapour. [unitless]</summary>
    /// <param name="temperature">Air temperature; meant for −20 °C to 50 °C.</param>
    /// <param name="relativeHumidityPercent">Relative humidity, 0 to 100. [%]</param>
    /// <param name="pressurePascals">Static pressure, above 0. [Pa]</param>
    /// <remarks>
    /// <para>Formula: <c>x_w = RH/100 · F · p_sv/p</c> with the enhancement factor
    /// <c>F = 1.00062 + 3.14e-8·p + 5.6e-7·t²</c>, t in °C.</para>
    /// <para>Source: Davis, Metrologia 29, 67–70 (1992), Eqs. (23) and (24) (seen second-hand).</para>
    /// </remarks>
    public static double MoleFraction(Temperature temperature, double relativeHumidityPercent, double pressurePascals)
    {
        double celsius = temperature.DegreesCelsius;
        double enhancement = 1.00062 + (3.14e-8 * pressurePascals) + (5.6e-7 * celsius * celsius);
        return relativeHumidityPercent / 100.0 * enhancement * SaturationPressurePascals(temperature) / pressurePascals;
    }
}
