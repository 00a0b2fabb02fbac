using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>The scenario as an argument, with one of its wearers and one probe as options.</summary>
internal sealed class ScenarioOptions
{
    private readonly Argument<string?> _scenario = new("SCENARIO")
    {
        Arity = ArgumentArity.ZeroOrOne,
        Description = $"A scenario: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Scenarios)}. Without it {ShippedCatalogue.DefaultScenario}.",
    };

    private readonly Option<string?> _wearer = new("--wearer") { Description = "The name of one of the scenario's wearers. Without it the first.", HelpName = "NAME" };

    private readonly Option<string?> _probe = new("--probe")
    {
        Description = "The name of one of the scenario's probes, a name of the catalogue, or the path of a file. Without it the scenario's first.",
        HelpName = "PROBE",
    };

    private readonly BodyOptions _body;

    internal ScenarioOptions(Command command, bool hasWearer = true, bool hasProbe = true)
    {
        command.Add(_scenario);
        if (hasWearer)
        {
            command.Add(_wearer);
        }

        if (hasProbe)
        {
            command.Add(_probe);
        }

        _body = new BodyOptions(command);
    }

    /// <summary>Reads the scenario.</summary>
    internal LoadedScenario Read(ParseResult line) => _body.Scenario(line, line.GetValue(_scenario) ?? ShippedCatalogue.DefaultScenario);

    /// <summary>Returns the tables from which wearers are built.</summary>
    internal BodyTables Tables(ParseResult line) => _body.Tables(line);

    /// <summary>Returns the wearer.</summary>
    internal WearerSpec Wearer(ParseResult line, Scenario scenario)
    {
        if (line.GetValue(_wearer) is not { } name)
        {
            return scenario.MainWearer;
        }

        return scenario.Wearers.FirstOrDefault(w => w.Name == name || Plain(w.Name) == Plain(name)) ?? throw new UsageException(
            $"--wearer is {Numbers.Shown(name)}, which the scenario does not have; {NearestName.Advice(name, [.. scenario.Wearers.Select(w => w.Name)])}");
    }

    /// <summary>Returns the probe.</summary>
    internal Probe Probe(ParseResult line, Scenario scenario)
    {
        if (line.GetValue(_probe) is not { } name)
        {
            return scenario.Probes[0];
        }

        if (scenario.Probes.FirstOrDefault(p => p.Name == name) is { } own)
        {
            return own;
        }

        bool isPath = name.EndsWith(".json", StringComparison.Ordinal) || name.Contains('/', StringComparison.Ordinal);
        string[] known = [.. scenario.Probes.Select(p => p.Name).Concat(ShippedCatalogue.Probes).Distinct()];
        return isPath || ShippedCatalogue.Probes.Contains(name)
            ? InputFiles.ReadProbe(name)
            : throw new UsageException($"--probe is {Numbers.Shown(name)}, which neither the scenario nor the catalogue has; {NearestName.Advice(name, known)}");
    }

    private static string Plain(string name) => name.Replace('-', ' ').Replace('_', ' ').ToLowerInvariant();
}
