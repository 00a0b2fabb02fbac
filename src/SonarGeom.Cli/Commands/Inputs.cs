using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Reads what commands start from, and finds what only shows when a layout is put on a body.</summary>
internal static class Inputs
{
    /// <summary>Reads a scenario; a word that is nearly a command gets that advice.</summary>
    internal static LoadedScenario Scenario(string nameOrPath, IEnumerable<string> commands)
    {
        bool isPath = nameOrPath.Contains('/', StringComparison.Ordinal) || nameOrPath.Contains('.', StringComparison.Ordinal);
        string[] known = [.. ShippedCatalogue.Scenarios, .. commands];
        if (!isPath && !known.Contains(nameOrPath) && NearestName.Of(nameOrPath, known) is { } near && !ShippedCatalogue.Scenarios.Contains(near))
        {
            throw new UsageException($"There is no command or scenario {Numbers.Shown(nameOrPath)}; did you mean {near}?");
        }

        return InputFiles.ReadScenario(nameOrPath);
    }

    /// <summary>Gets the body tables and the transducers that may take another's place.</summary>
    internal static StudyResources Resources() =>
        new(BodyTableFiles.Shipped, [.. ShippedCatalogue.Transducers.Select(t => InputFiles.ReadTransducer(t).Transducer)]);

    /// <summary>Puts the layouts of a scenario on its wearers and tells all that cannot be worn.</summary>
    /// <exception cref="InvalidInputException">A wearer or a mount is impossible; all faults found are told.</exception>
    internal static void CheckMounts(Scenario scenario, string file)
    {
        var faults = ImmutableArray.CreateBuilder<Fault>();
        foreach (WearerSpec wearer in scenario.Wearers)
        {
            if (Try(() => Body.Build(wearer, BodyTableFiles.Shipped), file, $"wearer {wearer.Name}", faults) is not { } body)
            {
                continue;
            }

            foreach (SensorLayout layout in (IEnumerable<SensorLayout>)[scenario.Layout, .. scenario.CompareLayouts])
            {
                foreach (SensorPlacement sensor in layout.Sensors)
                {
                    Try(() => Mounter.SegmentFromSensor(body, sensor.Mount) as object, file, $"layout {layout.Name} on {wearer.Name}, sensor {sensor.Name}", faults);
                }
            }
        }

        if (faults.Count > 0)
        {
            throw new InvalidInputException(faults.ToImmutable());
        }
    }

    /// <summary>Returns the sentence of a refusal by the model, without the name of the parameter.</summary>
    internal static string Sentence(ArgumentException refusal)
    {
        string text = refusal.Message;
        int tail = refusal.ParamName is null ? -1 : text.LastIndexOf(" (Parameter '", StringComparison.Ordinal);
        return tail < 0 ? text : text[..tail];
    }

    private static T? Try<T>(Func<T> work, string file, string subject, ImmutableArray<Fault>.Builder faults)
        where T : class
    {
        try
        {
            return work();
        }
        catch (ArgumentException refusal)
        {
            faults.Add(new Fault(file, null, null, null, $"{subject}: {Sentence(refusal)}"));
            return null;
        }
    }
}
