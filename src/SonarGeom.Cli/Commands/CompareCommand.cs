using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Output;
using SonarGeom.Layouts;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Puts two or more layouts side by side on one scenario.</summary>
internal sealed class CompareCommand : ToolCommand
{
    private readonly Argument<string[]> _layouts = new("LAYOUT")
    {
        Arity = ArgumentArity.ZeroOrMore,
        Description = $"Layouts: paths of files, or of {string.Join(", ", ShippedCatalogue.Layouts)}. The first is the reference. "
            + "One alone is compared with the scenario's own; none: the scenario's own with those it names to compare.",
    };

    private readonly Option<string?> _scenario = new("--scenario")
    {
        Description = $"The scenario: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Scenarios)}. Without it {ShippedCatalogue.DefaultScenario}.",
        HelpName = "SCENARIO",
    };

    private readonly OutputOption _output;

    private readonly Option<bool> _quiet = new("--quiet", "-q") { Description = "Shows no progress." };
    private readonly BodyOptions _body;
    private readonly AnswerOptions _answer;

    internal CompareCommand()
        : base(
            "compare",
            "Compares two or more layouts on one scenario: side by side for each height band and each obstacle, with difference maps on one scale against the first.",
            "compare brow-chest-belt single-chest belt-fan --scenario tram-platform")
    {
        Add(_layouts);
        Add(_scenario);
        _output = new OutputOption(this, "to write into", "compare- and the name of the scenario");
        Add(_quiet);
        _body = new BodyOptions(this);
        _answer = new AnswerOptions(this, "the shares of the bands");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _body.Scenario(line, line.GetValue(_scenario) ?? ShippedCatalogue.DefaultScenario);
        BodyTables tables = _body.Tables(line);
        ImmutableArray<SensorLayout> layouts = Layouts(line.GetValue(_layouts) ?? [], loaded.Scenario, tables);
        string path = _output.PathOf(line, $"compare-{FileNames.Of(loaded.Scenario.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        LayoutComparison comparison;
        using (var progress = new ProgressLine(session, line.GetValue(_quiet)))
        {
            comparison = LayoutComparison.Run(loaded.Scenario, layouts, Inputs.Resources(tables), progress, session.Cancellation);
            progress.Report(new("writing", 1));
            PosedLayout posed = ScenarioStudy.Pose(loaded.Scenario with { Layout = layouts[0] }, loaded.Scenario.MainWearer, tables);
            CompareTables.Write(comparison, posed, loaded.Sha256, folder);
            session.Cancellation.ThrowIfCancellationRequested();
        }

        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => CompareTables.WriteBandsCsv(output, comparison),
            "comparison",
            loaded.Sha256,
            json => CompareTables.Write(json, comparison),
            output =>
            {
                CompareTables.WriteText(output, comparison);
                output.WriteLine();
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}; begin with {Path.Combine(path, "compare.html")} or {Path.Combine(path, "report.txt")}.");
            });
        return ExitCode.Done;
    }

    private static ImmutableArray<SensorLayout> Layouts(string[] names, Scenario scenario, BodyTables tables)
    {
        ImmutableArray<SensorLayout> given = [.. names.Select(n => Inputs.LayoutFor(scenario, tables, n))];
        ImmutableArray<SensorLayout> all = given.Length switch
        {
            0 => [scenario.Layout, .. scenario.CompareLayouts],
            1 => [scenario.Layout, .. given],
            _ => given,
        };
        if (all.Length < 2)
        {
            throw new UsageException("compare needs at least two layouts; the scenario names none to compare with.");
        }

        return all.GroupBy(l => l.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice
            ? throw new UsageException($"Two of the layouts are named {twice.Key}; a comparison needs layouts of different names.")
            : all;
    }
}
