using System.CommandLine;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Files.Faults;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>An obstacle of the scenario that the wearer walks up to, and the sensor that listens.</summary>
internal sealed class SceneOptions
{
    private readonly Option<string?> _obstacle;
    private readonly Option<string?> _sensor;

    internal SceneOptions(
        Command command,
        string obstacle = "The id of an obstacle of the scenario. Without it the first.",
        string sensor = "The name of a sensor of the layout. Without it the one that hears the obstacle best.")
    {
        _obstacle = new("--obstacle") { Description = obstacle, HelpName = "ID" };
        _sensor = new("--sensor") { Description = sensor, HelpName = "NAME" };
        command.Add(_obstacle);
        command.Add(_sensor);
    }

    /// <summary>Whether an obstacle is named.</summary>
    internal bool HasObstacle(ParseResult line) => line.GetValue(_obstacle) is not null;

    /// <summary>Returns the last distance at which a warning of an obstacle is still in time. [m]</summary>
    internal static double NeedMetres(Scenario scenario, int obstacle) =>
        (scenario.Walk.SpeedMetresPerSecond + (scenario.Obstacles.Obstacles[obstacle].ClosingSpeedMetresPerSecond ?? 0))
        * StoppingModel.TimeNeededSeconds(scenario.Walk, scenario.Layout.Firing);

    /// <summary>Returns the index of the obstacle.</summary>
    internal int Obstacle(ParseResult line, Scenario scenario)
    {
        string[] known = [.. scenario.Obstacles.Obstacles.Select(o => o.Id)];
        if (known.Length == 0)
        {
            throw new UsageException("The scenario has no obstacle to walk up to.");
        }

        if (line.GetValue(_obstacle) is not { } id)
        {
            return 0;
        }

        int index = Array.IndexOf(known, id);
        return index >= 0
            ? index
            : throw new UsageException($"--obstacle is {Numbers.Shown(id)}, which the scenario does not have; {NearestName.Advice(id, known)}");
    }

    /// <summary>Returns the index of the sensor: the one named, or the one that hears the obstacle with the largest margin.</summary>
    internal int Sensor(ParseResult line, TraceStage stage, int obstacle, double distanceMetres, int phase)
    {
        if (line.GetValue(_sensor) is { } name)
        {
            return SensorNames.IndexOf(name, stage.Layout.Layout);
        }

        string prefix = $"{stage.Obstacles.Obstacles[obstacle].Id}: ";
        double walker = stage.WalkerXMetres(obstacle, distanceMetres);
        return Enumerable.Range(0, stage.Layout.SensorCount).MaxBy(s => LevelTrace.Of(
            stage.Layout.Sensor(s, phase), [.. stage.Sources(s, phase, walker).Where(source => source.Label.StartsWith(prefix, StringComparison.Ordinal))])
            .Contributions.Select(c => c.LargestMarginDecibels).DefaultIfEmpty(double.NegativeInfinity).Max());
    }
}
