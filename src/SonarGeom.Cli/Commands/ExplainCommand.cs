using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Faults;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Says why a cell, a named blind zone or an obstacle is heard or not, sensor by sensor and distance by distance.</summary>
internal sealed class ExplainCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly Option<string?> _zone = new("--zone") { Description = "The name of a blind zone of the probe's map; its middle is explained.", HelpName = "NAME" };
    private readonly Option<string?> _obstacle = new("--obstacle") { Description = "The id of an obstacle of the scenario.", HelpName = "ID" };
    private readonly Option<double?> _y = Numbers.Option("--y-m", -2, 2, "A cell's place to the left. Without it 0. [m]");
    private readonly Option<double?> _z = Numbers.Option("--z-m", 0, 3, "A cell's height. [m]");
    private readonly Option<double?> _distance = Numbers.Option("--distance-m", 0, 20, "Only this distance from the body, with the whole budget of every sensor. [m]");
    private readonly AnswerOptions _answer;

    internal ExplainCommand()
        : base(
            "explain",
            "Explains a blind zone, a cell of the approach map or an obstacle: every sensor's echo at each distance over the stride, and the whole level "
            + "budget where a warning would just be in time.",
            "explain harbour-promenade --zone head-centre-1 --probe sphere-100mm")
    {
        _scenario = new ScenarioOptions(this);
        Add(_zone);
        Add(_obstacle);
        Add(_y);
        Add(_z);
        Add(_distance);
        _answer = new AnswerOptions(this, "the distances and sensors");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        LoadedScenario loaded = _scenario.Read(line);
        PosedLayout posed = ScenarioStudy.Pose(loaded.Scenario, _scenario.Wearer(line, loaded.Scenario), _scenario.Tables(line));
        Explanation explanation = Explain(line, loaded.Scenario, posed, session.Cancellation);
        if (_answer.IsCsv(line))
        {
            Explanation.Overview.WriteCsv(session.Output, explanation.Echoes);
        }
        else if (_answer.IsJson(line))
        {
            WriteJson(session.Output, loaded.Sha256, explanation, posed);
        }
        else
        {
            WriteText(session.Output, explanation);
        }

        return ExitCode.Done;
    }

    private Explanation Explain(ParseResult line, Scenario scenario, PosedLayout posed, CancellationToken cancellation)
    {
        string? zone = line.GetValue(_zone), obstacle = line.GetValue(_obstacle);
        double? y = line.GetValue(_y), z = line.GetValue(_z), distance = line.GetValue(_distance);
        int asked = (zone is null ? 0 : 1) + (obstacle is null ? 0 : 1) + (y is null && z is null ? 0 : 1);
        if (asked != 1 || (y is not null && z is null))
        {
            throw new UsageException("explain needs exactly one of --zone, --obstacle, or a cell by --z-m (and --y-m).");
        }

        if (obstacle is not null)
        {
            string[] known = [.. scenario.Obstacles.Obstacles.Select(o => o.Id)];
            int index = Array.IndexOf(known, obstacle);
            return index >= 0
                ? Explanation.OfObstacle(posed, scenario.Walk, scenario.Maps, scenario.Obstacles, scenario.VerdictEngines, index, distance)
                : throw new UsageException($"--obstacle is {Numbers.Shown(obstacle)}, which the scenario does not have; {NearestName.Advice(obstacle, known)}");
        }

        Probe probe = _scenario.Probe(line, scenario);
        if (zone is null)
        {
            return Explanation.OfCell(posed, scenario.Walk, probe, y ?? 0, z!.Value, $"{probe.Name} at {y ?? 0:0.00} m left, {z:0.00} m high", distance);
        }

        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(new ApproachMapper(posed, scenario.Walk, scenario.Maps).Map(probe, cancellation));
        BlindZone found = zones.FirstOrDefault(b => b.Name == zone) ?? throw new UsageException(zones.IsEmpty
            ? $"--zone is {Numbers.Shown(zone)}, but there is no blind zone for {probe.Name}."
            : $"--zone is {Numbers.Shown(zone)}, which {probe.Name} does not have; {NearestName.Advice(zone, [.. zones.Select(b => b.Name)])}");
        return Explanation.OfCell(
            posed, scenario.Walk, probe, found.InscribedYMetres, found.InscribedZMetres,
            $"{probe.Name} in the middle of {found.Name}: {found.InscribedYMetres:0.00} m left, {found.InscribedZMetres:0.00} m high, {Findings.InWords(found.Cause)} in {found.CauseFraction * 100:0} % of the zone",
            distance);
    }

    private static void WriteJson(TextWriter output, string hash, Explanation explanation, PosedLayout posed) =>
        JsonResult.Write(output, "explanation", hash, json =>
        {
            json.WriteString("subject", explanation.Subject);
            json.WriteNumber("time_needed_s", Math.Round(explanation.TimeNeededSeconds, 3));
            json.WriteNumber("last_useful_distance_m", Math.Round(explanation.NeedMetres, 3));
            json.WriteStartArray("echoes");
            foreach (ExplainedEcho echo in explanation.Echoes)
            {
                json.WriteStartObject();
                Explanation.Overview.WriteMembers(json, echo);
                if (echo.Budget is { } budget)
                {
                    json.WriteStartObject("budget");
                    var sensor = posed.Layout.Sensors.First(s => s.Name == echo.Sensor);
                    BudgetTables.Rows.WriteMembers(json, new BudgetRow(explanation.Subject, sensor.Transducer.Name, sensor.Transducer.NominalFrequency.Kilohertz, budget));
                    json.WriteEndObject();
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
        });

    private static void WriteText(TextWriter output, Explanation explanation)
    {
        output.WriteLine(Wrapping.Fold(explanation.Subject, 100, 0));
        output.WriteLine($"A warning is needed {explanation.TimeNeededSeconds:0.00} s ahead, at {explanation.NeedMetres:0.00} m or more.");
        output.WriteLine();
        Explanation.Overview.WriteText(output, explanation.Echoes);
        double opened = explanation.Echoes.Select(e => e.DistanceMetres).MinBy(d => Math.Abs(d - explanation.NeedMetres));
        foreach (ExplainedEcho echo in explanation.Echoes.Where(e => e.DistanceMetres == opened && e.Budget is not null))
        {
            output.WriteLine();
            output.WriteLine($"{echo.Sensor} at {echo.DistanceMetres:0.00} m, stride phase {echo.PhaseFraction:0.00}");
            BudgetTables.WriteText(output, echo.Budget!, "  ");
        }
    }
}
