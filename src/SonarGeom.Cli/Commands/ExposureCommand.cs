using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Tells the sound level of a layout at ears, against published limits.</summary>
internal sealed class ExposureCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly AnswerOptions _answer;

    internal ExposureCommand()
        : base(
            "exposure",
            "Tells how loud a layout is at the ears of its wearer, of a bystander, of a child and of a guide dog, in the burst and on average, against published "
            + "limits of airborne ultrasound and the hearing of dogs, with the uncertainty of the levels.",
            "exposure harbour-promenade --wearer typical-man")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        _answer = new AnswerOptions(this, "each listener against each limit");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        PosedLayout posed = ScenarioStudy.Pose(scenario, wearer, _scenario.Tables(line));
        ExposureReport report = ExposureStudy.Of(posed);
        _answer.Print(
            line,
            session.Output,
            output => ExposureTables.Limits.WriteCsv(output, ExposureTables.LimitRows(report)),
            "exposure",
            loaded.Sha256,
            json =>
            {
                json.WriteSubject(scenario, wearer);
                json.WriteString("finding", report.Finding);
                json.WriteNumber("firing_cycle_s", Math.Round(report.CycleSeconds, 6));
                ExposureTables.Levels.WriteArray(json, "levels", report.Readings);
                ExposureTables.Limits.WriteArray(json, "limits", ExposureTables.LimitRows(report));
                ExposureTables.Reaches.WriteArray(json, "parts", ExposureTables.ReachRows(report));
                json.WriteSentences("cautions", ExposureReport.Cautions);
            },
            output =>
            {
                WriteText(output, report, wearer);
            });
        return ExitCode.Done;
    }

    private static void WriteText(TextWriter output, ExposureReport report, WearerSpec wearer)
    {
        output.WriteLine($"Sound levels of {report.Layout.Name} on {wearer.Name}, firing cycle {report.CycleSeconds * 1000:0} ms; dB re 20 µPa");
        output.WriteLine();
        output.WriteLine(Wrapping.Fold(report.Finding, 100, 0));
        output.WriteLine();
        ExposureTables.Levels.WriteText(output, report.Readings);
        output.WriteLine();
        output.WriteLine("Against published limits, the burst: above or below by more than the uncertainty, else uncertain");
        ExposureTables.Limits.WriteText(output, ExposureTables.LimitRows(report));
        output.WriteLine();
        output.WriteLine("On the boresight of each part");
        ExposureTables.Reaches.WriteText(output, ExposureTables.ReachRows(report));
        output.WriteLine();
        foreach (string caution in ExposureReport.Cautions)
        {
            output.WriteLine($"- {Wrapping.Fold(caution, 100, 2)}");
        }
    }
}
