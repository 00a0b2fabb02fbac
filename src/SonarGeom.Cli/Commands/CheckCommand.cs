using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Commands;

/// <summary>Reads files and tells all their faults, without computing anything.</summary>
internal sealed class CheckCommand : ToolCommand
{
    private static readonly ResultTable<CheckedFile> Files = new(
        new("file", "file", f => Cell.Of(f.Name)),
        new("kind", "kind", f => Cell.Of(f.Kind)),
        new("summary", "what it holds", f => Cell.Of(f.Summary)));

    private static readonly ResultTable<Fault> Faults = new(
        new("file", "file", f => Cell.Of(f.File)),
        new("line", "line", f => f.Line is { } line ? Cell.Of(line) : default),
        new("column", "column", f => f.Column is { } column ? Cell.Of(column) : default),
        new("field", "field", f => Cell.Of(f.Field)),
        new("message", "message", f => Cell.Of(f.Message)));

    private readonly Argument<string[]> _files = new("FILE")
    {
        Arity = ArgumentArity.OneOrMore,
        Description = "Files of any kind: scenarios, layouts, transducers, wearers, probes (JSON), obstacles, poses, polar tables, field tests (CSV).",
    };

    private readonly BodyOptions _body;
    private readonly AnswerOptions _answer;

    internal CheckCommand()
        : base(
            "check",
            "Checks input files and everything they refer to, without computing. Each fault is told with file, line and column, the value and what is allowed.",
            "check scenarios/harbour-promenade.json obstacles/harbour-promenade.csv")
    {
        Add(_files);
        _body = new BodyOptions(this);
        _answer = new AnswerOptions(this);
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        var good = ImmutableArray.CreateBuilder<CheckedFile>();
        var faults = ImmutableArray.CreateBuilder<Fault>();
        BodyTables tables = _body.Tables(line);
        foreach (string file in line.GetRequiredValue(_files))
        {
            try
            {
                good.Add(InputFiles.Check(file, tables));
            }
            catch (InvalidInputException invalid)
            {
                faults.AddRange(invalid.Faults.Where(f => !faults.Contains(f)));
            }

            session.Cancellation.ThrowIfCancellationRequested();
        }

        if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "check", null, json =>
            {
                Files.WriteArray(json, "files", good);
                Faults.WriteArray(json, "faults", faults);
            });
        }
        else
        {
            foreach (CheckedFile file in good)
            {
                session.Output.WriteLine($"{file.Name}: good {file.Kind}, {file.Summary}");
            }
        }

        foreach (Fault fault in faults)
        {
            session.Error.WriteLine(fault);
        }

        return faults.Count == 0 ? ExitCode.Done : ExitCode.BadInput;
    }
}
