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

/// <summary>Draws one plan or side slice of the detection margin.</summary>
internal sealed class SliceCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;
    private readonly Option<double?> _height = Numbers.Option("--height-m", 0, 3, "The height of a plan slice, seen from above. [m]");
    private readonly Option<double?> _offset = Numbers.Option("--offset-m", -3, 3, "The lateral offset of a side slice, positive left, seen from the right. Without either option a side slice at 0. [m]");
    private readonly Option<double?> _reach = Numbers.Option("--reach-m", 0.5, 10, "How far ahead the slice goes. Without it 4. [m]");
    private readonly Option<double?> _cell = Numbers.Option("--cell-m", 0.005, 0.2, "The edge of a cell. Without it 0.02. [m]");
    private readonly Option<double?> _phase = Numbers.Option("--phase-percent", 0, 100, "The moment of the stride from heel strike to heel strike. Without it 0. [%]");

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal SliceCommand()
        : base(
            "slice",
            "Draws one slice through the detection margin of a probe, from above at any height or from the side at any offset, with the 0 dB line and the "
            + "outlines of the beams, so that the difference between cone and truth shows.",
            "slice harbour-promenade --height-m 1.6 --probe rod-25mm")
    {
        _scenario = new ScenarioOptions(this);
        Add(_height);
        Add(_offset);
        Add(_reach);
        Add(_cell);
        Add(_phase);
        _output = new OutputOption(this, "for the picture (PNG, SVG) and its grid (CSV)", "slice- and the name of the probe");
        _answer = new AnswerOptions(this, "the grid");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        if (line.GetValue(_height) is not null && line.GetValue(_offset) is not null)
        {
            throw new UsageException("--height-m and --offset-m cannot be given together; a slice lies in one plane.");
        }

        LoadedScenario loaded = _scenario.Read(line);
        Probe probe = _scenario.Probe(line, loaded.Scenario);
        WearerSpec wearer = _scenario.Wearer(line, loaded.Scenario);
        string path = _output.PathOf(line, $"slice-{FileNames.Of(probe.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        PosedLayout posed = ScenarioStudy.Pose(loaded.Scenario, wearer, _scenario.Tables(line));
        double reach = line.GetValue(_reach) ?? 4, cell = line.GetValue(_cell) ?? 0.02;
        int phase = (int)Math.Round((line.GetValue(_phase) ?? 0) / 100 * posed.PhaseCount) % posed.PhaseCount;
        MarginSlice slice = line.GetValue(_height) is { } height
            ? Slicer.Plan(posed, probe, height, reach, cell, phase)
            : Slicer.Side(posed, probe, line.GetValue(_offset) ?? 0, reach, cell, phase);
        Figure figure = SliceFigures.Of(PartialStudy.Of(loaded.Scenario, wearer, posed), slice);
        string stem = FileNames.Of(slice);
        FigureFiles.Write(folder, stem, figure);
        byte[] grid = GridCsv.Of(slice);
        folder.WriteBytes($"{stem}.csv", grid);
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => output.Write(Encoding.UTF8.GetString(grid)),
            "margin_slice",
            loaded.Sha256,
            json =>
            {
                json.WriteString("plane", Words.Code(slice.Plane));
                json.WriteString("probe", slice.ProbeName);
                json.WriteNumber("at_m", slice.AtMetres);
                json.WriteNumber("stride_phase_percent", slice.StridePhaseFraction * 100);
                json.WriteString("finding", figure.Finding);
                json.WriteNumber("detected_area_m2", Math.Round(slice.MarginDecibels.Count(m => m >= 0) * slice.CellMetres * slice.CellMetres, 4));
            },
            output =>
            {
                output.WriteLine($"{figure.Title}; {loaded.Scenario.Layout.Name} on {wearer.Name}");
                output.WriteLine(Wrapping.Fold(figure.Finding, 100, 0));
                output.WriteLine();
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
            });
        return ExitCode.Done;
    }
}
