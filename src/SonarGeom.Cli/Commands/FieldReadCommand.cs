using System.CommandLine;
using System.Security.Cryptography;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Output;
using SonarGeom.Files.Tables;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;
using SonarGeom.Studies.FieldTests;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Commands;

/// <summary>Reads a filled sheet back: predicted against observed, a fit, a calibrated transducer.</summary>
internal sealed class FieldReadCommand : ToolCommand
{
    private readonly Argument<string> _transducer = new("TRANSDUCER")
    {
        Description = $"The transducer that the test was planned for: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Transducers)}.",
    };

    private readonly Argument<string> _sheet = new("SHEET") { Description = "The filled table (CSV)." };

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal FieldReadCommand()
        : base(
            "read",
            "Reads a filled sheet back: each row predicted against observed with its exact interval, a reliability plot, and the figure of merit and the effective radius "
            + "by maximum likelihood with their intervals. Writes a calibrated transducer where the data decide both. Excluded rows stay in sight.",
            "field-test read heron-strong-40 output/heron-test/field-test.csv --output output/heron-result")
    {
        Add(_transducer);
        Add(_sheet);
        _output = new OutputOption(this, "for the compared rows (CSV), the reliability plot (PNG, SVG) and the calibrated transducer (JSON)", "field-result- and the name of the transducer");
        _answer = new AnswerOptions(this, "the compared rows");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        bool isCsv = _answer.IsCsv(line);
        Transducer transducer = InputFiles.ReadTransducer(line.GetRequiredValue(_transducer)).Transducer;
        string file = line.GetRequiredValue(_sheet);
        FieldSheet sheet = FieldSheetTable.Read(file);
        string hash = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(file)));
        FieldComparison compared = FieldComparison.Of(transducer, sheet.Settings, sheet.Observations);
        string path = _output.PathOf(line, $"field-result-{FileNames.Of(transducer.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        FieldTestTables.Compared.WriteCsv(folder, "field-result.csv", compared.Rows);

        LineFigure figure = FieldTestFigures.Reliability(compared);
        FigureFiles.Write(folder, "reliability", figure);
        string verdict = Verdict(compared);
        if (compared.Fit is { IsDecided: true } fit)
        {
            folder.WriteText("calibrated-transducer.json", TransducerDocument.Of(fit.Calibrated(transducer, $"Field test of {transducer.Name}, sheet {hash[..12]}, in air of {sheet.Settings.Air}.")));
        }

        using (Stream json = folder.Create("field-result.json"))
        {
            JsonResult.Write(json, "field_test_result", hash, j => WriteMembers(j, compared, verdict));
        }

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        if (isCsv)
        {
            FieldTestTables.Compared.WriteCsv(session.Output, compared.Rows);
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "field_test_result", hash, j => WriteMembers(j, compared, verdict));
        }
        else
        {
            WriteText(session.Output, compared, verdict);
            session.Output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
        }

        return ExitCode.Done;
    }

    private static string Verdict(FieldComparison compared)
    {
        if (compared.Fit is not { } fit)
        {
            return "Nothing was fitted: all rows that were done are excluded.";
        }

        string agreement = fit.AgreementProbability < 0.01
            ? " The counts scatter more than the model explains: look for rows that went wrong, another air, or a threshold of another shape; the intervals are widened for it."
            : string.Empty;
        if (compared.Transducer.Transmit is not CircularPiston || compared.Transducer.Receive is not CircularPiston)
        {
            agreement += " The stated beam is not that of a round piston; the effective radius stands for it in the fit and in the calibrated transducer.";
        }

        string gain = $"{fit.FigureOfMeritDecibels.Value - compared.Transducer.LateFigureOfMeritDecibels:+0.0;-0.0;0.0} dB against before";
        return (fit.FigureOfMeritDecibels.IsDecided, fit.RadiusMetres.IsDecided) switch
        {
            (true, true) => $"Figure of merit {fit.FigureOfMeritDecibels.Value:0.0} dB ({fit.FigureOfMeritDecibels.Low:0.0} to {fit.FigureOfMeritDecibels.High:0.0}), {gain}; effective radius "
                + $"{fit.RadiusMetres.Value * 1000:0.00} mm ({fit.RadiusMetres.Low * 1000:0.00} to {fit.RadiusMetres.High * 1000:0.00}); both together at {100 * compared.Settings.ConfidenceFraction:0.#} % confidence.{agreement}",
            (true, false) => $"Figure of merit {fit.FigureOfMeritDecibels.Value:0.0} dB ({fit.FigureOfMeritDecibels.Low:0.0} to {fit.FigureOfMeritDecibels.High:0.0}), {gain}; the data do not decide the beam, so no calibrated transducer is written: add rows off the boresight.{agreement}",
            _ => "The data do not decide the figure of merit, so no calibrated transducer is written: rows with some reports and some misses are needed.",
        };
    }

    private static void WriteMembers(System.Text.Json.Utf8JsonWriter json, FieldComparison compared, string verdict)
    {
        json.WriteString("transducer", compared.Transducer.Name);
        json.WriteNumber("figure_of_merit_before_db", Math.Round(compared.Transducer.LateFigureOfMeritDecibels, 2));
        json.WriteNumber("confidence_percent", Math.Round(100 * compared.Settings.ConfidenceFraction, 6));
        json.WriteString("finding", FieldTestFigures.Finding(compared));
        json.WriteString("verdict", verdict);
        FieldTestTables.Fit.WriteArray(json, "fit", Fits(compared.Fit));
        FieldTestTables.Fit.WriteArray(json, "fit_with_excluded_rows", Fits(compared.FitWithExcluded));
        FieldTestTables.Compared.WriteArray(json, "rows", compared.Rows);
        FieldTestTables.Bins.WriteArray(json, "reliability", compared.Bins);
        json.WriteSentences("cautions", Findings.Cautions);
    }

    private static FieldFit[] Fits(FieldFit? fit) => fit is null ? [] : [fit];

    private static void WriteText(TextWriter output, FieldComparison compared, string verdict)
    {
        output.WriteLine($"Field test of {compared.Transducer.Name} in air of {compared.Settings.Air}");
        output.WriteLine();
        output.WriteLine(Wrapping.Fold(FieldTestFigures.Finding(compared), 100, 0));
        output.WriteLine(Wrapping.Fold(verdict, 100, 0));
        ComparedRow[] excluded = [.. compared.Rows.Where(r => r.Observation.IsExcluded)];
        if (excluded.Length > 0)
        {
            output.WriteLine(Wrapping.Fold(
                $"Excluded: {string.Join("; ", excluded.Select(r => $"row {r.Observation.Id}, {r.Observation.Exclusion}"))}."
                + (compared.FitWithExcluded is { } all ? $" With them the figure of merit would be {all.FigureOfMeritDecibels.Value:0.0} dB and the radius {all.RadiusMetres.Value * 1000:0.00} mm." : string.Empty), 100, 0));
        }

        output.WriteLine();
        FieldTestTables.Compared.WriteText(output, compared.Rows);
        output.WriteLine();
        output.WriteLine("Observed share by predicted chance");
        FieldTestTables.Bins.WriteText(output, compared.Bins);
        output.WriteLine();
        output.WriteLine(Wrapping.Fold(Findings.Cautions[0], 100, 0));
    }
}
