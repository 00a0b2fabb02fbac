using System.CommandLine;

namespace SonarGeom.Cli.Shell;

/// <summary>A command: its options, an example of its use, and what it does.</summary>
internal abstract class ToolCommand : Command
{
    private protected ToolCommand(string name, string description, string example)
        : base(name, description)
    {
        Example = example;

        // Tells the parser that the command can stand alone; the tool runs it by itself.
        SetAction(_ => { });
    }

    /// <summary>Gets a complete command line to try, without the name of the tool.</summary>
    internal string Example { get; }

    /// <summary>Runs the command; faults of the input are thrown.</summary>
    internal abstract ExitCode Run(ParseResult line, Session session);
}
