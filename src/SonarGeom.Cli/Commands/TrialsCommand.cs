using System.Collections.Immutable;
using System.CommandLine;
using System.Security.Cryptography;
using System.Text;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Output;
using SonarGeom.Layouts;
using SonarGeom.Studies;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Commands;

/// <summary>Walks the wearer through the obstacles many times and counts what is warned of, missed and alerted for nothing.</summary>
internal sealed class TrialsCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly TrialOptions _trials;

    private readonly Option<string[]> _compare = new("--compare")
    {
        Description = $"A layout that takes the same walks: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Layouts)}. May be given again.",
        HelpName = "LAYOUT",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<int?> _show = Numbers.WholeOption("--show-walk", 0, 999_999, "The number of the walk that is drawn alert by alert. Without it 0.");

    private readonly OutputOption _output;

    private readonly Option<bool> _fresh = new("--fresh") { Description = "Begins anew, although the same trials were stopped half way." };
    private readonly Option<bool> _quiet = new("--quiet", "-q") { Description = "Shows no progress." };
    private readonly AnswerOptions _answer;

    internal TrialsCommand()
        : base(
            "trials",
            "Predicts trials: walks the wearer through the obstacles many times with drawn stride phases, speeds, straying, postures, mounts and weather, ping by ping. "
            + "Tells for each obstacle the chance of an alert in time with its interval, how early it comes, how often it tells the wrong side and why it is missed, "
            + "false alerts by cause, and alerts where there is nothing to hit. Trials that are stopped go on where they were when the same command is given again.",
            "trials harbour-promenade --walks 500 --compare single-chest")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        Add(_compare);
        _trials = new TrialOptions(this);
        Add(_show);
        _output = new OutputOption(this, "for tables (CSV, JSON), pictures (PNG, SVG) and the report", "trials- and the name of the scenario");
        Add(_fresh);
        Add(_quiet);
        _answer = new AnswerOptions(this, "the obstacles");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        BodyTables tables = _scenario.Tables(line);
        TrialSettings settings = _trials.Read(line);
        int shown = line.GetValue(_show) ?? 0;
        if (shown >= settings.Walks)
        {
            throw new UsageException($"--show-walk is {shown}; it must be below the number of walks, which is {settings.Walks}, since walks are counted from 0.");
        }

        string[] others = line.GetValue(_compare) ?? [];
        ImmutableArray<SensorLayout> layouts = [scenario.Layout, .. others.Select(n => Inputs.LayoutFor(scenario, tables, n))];
        if (layouts.GroupBy(l => l.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new UsageException($"Two of the layouts are named {twice.Key}; trials need layouts of different names.");
        }

        if (TrialStudy.TooCoarse(scenario) is [string first, ..])
        {
            throw new UsageException(first);
        }

        string path = _output.PathOf(line, $"trials-{FileNames.Of(scenario.Name)}");
        TrialCourse course = TrialStudy.CourseOf(scenario, wearer, tables, settings);
        using OutputFolder folder = OutputFolder.Open(path);
        string keptAt = $"{Path.TrimEndingDirectorySeparator(path)}.in-work";
        if (line.GetValue(_fresh))
        {
            File.Delete(keptAt);
        }

        using var work = TrialsInWork.Open(keptAt, Key(loaded.Sha256, wearer, settings, layouts));
        TrialReport? report = Walked(course, layouts, work, session, line.GetValue(_quiet));
        if (report is null)
        {
            session.Error.WriteLine($"sonargeom: Stopped; {work.DoneCount} of {settings.Outings} outings are kept in {keptAt}, and the same command goes on from there.");
            return ExitCode.Stopped;
        }

        string conditions = $"Scenario {scenario.Name}, wearer {wearer.Name}, obstacles {scenario.Obstacles.Name}.";
        TrialTables.Write(folder, report, scenario, loaded.Sha256);
        FigureFiles.Write(folder, "convergence", TrialFigures.Convergence(report, conditions));
        foreach (SensorLayout layout in layouts)
        {
            FigureFiles.Write(folder, $"walk-{shown}-{FileNames.Of(layout.Name)}", TrialFigures.Timeline(WalkRecord.Of(course, layout, shown), conditions));
        }

        using (var text = new StreamWriter(folder.Create("report.txt")))
        {
            text.NewLine = "\n";
            TrialText.Write(text, report, scenario);
            TrialText.WriteGrounds(text, report);
        }

        folder.Commit();
        work.Remove();
        _answer.Print(
            line,
            session.Output,
            output => TrialTables.Obstacles.WriteCsv(output, TrialTables.ObstacleRows(report)),
            "trials",
            loaded.Sha256,
            json => TrialTables.Write(json, report, scenario),
            output =>
            {
                TrialText.Write(output, report, scenario);
                output.WriteLine();
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}; begin with {Path.Combine(path, "report.txt")}.");
            });
        return ExitCode.Done;
    }

    // Null when the user has stopped it: what was finished is kept.
    private static TrialReport? Walked(TrialCourse course, ImmutableArray<SensorLayout> layouts, TrialsInWork work, Session session, bool isQuiet)
    {
        using var progress = new ProgressLine(session, isQuiet);
        int outings = course.Settings.Outings, done = work.Done.Count;
        try
        {
            return TrialEngine.Run(course, layouts, work.Done, tally =>
            {
                work.Keep(tally);
                done++;
                progress.Report(new StudyProgress($"{done} of {outings} outings walked", (double)done / outings));
            }, Environment.ProcessorCount, session.Cancellation);
        }
        catch (Exception stopped) when (session.Cancellation.IsCancellationRequested && stopped is OperationCanceledException or AggregateException)
        {
            return null;
        }
    }

    // Everything on which the tallies hinge.
    private static string Key(string inputsHash, WearerSpec wearer, TrialSettings settings, ImmutableArray<SensorLayout> layouts)
    {
        string all = $"{Tool.Version} {typeof(TrialEngine).Assembly.ManifestModule.ModuleVersionId} {inputsHash} {wearer.Name} {TrialOptions.Key(settings)} "
            + string.Join(' ', layouts.Select(LayoutPrint.Of));
        return $"sonargeom trials {Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(all)))}";
    }
}
