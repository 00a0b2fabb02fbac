using System.CommandLine;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Commands;

/// <summary>How an answer is printed: for people unless asked otherwise.</summary>
internal sealed class AnswerOptions
{
    private readonly Option<bool> _json = new("--json") { Description = "Prints the answer as JSON." };

    private readonly Option<bool>? _csv;

    internal AnswerOptions(Command command, string? csvTable = null)
    {
        command.Add(_json);
        if (csvTable is not null)
        {
            _csv = new Option<bool>("--csv") { Description = $"Prints {csvTable} as comma-separated values." };
            command.Add(_csv);
        }
    }

    /// <summary>Whether JSON is asked for.</summary>
    internal bool IsJson(ParseResult line) => line.GetValue(_json);

    /// <summary>Whether comma-separated values are asked for.</summary>
    /// <exception cref="UsageException">Both forms are asked for.</exception>
    internal bool IsCsv(ParseResult line)
    {
        bool csv = _csv is not null && line.GetValue(_csv);
        return csv && IsJson(line) ? throw new UsageException("--json and --csv cannot be asked for together; choose one.") : csv;
    }
}
