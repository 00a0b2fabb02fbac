using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.Firmware;

/// <summary>The weather in which a device must work.</summary>
public sealed record ClimateRange
{
    /// <summary>Makes a range.</summary>
    /// <param name="coldest">The coldest air, from −20 °C.</param>
    /// <param name="warmest">The warmest air, up to 50 °C, not below the coldest.</param>
    /// <param name="driestPercent">The lowest relative humidity, from 0. [%]</param>
    /// <param name="dampestPercent">The highest relative humidity, up to 100, not below the lowest. [%]</param>
    /// <param name="pressurePascals">The static pressure. [Pa]</param>
    /// <exception cref="ArgumentException">A value is outside its range, or a range ends before it begins.</exception>
    public ClimateRange(
        Temperature coldest, Temperature warmest, double driestPercent = 20, double dampestPercent = 90,
        double pressurePascals = AirState.StandardPressurePascals)
    {
        if (warmest < coldest || !(dampestPercent >= driestPercent))
        {
            throw new ArgumentException(
                $"The climate runs from {coldest} to {warmest} and from {driestPercent} to {dampestPercent} % relative humidity; neither may end before it begins.");
        }

        Coldest = coldest;
        Warmest = warmest;
        DriestPercent = driestPercent;
        DampestPercent = dampestPercent;
        PressurePascals = pressurePascals;
        Corners = [.. new[] { At(coldest, driestPercent), At(coldest, dampestPercent), At(warmest, driestPercent), At(warmest, dampestPercent) }.Distinct()];
    }

    /// <summary>Gets a street climate: −10 to 40 °C, 20 to 90 % relative humidity, standard pressure (an assumption).</summary>
    public static ClimateRange Street { get; } = new(Temperature.FromDegreesCelsius(-10), Temperature.FromDegreesCelsius(40));

    /// <summary>Gets the coldest air.</summary>
    public Temperature Coldest { get; }

    /// <summary>Gets the warmest air.</summary>
    public Temperature Warmest { get; }

    /// <summary>Gets the lowest relative humidity. [%]</summary>
    public double DriestPercent { get; }

    /// <summary>Gets the highest relative humidity. [%]</summary>
    public double DampestPercent { get; }

    /// <summary>Gets the static pressure. [Pa]</summary>
    public double PressurePascals { get; }

    /// <summary>Gets the coldest and the warmest air, each at its driest and its dampest.</summary>
    public ImmutableArray<AirState> Corners { get; }

    /// <summary>Returns the temperatures from the coldest to the warmest, both included.</summary>
    /// <param name="stepCelsius">The step, above 0; the last may be shorter. [°C]</param>
    public ImmutableArray<Temperature> Temperatures(double stepCelsius)
    {
        Finite.Within(stepCelsius, 0.1, 100, "Step of the temperature", "°C");
        double from = Coldest.DegreesCelsius, to = Warmest.DegreesCelsius;
        int steps = (int)Math.Floor(((to - from) / stepCelsius) + 1e-9);
        IEnumerable<double> even = Enumerable.Range(0, steps + 1).Select(i => from + (i * stepCelsius));
        return [.. even.Concat(from + (steps * stepCelsius) < to - 1e-9 ? [to] : []).Select(Temperature.FromDegreesCelsius)];
    }

    /// <summary>Returns the air of this climate at a temperature and a humidity.</summary>
    /// <param name="temperature">The temperature.</param>
    /// <param name="humidityPercent">The relative humidity. [%]</param>
    public AirState At(Temperature temperature, double humidityPercent) => new(temperature, humidityPercent, PressurePascals);
}
