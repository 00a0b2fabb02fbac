using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Shell;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files.Faults;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>The options that say what computes the echoes that verdicts rest on: for all obstacles, and for single ones.</summary>
internal sealed class EngineOptions
{
    private readonly Option<EngineWord?> _usual = Choices.Option<EngineWord>(
        "--engine", "What computes the echoes that verdicts rest on, in place of the scenario's choice: closed forms with the surface integral for meshes, closed forms only, or the surface integral wherever it holds, which takes minutes.");

    private readonly Option<string[]> _single = new("--engine-of")
    {
        Description = "The same for one obstacle: its id, an equals sign and the word. May be given several times.",
        HelpName = "ID=WORD",
    };

    internal EngineOptions(Command command)
    {
        command.Add(_usual);
        command.Add(_single);
    }

    /// <summary>Returns a scenario with what the options ask for.</summary>
    /// <param name="line">The command line.</param>
    /// <param name="scenario">The scenario.</param>
    /// <exception cref="UsageException">An obstacle is not there, a word is not known, or closed forms are asked for of a mesh.</exception>
    internal Scenario Applied(ParseResult line, Scenario scenario)
    {
        EngineWord? usual = line.GetValue(_usual);
        string[] single = line.GetValue(_single) ?? [];
        if (usual is null && single.Length == 0)
        {
            return scenario;
        }

        // One word for all takes the place of what the scenario says of single obstacles, too.
        EngineRequests asked = usual is { } word ? Request(word) : scenario.VerdictEngines;
        foreach (string entry in single)
        {
            (string id, EngineRequest engine) = Parsed(entry, scenario);
            asked = asked with { Of = asked.Of.SetItem(id, engine) };
        }

        foreach (Obstacle mesh in scenario.Obstacles.Obstacles.Where(o => o.Kind == ObstacleKind.Mesh && asked.For(o.Id) == EngineRequest.ClosedForm))
        {
            throw new UsageException(
                $"{(asked.Of.ContainsKey(mesh.Id) ? "--engine-of" : "--engine")} is closed-forms, but {mesh.Id} is a mesh, which has none; it must be automatic or surface-integral.");
        }

        return scenario with { VerdictEngines = asked };
    }

    private static (string Id, EngineRequest Engine) Parsed(string entry, Scenario scenario)
    {
        int at = entry.LastIndexOf('=');
        if (at <= 0 || at == entry.Length - 1)
        {
            throw new UsageException($"--engine-of is {Numbers.Shown(entry)}; it must be the id of an obstacle, an equals sign and one of {string.Join(", ", Choices.Words<EngineWord>())}.");
        }

        string id = entry[..at], word = entry[(at + 1)..];
        ImmutableArray<Obstacle> obstacles = scenario.Obstacles.Obstacles;
        if (obstacles.All(o => o.Id != id))
        {
            throw new UsageException(
                $"--engine-of names {Numbers.Shown(id)}; it must be an obstacle of the scenario{(NearestName.Of(id, obstacles.Select(o => o.Id)) is { } near ? $"; did you mean {near}?" : ".")}");
        }

        return Choices.TryFind(word, out EngineWord found)
            ? (id, Request(found))
            : throw new UsageException($"--engine-of {id} is {Numbers.Shown(word)}; it must be one of {string.Join(", ", Choices.Words<EngineWord>())}.");
    }

    private static EngineRequest Request(EngineWord word) => word switch
    {
        EngineWord.ClosedForms => EngineRequest.ClosedForm,
        EngineWord.SurfaceIntegral => EngineRequest.SurfaceIntegral,
        _ => EngineRequest.Suitable,
    };

    private enum EngineWord
    {
        Automatic,
        ClosedForms,
        SurfaceIntegral,
    }
}
