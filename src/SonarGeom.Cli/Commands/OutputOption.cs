using System.CommandLine;

namespace SonarGeom.Cli.Commands;

/// <summary>The folder that a command writes into, with a usual one under <c>output</c>.</summary>
internal sealed class OutputOption
{
    private readonly Option<string?> _option;

    /// <summary>Adds the option to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="holds">What goes into the folder, as it follows "The folder ".</param>
    /// <param name="usual">The usual folder, as it follows "Without it output/".</param>
    internal OutputOption(Command command, string holds, string usual)
    {
        _option = new("--output", "-o") { Description = $"The folder {holds}. Without it output/{usual}.", HelpName = "FOLDER" };
        command.Add(_option);
    }

    /// <summary>Returns the path of the folder.</summary>
    internal string PathOf(ParseResult line, string usual) => line.GetValue(_option) ?? Path.Combine("output", usual);
}
