using System.CommandLine;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Output;
using SonarGeom.Files.Tables;
using SonarGeom.Rendering.Sheets;
using SonarGeom.Studies;
using SonarGeom.Studies.FieldTests;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Commands;

/// <summary>Plans a field test of a transducer: a table to fill and a sheet to print.</summary>
internal sealed class FieldPlanCommand : ToolCommand
{
    private readonly Argument<string> _transducer = new("TRANSDUCER")
    {
        Description = $"A transducer: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Transducers)}.",
    };

    private readonly Option<double?> _confidence = Numbers.Option("--confidence-percent", 50, 99.9, "The confidence of bands and intervals. [%] Without it 95.");

    private readonly Option<double?> _reliability = Numbers.Option(
        "--reliability-percent", 50, 99, "What a place that should always report is to show: as many trials as, without a miss, show this share. [%] Without it 90.");

    private readonly Option<double?> _width = Numbers.Option(
        "--half-width-percent", 5, 40, "How closely the share at a place near the limit is to be known, to either side. [%] Without it 20.");

    private readonly Option<int?> _hits = Numbers.WholeOption("--required-hits", 1, 32, "Pings of a trial in which the target must be reported. Without it 2.");

    private readonly Option<int?> _pings = Numbers.WholeOption("--window-pings", 1, 32, "Pings of a trial. Without it 3.");

    private readonly Option<double?> _spread = Numbers.Option(
        "--spread-db", 0, 6, "How much the level differs from trial to trial by placing the target anew: a standard deviation, an assumption. [dB] Without it 1.5.");

    private readonly OutputOption _output;

    private readonly AirOptions _air;
    private readonly AnswerOptions _answer;

    internal FieldPlanCommand()
        : base(
            "plan",
            "Plans a field test of a transducer on a stand: targets, places and attitudes on both sides of the limit and of the boresight, the number of trials for a "
            + "stated confidence, and the predicted result with its band. Writes a table to fill and a sheet to print.",
            "field-test plan heron-strong-40 --temperature-c 15 --confidence-percent 95 --output output/heron-test")
    {
        Add(_transducer);
        foreach (Option option in new Option[] { _confidence, _reliability, _width, _hits, _pings, _spread })
        {
            Add(option);
        }

        _output = new OutputOption(this, "for field-test.csv, to fill and read back, and field-test.pdf, to print", "field-test- and the name of the transducer");

        _air = new AirOptions(this);
        _answer = new AnswerOptions(this, "the table to fill");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        int hits = line.GetValue(_hits) ?? Math.Min(2, line.GetValue(_pings) ?? 2), pings = line.GetValue(_pings) ?? Math.Max(3, hits);
        if (hits > pings)
        {
            throw new UsageException($"--required-hits is {hits}; it must be at most --window-pings, which is {pings}.");
        }

        Transducer transducer = InputFiles.ReadTransducer(line.GetRequiredValue(_transducer)).Transducer;
        var settings = new FieldSettings(_air.Medium(line).Air, hits, pings, line.GetValue(_spread) ?? 1.5, (line.GetValue(_confidence) ?? 95) / 100);
        FieldPlan plan;
        try
        {
            plan = FieldPlan.Of(transducer, settings, (line.GetValue(_reliability) ?? 90) / 100, (line.GetValue(_width) ?? 20) / 100);
        }
        catch (ArgumentException refused) when (refused is not ArgumentOutOfRangeException)
        {
            throw new UsageException(Inputs.Sentence(refused));
        }

        string path = _output.PathOf(line, $"field-test-{FileNames.Of(transducer.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        using (Stream csv = folder.Create("field-test.csv"))
        {
            FieldSheetTable.Write(csv, plan);
        }

        folder.WriteBytes("field-test.pdf", SheetWriter.Pdf(FieldTestSheet.Of(plan)));
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => output.Write(File.ReadAllText(Path.Combine(path, "field-test.csv"))),
            "field_test_plan",
            null,
            json =>
            {
                json.WriteString("transducer", transducer.Name);
                json.WriteNumber("figure_of_merit_db", Math.Round(transducer.LateFigureOfMeritDecibels, 2));
                json.WriteNumber("figure_of_merit_uncertainty_db", transducer.Evidence.FigureOfMeritUncertaintyDecibels);
                json.WriteNumber("confidence_percent", Math.Round(100 * settings.ConfidenceFraction, 6));
                json.WriteNumber("spread_db", settings.SpreadDecibels);
                FieldTestTables.Plan.WriteArray(json, "rows", plan.Rows);
                json.WriteSentences("instructions", FieldPlan.Instructions);
                json.WriteSentences("cautions", Findings.Cautions);
            },
            output =>
            {
                WriteText(output, plan);
                output.WriteLine($"Wrote field-test.csv, to fill, and field-test.pdf, to print, to {path}.");
            });
        return ExitCode.Done;
    }

    private static void WriteText(TextWriter output, FieldPlan plan)
    {
        output.WriteLine($"Field test of {plan.Transducer.Name} in air of {plan.Settings.Air}: {plan.Rows.Length} rows, {plan.Rows.Sum(r => r.Trials)} trials");
        output.WriteLine();
        FieldTestTables.Plan.WriteText(output, plan.Rows);
        output.WriteLine();
        foreach (string sentence in FieldPlan.Instructions.Append(Findings.Cautions[0]).Append(Findings.Cautions[1]))
        {
            output.WriteLine($"- {Wrapping.Fold(sentence, 100, 2)}");
        }

        output.WriteLine();
    }
}
