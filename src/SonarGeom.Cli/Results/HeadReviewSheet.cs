using System.Collections.Immutable;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Rendering.Sheets;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>The head-height review as a sheet to print, read and sign.</summary>
internal static class HeadReviewSheet
{
    /// <summary>What a reviewer signs.</summary>
    internal const string Statement =
        "I have read the findings, the assumptions and the cautions of this sheet. My signature says that I reviewed them; it does not say that the device is safe.";

    /// <summary>Who signs.</summary>
    internal static readonly ImmutableArray<string> Roles = ["Designer", "Orientation and mobility specialist", "Wearer, or a person the wearer trusts"];

    /// <summary>Returns the sheet.</summary>
    internal static SheetDocument Of(HeadReview review, string inputsHash)
    {
        var blocks = ImmutableArray.CreateBuilder<SheetBlock>();
        blocks.Add(new SheetHeading("Findings, the worst first"));
        if (review.Findings.IsEmpty)
        {
            blocks.Add(new SheetParagraph("No hazard at head height is missed and no blind zone was found in the head band, for the wearers and probes computed."));
        }
        else
        {
            blocks.Add(TableOf("What is not warned of in time at head height", HeadReviewResults.FindingsTable, review.Findings));
        }

        blocks.Add(new SheetHeading("Head band of each wearer"));
        blocks.Add(TableOf("The wearers", SheetWearers, review.Cases));
        blocks.Add(TableOf("Share of the head band warned in time", SheetShares, HeadReviewResults.ShareRows(review)));
        blocks.Add(new SheetHeading("Hazards that reach into the head band"));
        if (HeadReviewResults.HazardRows(review) is { Count: > 0 } hazards)
        {
            blocks.Add(TableOf("Verdict on each hazard and wearer", SheetHazards, hazards));
        }
        else
        {
            blocks.Add(new SheetParagraph("The scenario has none."));
        }

        blocks.Add(new SheetHeading("Assumptions"));
        blocks.Add(new SheetList(review.Assumptions));
        blocks.Add(new SheetHeading("Cautions"));
        blocks.Add(new SheetList(Findings.Cautions));
        blocks.Add(new SheetHeading("Review"));
        blocks.Add(new SheetSignatures(Statement, Roles));
        return new SheetDocument("Head-height review", blocks.ToImmutable())
        {
            Subtitle = $"Scenario {review.Scenario.Name}; layout {review.Scenario.Layout.Name}.",
            Footer = $"sonargeom {Tool.Version}, inputs {inputsHash[..12]}; a design aid, no proof of safety",
        };
    }

    /// <summary>Writes the sheet as text.</summary>
    internal static void WriteText(TextWriter output, HeadReview review)
    {
        HeadReviewResults.WriteText(output, review);
        output.WriteLine();
        output.WriteLine("Assumptions");
        WriteList(output, review.Assumptions);
        output.WriteLine();
        output.WriteLine("Cautions");
        WriteList(output, Findings.Cautions);
        output.WriteLine();
        output.WriteLine("Review");
        output.WriteLine(Wrapping.Fold(Statement, 100, 0));
        foreach (string role in Roles)
        {
            output.WriteLine();
            output.WriteLine(role);
            output.WriteLine("Name: ______________________  Signature: ______________________  Date: ____________");
        }
    }

    // A page is narrow: the columns that a reviewer asks for.
    private static ResultTable<HeadReviewCase> SheetWearers { get; } = new(
        new(null, "wearer", c => Cell.Of(c.Role)),
        new(null, "name", c => Cell.Of(c.Wearer)),
        new(null, "stature [m]", c => Cell.Of(c.StatureMetres, 3)),
        new(null, "head band from [m]", c => Cell.Of(c.BandLowMetres, 2)),
        new(null, "to [m]", c => Cell.Of(c.BandHighMetres, 2)));

    private static ResultTable<HeadShareRow> SheetShares { get; } = new(
        new(null, "wearer", r => Cell.Of(r.Case.Role)),
        new(null, "probe", r => Cell.Of(r.Map.Probe.Name)),
        new(null, "warned in time [%]", r => Cell.Of(r.Map.ShareOf(HeightBand.Head).WarnedFraction * 100, 1)),
        new(null, "worst cell [s]", r => Cell.Of(r.Map.ShareOf(HeightBand.Head).LeastWarningSeconds, 2)),
        new(null, "needed [s]", r => Cell.Of(r.Map.TimeNeededSeconds, 2)));

    private static ResultTable<HeadHazardRow> SheetHazards { get; } = new(
        new(null, "wearer", r => Cell.Of(r.Role)),
        new(null, "hazard", r => Cell.Of(r.Verdict.Verdict.Obstacle.Id)),
        new(null, "verdict", r => Cell.Of(Words.Of(r.Verdict.Verdict.Outcome))),
        new(null, "warning [s]", r => Cell.Of(r.Verdict.Verdict.WarningSeconds > 0 ? r.Verdict.Verdict.WarningSeconds : null, 2)),
        new(null, "needed [s]", r => Cell.Of(r.Verdict.Verdict.TimeNeededSeconds, 2)),
        new(null, "why", r => Cell.Of(Findings.InWords(r.Verdict.Verdict))));

    private static SheetTable TableOf<T>(string caption, ResultTable<T> table, IReadOnlyCollection<T> rows)
    {
        (ImmutableArray<string> headings, ImmutableArray<bool> numbers, ImmutableArray<ImmutableArray<string>> cells) = table.Shown(rows);
        return new SheetTable(caption, [.. headings.Select((h, i) => new SheetColumn(h, numbers[i]))], cells);
    }

    private static void WriteList(TextWriter output, IEnumerable<string> sentences)
    {
        foreach (string sentence in sentences)
        {
            output.WriteLine($"- {Wrapping.Fold(sentence, 100, 2)}");
        }
    }
}
