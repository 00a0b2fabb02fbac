using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json;
using SonarGeom.Bodies;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Rendering.Scenes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Shows how a wearer walks: one stride as an animated scene and as a table.</summary>
internal sealed class StrideCommand : ToolCommand
{
    private const int UsualMoments = 50;

    private static readonly ResultTable<StrideMoment> Moments = new(
        new("phase_percent", "stride [%]", m => Cell.Of(m.PhasePercent, 1)),
        new("left_thigh_forward_deg", "thigh ahead [°]", m => Cell.Of(m.ThighForwardDegrees, 1)),
        new("left_knee_bent_deg", "knee bent [°]", m => Cell.Of(m.KneeBentDegrees, 1)),
        new("left_ankle_up_deg", "toes up [°]", m => Cell.Of(m.AnkleUpDegrees, 1)),
        new("left_arm_forward_deg", "arm ahead [°]", m => Cell.Of(m.ArmForwardDegrees, 1)),
        new("head_rise_mm", "head up [mm]", m => Cell.Of(1000 * m.HeadRiseMetres, 1)),
        new("head_left_mm", "head left [mm]", m => Cell.Of(1000 * m.HeadLeftMetres, 1)),
        new("pelvis_rise_mm", "pelvis up [mm]", m => Cell.Of(1000 * m.PelvisRiseMetres, 1)),
        new("pelvis_left_mm", "pelvis left [mm]", m => Cell.Of(1000 * m.PelvisLeftMetres, 1)),
        new("left_sole_mm", "left sole [mm]", m => Cell.Of(1000 * m.LeftSoleMetres, 1)),
        new("right_sole_mm", "right sole [mm]", m => Cell.Of(1000 * m.RightSoleMetres, 1)));

    private readonly ScenarioOptions _scenario;
    private readonly Option<double?> _speed = Numbers.Option("--speed-m-s", 0.1, 3, "The walking speed. Without it the scenario's. [m/s]");
    private readonly Option<WalkMotion?> _motion = Choices.Option<WalkMotion>("--motion", "How the body moves. Without it gait.");
    private readonly Option<int?> _moments = Numbers.WholeOption("--moments", 8, 200, $"The number of moments of the stride. Without it {UsualMoments}.");
    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal StrideCommand()
        : base(
            "stride",
            "Shows how a wearer walks: one stride as an animated scene with the sensors of the layout, and as a table of joint angles, head, pelvis and soles.",
            "stride harbour-promenade --wearer short-woman --speed-m-s 1.2")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        Add(_speed);
        Add(_motion);
        Add(_moments);
        _output = new OutputOption(this, "for the animated scene (GLB) and the table (CSV)", "stride- and the name of the wearer");
        _answer = new AnswerOptions(this, "the moments");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        var body = Body.Build(wearer, _scenario.Tables(line));
        WalkSettings walk = scenario.Walk with
        {
            SpeedMetresPerSecond = line.GetValue(_speed) ?? scenario.Walk.SpeedMetresPerSecond,
            Motion = line.GetValue(_motion) ?? WalkMotion.Gait,
        };
        string path = _output.PathOf(line, $"stride-{FileNames.Of(wearer.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        StrideStudy stride = StrideStudy.Of(walk.MotionOf(body), line.GetValue(_moments) ?? UsualMoments);
        folder.WriteBytes("stride.glb", SceneWriter.Glb(StrideScene.Of(stride, scenario.Layout)));
        Moments.WriteCsv(folder, "stride.csv", stride.Moments);

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => Moments.WriteCsv(output, stride.Moments),
            "stride",
            loaded.Sha256,
            json => Write(json, wearer, stride),
            output =>
            {
                WriteText(output, wearer, stride);
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }

    private static void Write(Utf8JsonWriter json, WearerSpec wearer, StrideStudy stride)
    {
        json.WriteString("wearer", wearer.Name);
        json.WriteNumber("speed_m_s", stride.Motion.SpeedMetresPerSecond);
        json.WriteNumber("stride_s", Math.Round(stride.Motion.StrideSeconds, 4));
        json.WriteNumber("stride_m", Math.Round(stride.StrideMetres, 4));
        json.WriteNumber("steps_per_min", Math.Round(stride.StepsPerMinute, 2));
        Moments.WriteArray(json, "moments", stride.Moments);
        json.WriteSentences("notes", stride.Motion.Notes);
    }

    private static void WriteText(TextWriter output, WearerSpec wearer, StrideStudy stride)
    {
        output.WriteLine($"{wearer.Name} at {stride.Motion.SpeedMetresPerSecond:0.00} m/s: strides of {stride.StrideMetres:0.00} m in {stride.Motion.StrideSeconds:0.00} s, {stride.StepsPerMinute:0} steps a minute");
        output.WriteLine();
        int every = Math.Max(1, stride.Moments.Length / 10);
        Moments.WriteText(output, [.. stride.Moments.Where((_, i) => i % every == 0)]);
        output.WriteLine();
        foreach (string note in stride.Motion.Notes)
        {
            output.WriteLine($"- {Wrapping.Fold(note, 100, 2)}");
        }

        output.WriteLine();
    }
}
