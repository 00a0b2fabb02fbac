using System.CommandLine;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Rendering.Sheets;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Reviews head height in one step, for the shortest, the tallest and a head-bowed wearer.</summary>
internal sealed class HeadReviewCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;

    private readonly OutputOption _output;

    private readonly Option<bool> _quiet = new("--quiet", "-q") { Description = "Shows no progress." };
    private readonly AnswerOptions _answer;

    internal HeadReviewCommand()
        : base(
            "head-review",
            "Reviews head height, worst first: the head band of the shortest, the tallest and a head-bowed wearer against the hazards that hang there. "
            + "Writes a sheet with the assumptions that a reviewer can sign, as PDF and text.",
            "head-review tram-platform --output output/tram-heads")
    {
        _scenario = new ScenarioOptions(this, hasWearer: false, hasProbe: false);
        _output = new OutputOption(this, "to write into", "head-review- and the name of the scenario");
        Add(_quiet);
        _answer = new AnswerOptions(this, "the findings");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        _answer.Check(line);
        LoadedScenario loaded = _scenario.Read(line);
        string path = _output.PathOf(line, $"head-review-{FileNames.Of(loaded.Scenario.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        HeadReview review;
        using (var progress = new ProgressLine(session, line.GetValue(_quiet)))
        {
            review = HeadReview.Run(loaded.Scenario, Inputs.Resources(_scenario.Tables(line)), progress, session.Cancellation);
            HeadReviewResults.Write(review, loaded.Sha256, folder);
            folder.WriteBytes("head-review.pdf", SheetWriter.Pdf(HeadReviewSheet.Of(review, loaded.Sha256)));
            foreach (ReportFile file in HeadReviewPage.Of(review, loaded.Sha256))
            {
                folder.WriteBytes(file.Name, file.Bytes);
            }

            using var text = new StreamWriter(folder.Create("head-review.txt"));
            text.NewLine = "\n";
            HeadReviewSheet.WriteText(text, review);
        }

        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        _answer.Print(
            line,
            session.Output,
            output => HeadReviewResults.FindingsTable.WriteCsv(output, review.Findings),
            "head_review",
            loaded.Sha256,
            json => HeadReviewResults.Write(json, review),
            output =>
            {
                HeadReviewResults.WriteText(output, review);
                output.WriteLine();
                output.WriteLine($"Wrote {folder.Names.Count} files to {path}; the sheet to sign is {Path.Combine(path, "head-review.pdf")}, to be read {Path.Combine(path, "head-review.html")}.");
            });
        return ExitCode.Done;
    }
}
