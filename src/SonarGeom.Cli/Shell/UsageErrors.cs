using System.CommandLine;
using System.CommandLine.Parsing;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Shell;

/// <summary>Says in one sentence what is wrong with a command line.</summary>
internal static class UsageErrors
{
    /// <summary>Returns the sentence, or null when nothing is wrong.</summary>
    internal static string? Of(ParseResult line)
    {
        Command command = line.CommandResult.Command;
        if (UnknownOption(line) is { } option)
        {
            string[] known = [.. Options(line).SelectMany(o => (IEnumerable<string>)[o.Name, .. o.Aliases]).Where(n => n.StartsWith("--", StringComparison.Ordinal))];
            string near = NearestName.Of(option.TrimStart('-'), known.Select(k => k[2..])) is { } name ? $"did you mean --{name}?" : $"{Call(command)} --help lists them.";
            return $"There is no option {Numbers.Shown(option)} here; {near}";
        }

        if (line.UnmatchedTokens is [string word, ..])
        {
            // A misspelt command is taken for the scenario, and its own first argument is then the word too many.
            string[] commands = [.. command.Subcommands.Select(c => c.Name)];
            foreach (string said in line.Tokens.Where(t => t.Type == TokenType.Argument).Select(t => t.Value).Take(1).Append(word))
            {
                if (NearestName.Of(said, commands) is { } near)
                {
                    return $"There is no command {Numbers.Shown(said)}; did you mean {near}?";
                }
            }

            return $"{Numbers.Shown(word)} is one word too many; {Call(command)} --help shows what may stand there.";
        }

        return line.Errors is [ParseError first, ..] ? Own(first, command) : null;
    }

    private static string Own(ParseError error, Command command) => error.SymbolResult switch
    {
        // Sentences of our own parsers stand; those of the library are put into the tool's words.
        OptionResult option when option.Tokens.Count == 0 => $"The option {option.Option.Name} needs a value; {Call(command)} --help says which.",
        OptionResult option when option.Tokens.Count > 1 && option.Option.Arity.MaximumNumberOfValues == 1 => $"The option {option.Option.Name} is given more than once.",
        ArgumentResult argument when argument.Tokens.Count < argument.Argument.Arity.MinimumNumberOfValues =>
            $"{HelpText.NameOf(command)} needs {argument.Argument.HelpName ?? argument.Argument.Name}; for example: sonargeom {((command as ToolCommand)?.Example ?? "--help")}",
        _ => FirstLine(error.Message),
    };

    private static string FirstLine(string text) => text.Split('\n')[0].TrimEnd();

    private static string Call(Command command) => !command.Parents.Any() ? "sonargeom" : $"sonargeom {HelpText.NameOf(command)}";

    private static IEnumerable<Option> Options(ParseResult line)
    {
        for (SymbolResult? at = line.CommandResult; at is CommandResult { Command: var c }; at = at.Parent)
        {
            foreach (Option option in c.Options.Where(o => ReferenceEquals(at, line.CommandResult) || o.Recursive))
            {
                yield return option;
            }
        }
    }

    // What looks like an option and is none would else be taken for the value of an argument.
    private static string? UnknownOption(ParseResult line)
    {
        foreach (Token token in line.Tokens)
        {
            if (token.Type == TokenType.DoubleDash)
            {
                return null;
            }

            if (token.Type == TokenType.Argument && token.Value.Length > 1 && token.Value[0] == '-'
                && !token.Value.Split(',').All(p => Numbers.TryParse(p, out _)) && token.Value is not ("-inf" or "-Infinity" or "-NaN"))
            {
                return token.Value.Split('=')[0];
            }
        }

        return null;
    }
}
