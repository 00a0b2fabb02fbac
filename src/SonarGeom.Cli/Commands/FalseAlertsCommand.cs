using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Says which sensors report the floor or their own wearer, from which tilt on, and what removes it.</summary>
internal sealed class FalseAlertsCommand : ToolCommand
{
    private const double WorthTellingDecibels = -20;

    private readonly ScenarioOptions _scenario;

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "The folder for the pictures (PNG, SVG) and tables (CSV). Without it output/false-alerts- and the name of the scenario.",
        HelpName = "FOLDER",
    };

    private readonly AnswerOptions _answer;

    internal FalseAlertsCommand()
        : base(
            "false-alerts",
            "Finds the false alerts by the floor and by the wearer's own limbs and cane: for each sensor the floor echo's arrival and level against tilt on tile, "
            + "paving, asphalt, gravel and grass, the tilt beyond which it is reported or masks a kerb, each limb in its worst stride phase, and the threshold or tilt that removes each.",
            "false-alerts harbour-promenade --wearer short-woman")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        Add(_output);
        _answer = new AnswerOptions(this, "the floor echo of each sensor and floor against tilt");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        bool isCsv = _answer.IsCsv(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        string path = line.GetValue(_output) ?? Path.Combine("output", $"false-alerts-{FileNames.Of(scenario.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        ImmutableArray<Ground> grounds = [.. Ground.Presets.Concat(posed.Ground is { } own ? [own] : []).DistinctBy(g => g.Name)];
        FalseAlerts alerts = FalseAlertStudy.Of(posed, grounds, scenario.Walk, session.Cancellation);
        string conditions = FigureWords.Conditions(PartialStudy.Of(scenario, wearer, posed));
        foreach (string sensor in posed.Layout.Sensors.Select(s => s.Name))
        {
            FigureFiles.Write(folder, $"floor-by-tilt-{FileNames.Of(sensor)}", FalseAlertFigures.FloorByTilt(alerts, sensor, conditions));
        }

        OwnRow[] limbs = [.. alerts.Own.Select(o => new OwnRow(o, posed.PhaseCount))];
        Write(folder, "floors.csv", stream => FalseAlertTables.Floors.WriteCsv(stream, alerts.Floors));
        Write(folder, "floor-by-tilt.csv", stream => FalseAlertTables.Curve.WriteCsv(stream, FalseAlertTables.CurveRows(alerts)));
        Write(folder, "own-body.csv", stream => FalseAlertTables.Own.WriteCsv(stream, limbs));
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        if (isCsv)
        {
            FalseAlertTables.Curve.WriteCsv(session.Output, FalseAlertTables.CurveRows(alerts));
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "false_alerts", loaded.Sha256, json =>
            {
                json.WriteString("scenario", scenario.Name);
                json.WriteString("layout", scenario.Layout.Name);
                json.WriteString("wearer", wearer.Name);
                json.WriteString("finding", FalseAlertFigures.Finding(alerts));
                json.WriteNumber("kerb_height_m", alerts.KerbHeightMetres);
                json.WriteNumber("kerb_distance_m", Math.Round(alerts.KerbDistanceMetres, 3));
                FalseAlertTables.Floors.WriteArray(json, "floors", alerts.Floors);
                FalseAlertTables.Own.WriteArray(json, "own_body", limbs);
            });
        }
        else
        {
            WriteText(session.Output, scenario, wearer, alerts, limbs);
            session.Output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
        }

        return ExitCode.Done;
    }

    private static void WriteText(TextWriter output, Scenario scenario, WearerSpec wearer, FalseAlerts alerts, OwnRow[] limbs)
    {
        output.WriteLine($"False alerts by floor and wearer: {scenario.Layout.Name} on {wearer.Name}");
        output.WriteLine(Wrapping.Fold(FalseAlertFigures.Finding(alerts), 100, 0));
        output.WriteLine();
        FalseAlertTables.Floors.WriteText(output, alerts.Floors);
        output.WriteLine(Wrapping.Fold(
            $"Kerb: {alerts.KerbHeightMetres * 1e3:0} mm high, {alerts.KerbDistanceMetres:0.00} m before the toes. Tilts are positive up; what is reported up to a tilt is silent above it. A kerb that is not heard at that distance is not masked.", 100, 0));
        output.WriteLine();
        OwnRow[] told = [.. limbs.Where(o => o.Risk.Echo.MarginDecibels >= WorthTellingDecibels)];
        if (told.Length == 0)
        {
            output.WriteLine($"No limb comes nearer to the threshold than {-limbs.Select(o => o.Risk.Echo.MarginDecibels).DefaultIfEmpty(-300).Max():0} dB; own-body.csv has them all.");
        }
        else
        {
            FalseAlertTables.Own.WriteText(output, told);
        }

        output.WriteLine();
    }

    private static void Write(OutputFolder folder, string name, Action<Stream> write)
    {
        using Stream stream = folder.Create(name);
        write(stream);
    }
}
