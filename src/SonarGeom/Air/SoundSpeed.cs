namespace SonarGeom.Air;

/// <summary>The speed of sound in still air, at low frequency: dispersion up to 40 kHz is of the order of 0.1 m/s at most and is left out.</summary>
public static class SoundSpeed
{
    // ISO 9613-1:1993, Eq. (A.5).
    private const double DryMetresPerSecondAt20Celsius = 343.2;
    private const double ReferenceKelvins = 293.15;

    // CODATA 2018, exact.
    private const double GasConstantJoulesPerMoleKelvin = 8.314462618;

    // Molar heat capacities at constant pressure over the gas constant, ideal gas near 298 K. Dry air is
    // 0.781 nitrogen (29.12), 0.2095 oxygen (29.38), 0.0093 argon (20.79 J/(mol·K)); water vapour is 33.59,
    // carbon dioxide 37.13 J/(mol·K): NIST-JANAF thermochemical tables, from memory.
    private const double DryAirHeatCapacityRatioToGasConstant = 3.500;
    private const double WaterVapourHeatCapacityRatioToGasConstant = 4.040;
    private const double CarbonDioxideHeatCapacityRatioToGasConstant = 4.466;
    private const double OrdinaryCarbonDioxideMoleFraction = 400e-6;

    /// <summary>Returns the speed of sound. [m/s]</summary>
    /// <param name="air">The state of the air; its ranges were checked when it was made.</param>
    /// <param name="model">The formula; the default takes humidity into account.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="model"/> is not a named model.</exception>
    /// <remarks>
    /// <para>Humid: Cramer, J. Acoust. Soc. Am. 93, 2510–2516 (1993), Eq. (15) and Table III (coefficients seen
    /// second-hand, several listings agree), in 0…30 °C, 75…102 kPa, x_w ≤ 0.06 and x_c ≤ 0.01, stated accuracy about
    /// 300 parts per million; outside it <c>√(γ(x_w)·R·T/M(x_w))</c>, see <see cref="IsWithinCramerRange"/>. The join
    /// steps by less than 0.1 %.</para>
    /// <para>Dry ideal gas: <c>343.2·√(T/293.15)</c>, ISO 9613-1:1993, Eq. (A.5) (seen second-hand).</para>
    /// <para>Linear: <c>331.3 + 0.606·t</c>, common textbook form (from memory).</para>
    /// </remarks>
    public static double InMetresPerSecond(AirState air, SoundSpeedModel model = SoundSpeedModel.Humid)
    {
        ArgumentNullException.ThrowIfNull(air);
        return model switch
        {
            SoundSpeedModel.Humid => IsWithinCramerRange(air) ? Cramer(air) : HumidIdealGas(air),
            SoundSpeedModel.DryIdealGas =>
                DryMetresPerSecondAt20Celsius * Math.Sqrt(air.Temperature.Kelvins / ReferenceKelvins),
            SoundSpeedModel.Linear => 331.3 + (0.606 * air.Temperature.DegreesCelsius),
            _ => throw new ArgumentOutOfRangeException(nameof(model), $"{model} is not a model of the speed of sound."),
        };
    }

    /// <summary>Returns whether the air lies in the range that Cramer 1993 states for his polynomial.</summary>
    /// <param name="air">The state of the air.</param>
    public static bool IsWithinCramerRange(AirState air)
    {
        ArgumentNullException.ThrowIfNull(air);
        const double rounding = 1e-9;
        return air.Temperature.DegreesCelsius is >= -rounding and <= 30 + rounding
            && air.PressurePascals is >= 75_000 and <= 102_000
            && air.WaterVapourMoleFraction <= 0.06
            && air.CarbonDioxideMoleFraction <= 0.01;
    }

    /// <summary>Cramer 1993, Eq. (15), with p in Pa and t in °C. [m/s]</summary>
    internal static double Cramer(AirState air)
    {
        double t = air.Temperature.DegreesCelsius;
        double p = air.PressurePascals;
        double xw = air.WaterVapourMoleFraction;
        double xc = air.CarbonDioxideMoleFraction;
        return 331.5024 + (0.603055 * t) - (0.000528 * t * t)
            + ((51.471935 + (0.1495874 * t) - (0.000782 * t * t)) * xw)
            + ((-1.82e-7 + (3.73e-8 * t) - (2.93e-10 * t * t)) * p)
            + ((-85.20931 - (0.228525 * t) + (5.91e-5 * t * t)) * xc)
            - (2.835149 * xw * xw) - (2.15e-13 * p * p) + (29.179762 * xc * xc) + (0.000486 * xw * p * xc);
    }

    /// <summary>The mixture of ideal gases: γ from the mole-weighted heat capacities, M from the mole fractions. [m/s]</summary>
    internal static double HumidIdealGas(AirState air)
    {
        double xw = air.WaterVapourMoleFraction;
        double excessCarbonDioxide = air.CarbonDioxideMoleFraction - OrdinaryCarbonDioxideMoleFraction;
        double dryHeatCapacity = DryAirHeatCapacityRatioToGasConstant
            + (excessCarbonDioxide * (CarbonDioxideHeatCapacityRatioToGasConstant - DryAirHeatCapacityRatioToGasConstant));
        double heatCapacity = ((1 - xw) * dryHeatCapacity) + (xw * WaterVapourHeatCapacityRatioToGasConstant);
        double gamma = heatCapacity / (heatCapacity - 1);
        double molarMass = AirDensity.MolarMassKilogramsPerMole(xw, air.CarbonDioxideMoleFraction);
        return Math.Sqrt(gamma * GasConstantJoulesPerMoleKelvin * air.Temperature.Kelvins / molarMass);
    }
}
