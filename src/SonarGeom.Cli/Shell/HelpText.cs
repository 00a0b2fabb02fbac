using System.CommandLine;
using SonarGeom.Cli.Results;

namespace SonarGeom.Cli.Shell;

/// <summary>Writes the help of a command: what it is for, how it is called, its options, an example.</summary>
internal static class HelpText
{
    private const int Width = 100;

    /// <summary>Writes the help.</summary>
    internal static void Write(ToolCommand command, IEnumerable<Option> everywhere, TextWriter output)
    {
        bool isRoot = !command.Parents.Any();
        WriteWrapped(output, command.Description ?? string.Empty, 0);
        output.WriteLine();
        string arguments = string.Concat(command.Arguments.Select(a => " " + Shape(a)));
        output.WriteLine("Usage:");
        output.WriteLine($"  sonargeom{(isRoot ? string.Empty : " " + NameOf(command))}{(command.Subcommands.Count > 0 && !isRoot ? " COMMAND" : arguments)} [options]");
        if (isRoot)
        {
            output.WriteLine("  sonargeom COMMAND [options]");
        }

        output.WriteLine();
        output.WriteLine("Example:");
        output.WriteLine($"  sonargeom {command.Example}".TrimEnd());
        WriteRows(output, "Arguments:", [.. command.Arguments.Select(a => (a.HelpName ?? a.Name, a.Description ?? string.Empty))]);
        WriteRows(output, "Commands:", [.. command.Subcommands.Select(c => (c.Name, FirstSentence(c.Description ?? string.Empty)))]);
        WriteRows(output, "Options:", [.. command.Options.Where(o => !o.Hidden).Concat(everywhere).Distinct().Select(o => (Shape(o), o.Description ?? string.Empty))]);
        if (isRoot)
        {
            output.WriteLine();
            output.WriteLine("Exit codes: 0 done; 1 done, and a stated requirement does not hold; 2 wrong input or command; 3 a fault of the tool.");
            output.WriteLine("Files and names: what ends in .json or .csv or holds a slash is a path; any other word is a name of the shipped catalogue.");
        }
    }

    /// <summary>Returns the name of a command with those of the commands that it belongs to.</summary>
    internal static string NameOf(Command command) =>
        command.Parents.OfType<Command>().FirstOrDefault(p => p.Parents.Any()) is { } group ? $"{NameOf(group)} {command.Name}" : command.Name;

    private static string Shape(Argument argument)
    {
        string name = argument.HelpName ?? argument.Name;
        return (argument.Arity.MinimumNumberOfValues, argument.Arity.MaximumNumberOfValues > 1) switch
        {
            (0, false) => $"[{name}]",
            (0, true) => $"[{name}...]",
            (_, true) => $"{name}...",
            _ => name,
        };
    }

    private static string Shape(Option option)
    {
        string names = string.Join(", ", ((IEnumerable<string>)[option.Name]).Concat(option.Aliases).OrderBy(n => n.Length));
        return option.Arity.MaximumNumberOfValues == 0 || option.ValueType == typeof(bool) ? names : $"{names} {option.HelpName ?? "VALUE"}";
    }

    private static string FirstSentence(string text)
    {
        int end = text.IndexOf(". ", StringComparison.Ordinal);
        return end < 0 ? text : text[..(end + 1)];
    }

    private static void WriteRows(TextWriter output, string title, (string Name, string Text)[] rows)
    {
        if (rows.Length == 0)
        {
            return;
        }

        output.WriteLine();
        output.WriteLine(title);
        int indent = Math.Min(30, rows.Max(r => r.Name.Length)) + 4;
        foreach ((string name, string text) in rows)
        {
            output.Write($"  {name}");
            if (name.Length + 2 > indent - 2)
            {
                output.WriteLine();
                output.Write(new string(' ', indent));
            }
            else
            {
                output.Write(new string(' ', indent - name.Length - 2));
            }

            WriteWrapped(output, text, indent);
        }
    }

    private static void WriteWrapped(TextWriter output, string text, int indent) => output.WriteLine(Wrapping.Fold(text, Width, indent));
}
