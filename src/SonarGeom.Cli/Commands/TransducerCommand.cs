using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Echoes;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Kinds;
using SonarGeom.Files.Output;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Commands;

/// <summary>Tells the figures of a transducer and draws its beam.</summary>
internal sealed class TransducerCommand : ToolCommand
{
    private readonly Argument<string> _transducer = new("TRANSDUCER")
    {
        Description = $"A transducer: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Transducers)}.",
    };

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "A folder for the polar plot (PNG, SVG) and the beam as a table (CSV).",
        HelpName = "FOLDER",
    };

    private readonly AirOptions _air;
    private readonly AnswerOptions _answer;

    internal TransducerCommand()
        : base(
            "transducer",
            "Tells a transducer's figures: beam, figure of merit and how sure it is, dead zone, and how far it hears a wall, poles, a branch and spheres. "
            + "With --output it draws the polar plot.",
            "transducer swift-narrow-40 --output output/swift")
    {
        Add(_transducer);
        Add(_output);
        _air = new AirOptions(this);
        _answer = new AnswerOptions(this, "the two-way beam");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        TransducerFile file = InputFiles.ReadTransducer(line.GetRequiredValue(_transducer));
        var prepared = new PreparedTransducer(file.Transducer, _air.Medium(line));
        bool isCsv = _answer.IsCsv(line);
        if (line.GetValue(_output) is { } path)
        {
            using OutputFolder folder = OutputFolder.Open(path);
            TransducerFiles.Write(prepared, folder);
            folder.Commit();
        }

        if (isCsv)
        {
            TransducerTables.Beam.WriteCsv(session.Output, TransducerTables.BeamRows(prepared));
        }
        else if (_answer.IsJson(line))
        {
            WriteJson(session.Output, prepared, file.Claims);
        }
        else
        {
            WriteText(session.Output, prepared, file.Claims);
            if (line.GetValue(_output) is { } written)
            {
                session.Output.WriteLine();
                session.Output.WriteLine($"The polar plot is in {written}.");
            }
        }

        return ExitCode.Done;
    }

    private static void WriteJson(TextWriter output, PreparedTransducer prepared, ClaimSolution? claims) =>
        JsonResult.Write(output, "transducer", null, json =>
        {
            TransducerTables.Summary.WriteMembers(json, prepared);
            TransducerTables.Beamwidths.WriteArray(json, "beamwidths", TransducerTables.BeamwidthRows(prepared));
            TransducerTables.Hearing.WriteArray(json, "hearing", TransducerTables.HearingRows(prepared));
            TransducerTables.Threshold.WriteArray(json, "threshold", prepared.Transducer.Threshold.Points);
            TransducerTables.Beam.WriteArray(json, "beam", TransducerTables.BeamRows(prepared));
            if (claims is not null)
            {
                TransducerTables.Claims.WriteArray(json, "claims", claims.Residuals);
                json.WriteSentences("contradictions", claims.Contradictions);
            }
        });

    private static void WriteText(TextWriter output, PreparedTransducer prepared, ClaimSolution? claims)
    {
        Transducer t = prepared.Transducer;
        output.WriteLine(Wrapping.Fold($"{t.Name}: {t.Description}", 100, 0));
        output.WriteLine(Wrapping.Fold($"Figure of merit {t.LateFigureOfMeritDecibels:0.0} ± {t.Evidence.FigureOfMeritUncertaintyDecibels:0.#} dB. Its range is for: {t.Evidence.RangeTarget}", 100, 0));
        output.WriteLine(Wrapping.Fold($"How sure: {t.Evidence.Confidence} Source: {t.Evidence.Source}", 100, 0));
        output.WriteLine();
        output.WriteLine(Wrapping.Fold($"Transmitter: {t.Transmit.Description}. Receiver: {t.Receive.Description}.", 100, 0));
        output.WriteLine();
        TransducerTables.Summary.WriteFacts(output, prepared);
        output.WriteLine();
        TransducerTables.Threshold.WriteText(output, t.Threshold.Points);
        output.WriteLine();
        TransducerTables.Beamwidths.WriteText(output, TransducerTables.BeamwidthRows(prepared));
        output.WriteLine();
        output.WriteLine($"In {prepared.Medium.Air}, nothing else around:");
        TransducerTables.Hearing.WriteText(output, TransducerTables.HearingRows(prepared));
        if (claims is not null)
        {
            output.WriteLine();
            TransducerTables.Claims.WriteText(output, claims.Residuals);
        }
    }
}
