using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Reads what commands start from, and finds what only shows when a layout is put on a body.</summary>
internal static class Inputs
{
    /// <summary>Refuses a word that is no scenario but nearly a command.</summary>
    internal static void AdviseOnCommand(string nameOrPath, IEnumerable<string> commands)
    {
        bool isPath = nameOrPath.Contains('/', StringComparison.Ordinal) || nameOrPath.Contains('.', StringComparison.Ordinal);
        string[] known = [.. ShippedCatalogue.Scenarios, .. commands];
        if (!isPath && !known.Contains(nameOrPath) && NearestName.Of(nameOrPath, known) is { } near && !ShippedCatalogue.Scenarios.Contains(near))
        {
            throw new UsageException($"There is no command or scenario {Numbers.Shown(nameOrPath)}; did you mean {near}?");
        }
    }

    /// <summary>Gets the body tables and the transducers that may take another's place.</summary>
    internal static StudyResources Resources(BodyTables tables) =>
        new(tables, [.. ShippedCatalogue.Transducers.Select(t => InputFiles.ReadTransducer(t).Transducer)]);

    /// <summary>Reads a layout and puts it on the main wearer of a scenario.</summary>
    /// <exception cref="InvalidInputException">The file is at fault, or the layout cannot be worn; all faults found are told.</exception>
    internal static SensorLayout LayoutFor(Scenario scenario, BodyTables tables, string nameOrPath)
    {
        SensorLayout layout = InputFiles.ReadLayout(nameOrPath);
        var body = Body.Build(scenario.MainWearer, tables);
        var faults = ImmutableArray.CreateBuilder<Fault>();
        foreach (SensorPlacement sensor in layout.Sensors)
        {
            try
            {
                Mounter.SegmentFromSensor(body, sensor.Mount);
            }
            catch (ArgumentException refusal)
            {
                faults.Add(new Fault(nameOrPath, null, null, null, $"Sensor {sensor.Name} on {scenario.MainWearer.Name}: {Sentence(refusal)}"));
            }
        }

        return faults.Count == 0 ? layout : throw new InvalidInputException(faults.ToImmutable());
    }

    /// <summary>Returns the sentence of a refusal by the model, without the name of the parameter.</summary>
    internal static string Sentence(ArgumentException refusal)
    {
        string text = refusal.Message;
        int tail = refusal.ParamName is null ? -1 : text.LastIndexOf(" (Parameter '", StringComparison.Ordinal);
        return tail < 0 ? text : text[..tail];
    }
}
