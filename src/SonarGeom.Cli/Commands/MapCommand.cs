using System.Collections.Immutable;
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

/// <summary>Draws one approach map for any probe and any wearer of a scenario.</summary>
internal sealed class MapCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly Option<double?> _cell = Numbers.Option("--cell-m", 0.005, 0.2, "The edge of a cell. Without it as the scenario says. [m]");

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "The folder for the picture (PNG, SVG) and its grid (CSV). Without it output/map- and the name of the probe.",
        HelpName = "FOLDER",
    };

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
        Add(_output);
        _answer = new AnswerOptions(this, "the grid");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        bool isCsv = _answer.IsCsv(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        Probe probe = _scenario.Probe(line, scenario);
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        MapSettings settings = scenario.Maps with { CellMetres = line.GetValue(_cell) ?? scenario.Maps.CellMetres };
        string path = line.GetValue(_output) ?? Path.Combine("output", $"map-{FileNames.Of(probe.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        ApproachMap map = new ApproachMapper(posed, scenario.Walk, settings).Map(probe, session.Cancellation);
        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map);
        Figure figure = MapFigures.Approach(PartialStudy.Of(scenario, wearer, posed), map, zones);
        FigureFiles.Write(folder, StudyPictures.MapStem(probe), figure);
        using (Stream grid = folder.Create($"{StudyPictures.MapStem(probe)}.csv"))
        {
            GridCsv.Write(grid, map);
        }

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        if (isCsv)
        {
            using var buffer = new MemoryStream();
            GridCsv.Write(buffer, map);
            session.Output.Write(System.Text.Encoding.UTF8.GetString(buffer.ToArray()));
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "approach_map", loaded.Sha256, json =>
            {
                json.WriteString("scenario", scenario.Name);
                json.WriteString("layout", scenario.Layout.Name);
                json.WriteString("wearer", wearer.Name);
                json.WriteString("probe", probe.Name);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("map_cell_m", settings.CellMetres);
                StudyTables.Bands.WriteArray(json, "bands", StudyTables.BandRows([map]));
                StudyTables.BlindZones.WriteArray(json, "blind_zones", zones);
            });
        }
        else
        {
            session.Output.WriteLine($"{figure.Title}; {scenario.Layout.Name} on {wearer.Name}");
            session.Output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
            session.Output.WriteLine();
            StudyTables.Bands.WriteText(session.Output, StudyTables.BandRows([map]));
            session.Output.WriteLine();
            if (zones.Length > 0)
            {
                StudyTables.BlindZones.WriteText(session.Output, zones);
                session.Output.WriteLine();
            }

            session.Output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
        }

        return ExitCode.Done;
    }
}
