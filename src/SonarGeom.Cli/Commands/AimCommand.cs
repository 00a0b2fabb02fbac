using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Turns one sensor degree by degree while the maps of all probes follow.</summary>
internal sealed class AimCommand : ToolCommand
{
    private const double DefaultSpanDegrees = 10;
    private const int MostTilts = 400;

    private readonly ScenarioOptions _scenario;

    private readonly Option<string?> _sensor = new("--sensor") { Description = "The name of the sensor that turns. Without it the layout's first.", HelpName = "NAME" };
    private readonly Option<double?> _from = Numbers.Option("--from-deg", -90, 90, "The first tilt, positive up. Without it 10° below the mount. [°]");
    private readonly Option<double?> _to = Numbers.Option("--to-deg", -90, 90, "The last tilt. Without it 10° above the mount. [°]");
    private readonly Option<double?> _step = Numbers.Option("--step-deg", 0.1, 30, "From one tilt to the next. Without it 1; up to 3 the maps follow at once. [°]");
    private readonly Option<double?> _cell = Numbers.Option("--cell-m", 0.005, 0.2, "The edge of a cell. Without it as the scenario says. [m]");

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal AimCommand()
        : base(
            "aim",
            "Turns one sensor up and down degree by degree and tells, tilt by tilt, what share of every height band the whole layout warns of in time, for "
            + "every probe of the scenario, and whether the sensor hears the bare floor. Each share is that of a full map.",
            "aim harbour-promenade --sensor belt --from-deg -25 --to-deg 0")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        Add(_sensor);
        Add(_from);
        Add(_to);
        Add(_step);
        Add(_cell);
        _output = new OutputOption(this, "for the pictures (PNG, SVG) and the table (CSV)", "aim- and the name of the sensor");
        _answer = new AnswerOptions(this, "the table");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        int sensor = line.GetValue(_sensor) is { } named ? SensorNames.IndexOf(named, scenario.Layout) : 0;
        string name = scenario.Layout.Sensors[sensor].Name;
        double mounted = Math.Round(scenario.Layout.Sensors[sensor].Mount.Tilt.Degrees, 9);
        double[] tilts = Tilts(line, mounted);
        MapSettings settings = scenario.Maps with { CellMetres = line.GetValue(_cell) ?? scenario.Maps.CellMetres };
        string path = _output.PathOf(line, $"aim-{FileNames.Of(name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        var points = new List<AimPoint>();
        using (var progress = new ProgressLine(session, isQuiet: false))
        {
            foreach (AimPoint point in AimStudy.Of(posed, sensor, scenario.Probes, scenario.Walk, settings, tilts, session.Cancellation))
            {
                points.Add(point);
                progress.Report(new StudyProgress($"{name} at {FigureWords.Tilt(point.TiltDegrees)}", (double)points.Count / (tilts.Length * scenario.Probes.Length)));
            }
        }

        string footnote = $"{scenario.Layout.Name} on {wearer.Name}, all sensors; cells of {settings.CellMetres * 1000:0} mm; every point a full map over the stride.";
        foreach (HeightBand band in FigureWords.Bands)
        {
            FigureFiles.Write(folder, $"aim-{Words.Code(band)}", AimFigures.Band(points, name, mounted, band, footnote));
        }

        AimTables.Points.WriteCsv(folder, "aim.csv", points);
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => AimTables.Points.WriteCsv(output, points),
            "aim",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("sensor", name);
                json.WriteNumber("mounted_tilt_deg", Math.Round(mounted, 6));
                AimTables.Points.WriteArray(json, "tilts", points);
            },
            output =>
            {
                output.WriteLine($"{name} of {scenario.Layout.Name} on {wearer.Name}: shares of the silhouette warned in time by all sensors together, tilt by tilt");
                output.WriteLine(Wrapping.Fold(AimFigures.Finding(points, mounted, HeightBand.Head), 100, 0));
                output.WriteLine();
                AimTables.Points.WriteText(output, points);
                output.WriteLine();
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }

    private double[] Tilts(ParseResult line, double mountedDegrees)
    {
        double from = line.GetValue(_from) ?? Math.Max(-90, mountedDegrees - DefaultSpanDegrees), to = line.GetValue(_to) ?? Math.Min(90, mountedDegrees + DefaultSpanDegrees);
        double step = line.GetValue(_step) ?? 1;
        if (from >= to)
        {
            throw new UsageException(
                $"--from-deg is {Numbers.Text(from)}{Unless(_from)}; it must be below --to-deg, which is {Numbers.Text(to)}{Unless(_to)}.");
        }

        int count = (int)Math.Floor(((to - from) / step) + 1e-9) + 1;
        return count <= MostTilts
            ? [.. Enumerable.Range(0, count).Select(i => from + (i * step))]
            : throw new UsageException($"--step-deg is {Numbers.Text(step)}, which makes {count} tilts; it must leave at most {MostTilts}.");

        // What was not given is counted from the mount.
        string Unless(Option<double?> option) => line.GetValue(option) is null ? " unless given" : string.Empty;
    }
}
