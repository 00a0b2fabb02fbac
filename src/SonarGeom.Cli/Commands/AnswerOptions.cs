using System.CommandLine;
using System.Text.Json;
using SonarGeom.Cli.Results;
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

    /// <summary>Refuses a command line that asks for two forms, before any work is done.</summary>
    /// <exception cref="UsageException">Both forms are asked for.</exception>
    internal void Check(ParseResult line) => _ = IsCsv(line);

    /// <summary>Prints the answer in the form asked for.</summary>
    /// <param name="line">The command line.</param>
    /// <param name="output">Takes it.</param>
    /// <param name="csv">Writes the table.</param>
    /// <param name="kind">What the answer is, for JSON.</param>
    /// <param name="inputsHash">Hash of the files read.</param>
    /// <param name="json">Writes the members of the JSON object.</param>
    /// <param name="text">Writes what people read.</param>
    internal void Print(
        ParseResult line, TextWriter output, Action<TextWriter> csv, string kind, string? inputsHash, Action<Utf8JsonWriter> json, Action<TextWriter> text)
    {
        if (IsCsv(line))
        {
            csv(output);
        }
        else if (IsJson(line))
        {
            JsonResult.Write(output, kind, inputsHash, json);
        }
        else
        {
            text(output);
        }
    }
}
