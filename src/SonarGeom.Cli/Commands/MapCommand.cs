using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
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

/// <summary>Draws one approach map for any probe and any wearer of a scenario.</summary>
internal sealed class MapCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly Option<double?> _cell = Numbers.Option("--cell-m", 0.005, 0.2, "The edge of a cell. Without it as the scenario says. [m]");

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal MapCommand()
        : base(
            "map",
            "Draws one approach map: the warning time left in each cell of the wearer's silhouette when the probe comes straight on. Tells the shares of the "
            + "height bands and every blind zone in words.",
            "map tram-platform --probe branch-slanting --wearer tall-man --cell-m 0.01")
    {
        _scenario = new ScenarioOptions(this);
        Add(_cell);
        _output = new OutputOption(this, "for the picture (PNG, SVG) and its grid (CSV)", "map- and the name of the probe");
        _answer = new AnswerOptions(this, "the grid");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        Probe probe = _scenario.Probe(line, scenario);
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        MapSettings settings = scenario.Maps with { CellMetres = line.GetValue(_cell) ?? scenario.Maps.CellMetres };
        string path = _output.PathOf(line, $"map-{FileNames.Of(probe.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        ApproachMap map = new ApproachMapper(posed, scenario.Walk, settings).Map(probe, session.Cancellation);
        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map);
        Figure figure = MapFigures.Approach(PartialStudy.Of(scenario, wearer, posed), map, zones);
        FigureFiles.Write(folder, StudyPictures.MapStem(probe), figure);
        byte[] grid = GridCsv.Of(map);
        folder.WriteBytes($"{StudyPictures.MapStem(probe)}.csv", grid);
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => output.Write(Encoding.UTF8.GetString(grid)),
            "approach_map",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("probe", probe.Name);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("map_cell_m", settings.CellMetres);
                StudyTables.Bands.WriteArray(json, "bands", StudyTables.BandRows([map]));
                StudyTables.BlindZones.WriteArray(json, "blind_zones", zones);
            },
            output =>
            {
                output.WriteLine($"{figure.Title}; {scenario.Layout.Name} on {wearer.Name}");
                output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
                output.WriteLine();
                StudyTables.Bands.WriteText(output, StudyTables.BandRows([map]));
                output.WriteLine();
                if (zones.Length > 0)
                {
                    StudyTables.BlindZones.WriteText(output, zones);
                    output.WriteLine();
                }

                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }
}
