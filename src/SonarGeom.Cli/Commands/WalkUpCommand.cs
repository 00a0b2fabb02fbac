using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Shows what one receiver hears on the way to an obstacle: one track for each object.</summary>
internal sealed class WalkUpCommand : ToolCommand
{
    private const double UsualFromMetres = 3.5;
    private const double UsualToMetres = 0.1;
    private const double UsualStepMetres = 0.1;

    private readonly ScenarioOptions _scenario;
    private readonly SceneOptions _scene;
    private readonly Option<double?> _from = Numbers.Option("--from-m", 0.1, 20, "Distance from the body at which the walk begins. Without it 3.5. [m]");
    private readonly Option<double?> _to = Numbers.Option("--to-m", 0, 19, "Distance from the body at which it ends. Without it 0.1. [m]");
    private readonly Option<double?> _step = Numbers.Option("--step-m", 0.02, 1, "Distance between two looks. Without it 0.1. [m]");

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal WalkUpCommand()
        : base(
            "walk-up",
            "Walks up to an obstacle with one receiver: a labelled track for each obstacle, the floor and each own limb, with the stretches in which it crosses "
            + "the threshold over the stride, and whether the device reports it or another echo first.",
            "walk-up harbour-promenade --obstacle kerb-to-pier --sensor belt --from-m 3")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        _scene = new SceneOptions(this);
        Add(_from);
        Add(_to);
        Add(_step);
        _output = new OutputOption(this, "for the picture (PNG, SVG) and its tracks (CSV)", "walk-up- and the names of the sensor and the obstacle");
        _answer = new AnswerOptions(this, "the tracks, one row for each object and distance,");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        double from = line.GetValue(_from) ?? UsualFromMetres, to = line.GetValue(_to) ?? UsualToMetres, step = line.GetValue(_step) ?? UsualStepMetres;
        if (to > from)
        {
            throw new UsageException($"--to-m is {to}; it must not be above --from-m, which is {from}.");
        }

        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        int obstacle = _scene.Obstacle(line, scenario);
        double need = SceneOptions.NeedMetres(scenario, obstacle), share = scenario.Walk.ReliableShare;
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        TraceStage stage = TraceStage.Of(posed, scenario.Obstacles);
        int sensor = _scene.Sensor(line, stage, obstacle, need, 0);
        string id = scenario.Obstacles.Obstacles[obstacle].Id, name = posed.Layout.Sensors[sensor].Name;
        string path = _output.PathOf(line, $"walk-up-{FileNames.Of(name)}-{FileNames.Of(id)}");
        using OutputFolder folder = OutputFolder.Open(path);
        WalkUp walk = WalkUp.Of(stage, sensor, obstacle, from, to, step, session.Cancellation);
        TimelineFigure figure = WalkUpFigures.Of(walk, need, share, FigureWords.Conditions(PartialStudy.Of(scenario, wearer, posed)));
        string stem = $"walk-up-{FileNames.Of(name)}-{FileNames.Of(id)}";
        FigureFiles.Write(folder, stem, figure);
        WalkUpTables.Points.WriteCsv(folder, $"{stem}.csv", WalkUpTables.Rows(walk));

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        WalkUpSummary[] summaries = [.. WalkUpTables.Told(walk).Select(t => new WalkUpSummary(t, share))];
        _answer.Print(
            line,
            session.Output,
            output => WalkUpTables.Points.WriteCsv(output, WalkUpTables.Rows(walk)),
            "walk_up",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("sensor", name);
                json.WriteString("obstacle", id);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("last_useful_distance_m", Math.Round(need, 3));
                json.WriteNumber("reliable_share_percent", Math.Round(share * 100, 1));
                WithheldTables.All.WriteArray(json, "withheld", stage.Withheld(sensor));
                LeftOut.WriteArray(json, scenario.Obstacles.Obstacles);
                WalkUpTables.Tracks.WriteArray(json, "tracks", summaries);
                WalkUpTables.Points.WriteArray(json, "points", WalkUpTables.Rows(walk));
            },
            output =>
            {
                output.WriteLine($"{figure.Title}; {scenario.Layout.Name} on {wearer.Name}");
                output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
                output.WriteLine();
                WalkUpTables.Tracks.WriteText(output, summaries);
                output.WriteLine();
                WithheldTables.WriteText(output, stage.Withheld(sensor));
                LeftOut.WriteText(output, scenario.Obstacles.Obstacles);
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }
}
