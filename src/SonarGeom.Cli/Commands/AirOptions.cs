using System.CommandLine;
using SonarGeom.Air;
using SonarGeom.Cli.Shell;
using SonarGeom.Echoes;
using SonarGeom.Quantities;

namespace SonarGeom.Cli.Commands;

/// <summary>The air as options.</summary>
internal sealed class AirOptions
{
    private readonly Option<double?> _temperature =
        Numbers.Option("--temperature-c", AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius, "The air temperature. [°C] Without it 20.");

    private readonly Option<double?> _humidity = Numbers.Option("--humidity-percent", 0, 100, "The relative humidity. [%] Without it 50.");

    private readonly Option<double?> _pressure = Numbers.Option("--pressure-pa", 30_000, 200_000, "The static pressure. [Pa] Without it 101325.");

    private readonly Option<SoundSpeedModel?> _model = Choices.Option<SoundSpeedModel>(
        "--speed-model", "The formula of the speed of sound; without it humid: Cramer 1993 in its range, the humid ideal gas outside.");

    internal AirOptions(Command command, bool hasTemperature = true)
    {
        if (hasTemperature)
        {
            command.Add(_temperature);
        }

        command.Add(_humidity);
        command.Add(_pressure);
        command.Add(_model);
    }

    /// <summary>Returns the formula.</summary>
    internal SoundSpeedModel Model(ParseResult line) => line.GetValue(_model) ?? SoundSpeedModel.Humid;

    /// <summary>Returns the state at a temperature.</summary>
    internal AirState StateAt(ParseResult line, double degreesCelsius) => new(
        Temperature.FromDegreesCelsius(degreesCelsius),
        line.GetValue(_humidity) ?? 50,
        line.GetValue(_pressure) ?? AirState.StandardPressurePascals);

    /// <summary>Returns the air in which echoes travel.</summary>
    internal EchoMedium Medium(ParseResult line) => new(StateAt(line, line.GetValue(_temperature) ?? 20), Model(line));
}
