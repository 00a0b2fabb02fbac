using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Computes every obstacle of a scenario by closed forms and by surface integral and lists where they differ.</summary>
internal sealed class EnginesCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly SceneOptions _scene;
    private readonly Option<double?> _distance = Numbers.Option(
        "--distance-m", 0, 20, "Distance from the body to each obstacle. Without it the last distance at which a warning of it is in time. [m]");

    private readonly AnswerOptions _answer;

    internal EnginesCommand()
        : base(
            "engines",
            "Computes the echo of every obstacle of a scenario by closed forms and by surface integral: where they agree, differ or lie outside their limits, "
            + "which one is used and why, how sure it is, and which integrals no verdict may rest on.",
            "engines harbour-promenade --distance-m 2")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        _scene = new SceneOptions(this, "The id of an obstacle of the scenario. Without it all.", "The name of a sensor of the layout. Without it, for each obstacle, the one that hears it best.");
        Add(_distance);
        _answer = new AnswerOptions(this, "the parts");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        int[] obstacles = _scene.HasObstacle(line) ? [_scene.Obstacle(line, scenario)] : [.. Enumerable.Range(0, scenario.Obstacles.Obstacles.Length)];
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        TraceStage stage = TraceStage.Of(posed, scenario.Obstacles);
        var found = new ImmutableArray<EngineCase>[obstacles.Length];
        Parallel.For(0, obstacles.Length, new ParallelOptions { CancellationToken = session.Cancellation }, i =>
        {
            double distance = line.GetValue(_distance) ?? SceneOptions.NeedMetres(scenario, obstacles[i]);
            found[i] = EngineStudy.Of(stage, _scene.Sensor(line, stage, obstacles[i], distance, 0), 0, obstacles[i], distance);
        });
        EngineCase[] cases = [.. found.SelectMany(c => c)];
        _answer.Print(
            line,
            session.Output,
            output => EngineTables.Cases.WriteCsv(output, cases),
            "engines",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("finding", Finding(cases));
                LeftOut.WriteArray(json, obstacles.Select(i => scenario.Obstacles.Obstacles[i]));
                EngineTables.Cases.WriteArray(json, "parts", cases);
            },
            output =>
            {
                output.WriteLine($"Both engines on {scenario.Obstacles.Name}; {scenario.Layout.Name} on {wearer.Name}");
                output.WriteLine(Wrapping.Fold(Finding(cases), 100, 0));
                output.WriteLine();
                EngineTables.Cases.WriteText(output, cases);
                output.WriteLine();
                output.WriteLine(Wrapping.Fold(
                    "Band means in open air, re 20 µPa. Allowance: 3.5 % of the larger echo, or 1 % of a wall at that range if that is more, at every frequency of the burst; "
                    + "far below such a wall decibels may differ by more. The error is at least what the engines differ by.", 100, 0));
                if (cases.Any(c => c.Integral?.Engine == EchoEngine.Ensemble))
                {
                    output.WriteLine(Wrapping.Fold(
                        "Foliage: the level that nine pings in ten are above, by closed form and by pings at seeded leaves. Allowance: of the means over pings 0.6 dB and four standard errors.", 100, 0));
                }

                foreach (IGrouping<string, EngineCase> reason in cases.Where(c => Reason(c).Length > 0).GroupBy(Reason))
                {
                    output.WriteLine(Wrapping.Fold($"{FigureWords.Listed([.. reason.Select(Named).Distinct()])}: {reason.Key.TrimEnd('.')}.", 100, 0));
                }

                LeftOut.WriteText(output, obstacles.Select(i => scenario.Obstacles.Obstacles[i]));
            });
        return ExitCode.Done;
    }

    private static string Finding(EngineCase[] cases)
    {
        int Count(EngineAgreement agreement) => cases.Count(c => c.Agreement == agreement);
        int compared = cases.Count(c => c is { ClosedForm: not null, Integral: not null });
        EngineCase[] differ = [.. cases.Where(c => c.Agreement == EngineAgreement.Differ)];
        string[] others =
        [
            .. Count(EngineAgreement.OutsideLimits) is var limits and > 0 ? [$"{limits} outside the declared limits"] : Array.Empty<string>(),
            .. Count(EngineAgreement.Withheld) is var withheld and > 0 ? [$"{withheld} withheld"] : Array.Empty<string>(),
            .. Count(EngineAgreement.NoClosedForm) is var meshes and > 0 ? [$"{meshes} {(meshes == 1 ? "mesh" : "meshes")} by surface integral alone"] : Array.Empty<string>(),
            .. Count(EngineAgreement.NoSurface) is var bare and > 0 ? [$"{bare} lines without a surface"] : Array.Empty<string>(),
        ];
        return $"The engines agree on {Count(EngineAgreement.Agree)} of {compared} parts that both can compute"
            + (differ.Length == 0 ? "; none differs" : $"; they differ on {FigureWords.Listed([.. differ.Select(Named)])}")
            + (others.Length == 0 ? "." : $"; {FigureWords.Listed(others)}.");
    }

    private static string Named(EngineCase one) => $"{one.ObstacleId}: {one.PartName}";

    private static string Reason(EngineCase one) => one.Agreement switch
    {
        EngineAgreement.Withheld => string.Join("; ", one.Integral!.Withheld),
        EngineAgreement.OutsideLimits => one.Difference!.Limit!,
        _ => string.Empty,
    };
}
