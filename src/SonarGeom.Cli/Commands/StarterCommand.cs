using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Shell;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Commands;

/// <summary>Writes the shipped files as a folder to edit.</summary>
internal sealed class StarterCommand : ToolCommand
{
    private readonly Argument<string> _folder = new("FOLDER") { Description = "The folder to write; it need not exist." };

    private readonly Option<bool> _replace = new("--replace") { Description = "Replaces files that are there already." };

    internal StarterCommand()
        : base(
            "starter",
            "Writes an editable starter folder: scenarios, layouts, transducers, wearers, probes, sets of obstacles, body tables and schemas. "
            + "Change what you like and study it by its path.",
            "starter my-study")
    {
        Add(_folder);
        Add(_replace);
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        string folder = line.GetRequiredValue(_folder);
        ImmutableArray<string> names;
        try
        {
            names = StarterKit.Write(folder, line.GetValue(_replace));
        }
        catch (InvalidInputException invalid)
        {
            throw new InvalidInputException(
                [.. invalid.Faults.Select(f => f with { Message = f.Message.Replace("ask for them to be replaced", "give --replace", StringComparison.Ordinal) })]);
        }

        session.Output.WriteLine($"Wrote {names.Length} files to {folder}. Next:");
        session.Output.WriteLine($"  sonargeom {Path.Combine(folder, StarterKit.MainScenario)}");
        return ExitCode.Done;
    }
}
