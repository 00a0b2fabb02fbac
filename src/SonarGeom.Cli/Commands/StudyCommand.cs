using System.CommandLine;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Output;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>The main job: a layout on a wearer becomes maps, verdicts, blind zones, a scene and a report.</summary>
internal sealed class StudyCommand : ToolCommand
{
    private readonly Argument<string?> _scenario = new("SCENARIO")
    {
        Arity = ArgumentArity.ZeroOrOne,
        Description = $"A scenario: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Scenarios)}. Without it {ShippedCatalogue.DefaultScenario}.",
    };

    private readonly OutputOption _output;

    private readonly Option<bool> _quiet = new("--quiet", "-q") { Description = "Shows no progress and no summary; faults are still told." };

    private readonly Option<bool> _json = new("--json") { Description = "Prints the answer as JSON in place of the summary." };

    private readonly EngineOptions _engines;

    private readonly BodyOptions _body;

    internal StudyCommand()
        : base(
            "sonargeom",
            "Says which hazards a body-worn 40 kHz sonar layout detects, how early it warns, what it misses and why. Without a command it "
            + "studies a scenario and writes maps, verdicts, blind zones, a scene and a report.",
            "harbour-promenade --output output/harbour")
    {
        Add(_scenario);
        _output = new OutputOption(this, "to write into", " and the name of the scenario");
        Add(_quiet);
        Add(_json);
        _engines = new EngineOptions(this);
        _body = new BodyOptions(this);
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        string name = line.GetValue(_scenario) ?? ShippedCatalogue.DefaultScenario;
        bool isQuiet = line.GetValue(_quiet);
        Inputs.AdviseOnCommand(name, Subcommands.Select(c => c.Name));
        LoadedScenario loaded = _body.Scenario(line, name);
        Scenario scenario = _engines.Applied(line, loaded.Scenario);
        string path = _output.PathOf(line, FileNames.Of(loaded.Scenario.Name));
        using OutputFolder folder = OutputFolder.Open(path);
        StudyReport report;
        using (var progress = new ProgressLine(session, isQuiet))
        {
            report = ScenarioStudy.Run(scenario, Inputs.Resources(_body.Tables(line)), progress, session.Cancellation);
            progress.Report(new("writing", 1));
            Task<IReadOnlyList<ReportFile>> pictures = Task.Run(() => StudyPictures.Of(report, loaded.Sha256));
            StudyFiles.Write(report, loaded.Sha256, folder);
            foreach (ReportFile file in pictures.GetAwaiter().GetResult())
            {
                folder.WriteBytes(file.Name, file.Bytes);
            }

            session.Cancellation.ThrowIfCancellationRequested();
        }

        folder.Commit();
        if (line.GetValue(_json))
        {
            JsonResult.Write(session.Output, "study_summary", loaded.Sha256, json =>
            {
                json.WriteString("folder", path);
                StudyJson.WriteSummary(json, report);
            });
        }
        else if (!isQuiet)
        {
            StudyText.WriteShort(session.Output, report);
            session.Output.WriteLine();
            session.Output.WriteLine($"Read {loaded.SourceNames.Length} files; wrote {folder.Names.Count} files to {path}; begin with {Path.Combine(path, "report.html")} or {Path.Combine(path, "report.txt")}.");
        }

        return report.AllRequirementsMet ? ExitCode.Done : ExitCode.RequirementFailed;
    }
}
