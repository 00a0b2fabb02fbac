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

    private readonly OutputOption _output;

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
        _output = new OutputOption(this, "for the picture (PNG, SVG) and its curves (CSV)", "trace- and the names of the sensor and the obstacle");
        _answer = new AnswerOptions(this, "the curves");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
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
        string path = _output.PathOf(line, $"trace-{FileNames.Of(name)}-{FileNames.Of(id)}");
        using OutputFolder folder = OutputFolder.Open(path);
        LevelTrace trace = stage.Trace(sensor, phase, stage.WalkerXMetres(obstacle, distance), line.GetValue(_integral));
        TraceReading? reading = TraceStage.Reading(trace, scenario.Device);
        double phasePercent = 100.0 * phase / posed.PhaseCount;
        string subject = $"What {name} hears {distance:0.00} m before {id}";
        LineFigure figure = TraceFigures.Of(trace, reading, subject, phasePercent, scenario.Device);
        string stem = $"trace-{FileNames.Of(name)}-{FileNames.Of(id)}-{distance:0.00}m";
        FigureFiles.Write(folder, stem, figure);
        TraceTables.Samples.WriteCsv(folder, $"{stem}.csv", TraceTables.SamplesOf(trace));

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => TraceTables.Samples.WriteCsv(output, TraceTables.SamplesOf(trace)),
            "level_trace",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("sensor", name);
                json.WriteString("obstacle", id);
                json.WriteNumber("distance_m", Math.Round(distance, 3));
                json.WriteNumber("stride_phase_percent", phasePercent);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("assumed_us_cm", scenario.Device.AssumedMicrosecondsPerCentimetre);
                ReadingTables.Reading.WriteMembers(json, new(trace, reading));
                WithheldTables.All.WriteArray(json, "withheld", stage.Withheld(sensor));
                LeftOut.WriteArray(json, scenario.Obstacles.Obstacles);
                TraceTables.Sources.WriteArray(json, "sources", TraceTables.Audible(trace));
            },
            output =>
            {
                output.WriteLine($"{subject}, at {phasePercent:0.#} % of the stride; {scenario.Layout.Name} on {wearer.Name}");
                output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
                output.WriteLine(
                    $"Dead zone to {trace.DeadZoneMetres:0.00} m, listening to {trace.WindowRangeMetres:0.00} m, noise {trace.NoiseDecibels:0.#} dB re 20 µPa.");
                output.WriteLine();
                TraceTables.Sources.WriteText(output, TraceTables.Audible(trace));
                output.WriteLine();
                WithheldTables.WriteText(output, stage.Withheld(sensor));
                LeftOut.WriteText(output, scenario.Obstacles.Obstacles);
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }
}
