using SonarGeom.Quantities;

namespace SonarGeom.Air;

/// <summary>The state of still, uniform air along a beam. The one door at which its ranges are checked.</summary>
/// <param name="Temperature">Air temperature, from −20 °C to 50 °C inclusive: the scope of ISO 9613-1.</param>
/// <param name="RelativeHumidityPercent">Relative humidity over (supercooled) water, from 0 to 100 inclusive. [%]</param>
/// <param name="PressurePascals">Static pressure, from 30 000 to 200 000 inclusive. [Pa]</param>
/// <param name="CarbonDioxideMoleFraction">Mole fraction of carbon dioxide, from 0 to 0.02 inclusive. [unitless]</param>
/// <exception cref="ArgumentOutOfRangeException">A value lies outside its range. Nothing is extrapolated or clamped.</exception>
public sealed record AirState(
    Temperature Temperature,
    double RelativeHumidityPercent = 50,
    double PressurePascals = AirState.StandardPressurePascals,
    double CarbonDioxideMoleFraction = 400e-6)
{
    /// <summary>The standard atmosphere. [Pa]</summary>
    public const double StandardPressurePascals = 101_325;

    /// <summary>The coldest air that is accepted. [°C]</summary>
    public const double ColdestDegreesCelsius = -20;

    /// <summary>The warmest air that is accepted. [°C]</summary>
    public const double WarmestDegreesCelsius = 50;

    // A kelvin value that came from degrees Celsius may miss the limit by one rounding.
    private const double RoundingKelvins = 1e-9;

    /// <summary>Gets air at 20 °C, 50 % relative humidity and standard pressure.</summary>
    public static AirState Standard { get; } = new(Temperature.FromDegreesCelsius(20));

    /// <summary>Gets the air temperature, from −20 °C to 50 °C.</summary>
    public Temperature Temperature { get; init => field = Checked(value); } = Checked(Temperature);

    /// <summary>Gets the relative humidity, from 0 to 100. [%]</summary>
    public double RelativeHumidityPercent
    {
        get;
        init => field = Finite.Within(value, 0, 100, nameof(RelativeHumidityPercent), "%");
    } = Finite.Within(RelativeHumidityPercent, 0, 100, nameof(RelativeHumidityPercent), "%");

    /// <summary>Gets the static pressure, from 30 000 to 200 000. [Pa]</summary>
    public double PressurePascals
    {
        get;
        init => field = Finite.Within(value, 30_000, 200_000, nameof(PressurePascals), "Pa");
    } = Finite.Within(PressurePascals, 30_000, 200_000, nameof(PressurePascals), "Pa");

    /// <summary>Gets the mole fraction of carbon dioxide, from 0 to 0.02. [unitless]</summary>
    public double CarbonDioxideMoleFraction
    {
        get;
        init => field = Finite.Within(value, 0, 0.02, nameof(CarbonDioxideMoleFraction), "mol/mol");
    } = Finite.Within(CarbonDioxideMoleFraction, 0, 0.02, nameof(CarbonDioxideMoleFraction), "mol/mol");

    /// <summary>Gets the mole fraction of water vapour. [unitless]</summary>
    /// <remarks>Saturation pressure of Davis 1992 with the enhancement factor; see <see cref="WaterVapour"/>.</remarks>
    public double WaterVapourMoleFraction =>
        WaterVapour.MoleFraction(Temperature, RelativeHumidityPercent, PressurePascals);

    /// <summary>Writes the state in words with its units.</summary>
    public override string ToString() =>
        $"{Temperature}, {RelativeHumidityPercent:0.#} % relative humidity, {PressurePascals / 1000:0.###} kPa";

    private static Temperature Checked(Temperature airTemperature)
    {
        double celsius = airTemperature.DegreesCelsius;
        return celsius >= ColdestDegreesCelsius - RoundingKelvins && celsius <= WarmestDegreesCelsius + RoundingKelvins
            ? airTemperature
            : throw new ArgumentOutOfRangeException(
                nameof(airTemperature),
                $"Air temperature is {airTemperature}; it must be from {ColdestDegreesCelsius} °C to {WarmestDegreesCelsius} °C.");
    }
}
