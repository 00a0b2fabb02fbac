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

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal FalseAlertsCommand()
        : base(
            "false-alerts",
            "Finds the false alerts by the floor and by the wearer's own limbs and cane: for each sensor the floor echo's arrival and level against tilt on tile, "
            + "paving, asphalt, gravel and grass, the tilt beyond which it is reported or masks a kerb, each limb in its worst stride phase, and the threshold or tilt that removes each.",
            "false-alerts harbour-promenade --wearer short-woman")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        _output = new OutputOption(this, "for the pictures (PNG, SVG) and tables (CSV)", "false-alerts- and the name of the scenario");
        _answer = new AnswerOptions(this, "the floor echo of each sensor and floor against tilt");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        string path = _output.PathOf(line, $"false-alerts-{FileNames.Of(scenario.Name)}");
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
        FalseAlertTables.Floors.WriteCsv(folder, "floors.csv", alerts.Floors);
        FalseAlertTables.Curve.WriteCsv(folder, "floor-by-tilt.csv", FalseAlertTables.CurveRows(alerts));
        FalseAlertTables.Own.WriteCsv(folder, "own-body.csv", limbs);
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => FalseAlertTables.Curve.WriteCsv(output, FalseAlertTables.CurveRows(alerts)),
            "false_alerts",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("finding", FalseAlertFigures.Finding(alerts));
                json.WriteNumber("kerb_height_m", alerts.KerbHeightMetres);
                json.WriteNumber("kerb_distance_m", Math.Round(alerts.KerbDistanceMetres, 3));
                FalseAlertTables.Floors.WriteArray(json, "floors", alerts.Floors);
                FalseAlertTables.Own.WriteArray(json, "own_body", limbs);
            },
            output =>
            {
                WriteText(output, scenario, wearer, alerts, limbs);
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
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
}
