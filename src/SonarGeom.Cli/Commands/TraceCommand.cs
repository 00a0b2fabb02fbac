using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Shows what one receiver hears after one burst: level against range with every source labelled.</summary>
internal sealed class TraceCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly SceneOptions _scene;
    private readonly Option<double?> _distance = Numbers.Option(
        "--distance-m", 0, 20, "Distance from the body to that obstacle along the path. Without it the last distance at which a warning is in time. [m]");

    private readonly Option<double?> _phase = Numbers.Option("--phase-percent", 0, 100, "The moment of the stride from heel strike to heel strike. Without it 0. [%]");

    private readonly Option<bool> _integral = new("--integral")
    {
        Description = "Computes parts that have a surface by surface integral, so that each point of them arrives in its own time.",
    };

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "The folder for the picture (PNG, SVG) and its curves (CSV). Without it output/trace- and the names of the sensor and the obstacle.",
        HelpName = "FOLDER",
    };

    private readonly AnswerOptions _answer;

    internal TraceCommand()
        : base(
            "trace",
            "Shows what one receiver hears after one burst: level against range of every obstacle, the floor and the wearer's own limbs, with threshold, noise "
            + "and dead zone, the first crossing, the range that the device reports and its error.",
            "trace harbour-promenade --obstacle low-branch --sensor brow --distance-m 1.5 --phase-percent 25")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        _scene = new SceneOptions(this);
        Add(_distance);
        Add(_phase);
        Add(_integral);
        Add(_output);
        _answer = new AnswerOptions(this, "the curves");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        bool isCsv = _answer.IsCsv(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        int obstacle = _scene.Obstacle(line, scenario);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        double distance = line.GetValue(_distance) ?? SceneOptions.NeedMetres(scenario, obstacle);
        int phase = (int)Math.Round((line.GetValue(_phase) ?? 0) / 100 * posed.PhaseCount) % posed.PhaseCount;
        TraceStage stage = TraceStage.Of(posed, scenario.Obstacles);
        int sensor = _scene.Sensor(line, stage, obstacle, distance, phase);
        string id = scenario.Obstacles.Obstacles[obstacle].Id, name = posed.Layout.Sensors[sensor].Name;
        string path = line.GetValue(_output) ?? Path.Combine("output", $"trace-{FileNames.Of(name)}-{FileNames.Of(id)}");
        using OutputFolder folder = OutputFolder.Open(path);
        LevelTrace trace = stage.Trace(sensor, phase, stage.WalkerXMetres(obstacle, distance), line.GetValue(_integral));
        TraceReading? reading = TraceStage.Reading(trace, scenario.Device);
        double phasePercent = 100.0 * phase / posed.PhaseCount;
        string subject = $"What {name} hears {distance:0.00} m before {id}";
        LineFigure figure = TraceFigures.Of(trace, reading, subject, phasePercent, scenario.Device);
        string stem = $"trace-{FileNames.Of(name)}-{FileNames.Of(id)}-{distance:0.00}m";
        FigureFiles.Write(folder, stem, figure);
        using (Stream curves = folder.Create($"{stem}.csv"))
        {
            TraceTables.Samples.WriteCsv(curves, TraceTables.SamplesOf(trace));
        }

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        if (isCsv)
        {
            TraceTables.Samples.WriteCsv(session.Output, TraceTables.SamplesOf(trace));
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "level_trace", loaded.Sha256, json =>
            {
                json.WriteString("scenario", scenario.Name);
                json.WriteString("layout", scenario.Layout.Name);
                json.WriteString("wearer", wearer.Name);
                json.WriteString("sensor", name);
                json.WriteString("obstacle", id);
                json.WriteNumber("distance_m", Math.Round(distance, 3));
                json.WriteNumber("stride_phase_percent", phasePercent);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("assumed_us_cm", scenario.Device.AssumedMicrosecondsPerCentimetre);
                ReadingTables.Reading.WriteMembers(json, new(trace, reading));
                WithheldTables.All.WriteArray(json, "withheld", stage.Withheld(sensor));
                TraceTables.Sources.WriteArray(json, "sources", TraceTables.Audible(trace));
            });
        }
        else
        {
            session.Output.WriteLine($"{subject}, at {phasePercent:0.#} % of the stride; {scenario.Layout.Name} on {wearer.Name}");
            session.Output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
            session.Output.WriteLine(
                $"Dead zone to {trace.DeadZoneMetres:0.00} m, listening to {trace.WindowRangeMetres:0.00} m, noise {trace.NoiseDecibels:0.#} dB re 20 µPa.");
            session.Output.WriteLine();
            TraceTables.Sources.WriteText(session.Output, TraceTables.Audible(trace));
            session.Output.WriteLine();
            WithheldTables.WriteText(session.Output, stage.Withheld(sensor));
            session.Output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
        }

        return ExitCode.Done;
    }
}
