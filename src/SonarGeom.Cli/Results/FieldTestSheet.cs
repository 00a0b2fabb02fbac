using System.Collections.Immutable;
using SonarGeom.Cli.Shell;
using SonarGeom.Rendering.Sheets;
using SonarGeom.Studies;
using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Cli.Results;

/// <summary>The sheet of a field test to print and fill by hand.</summary>
internal static class FieldTestSheet
{
    /// <summary>Returns the sheet.</summary>
    internal static SheetDocument Of(FieldPlan plan)
    {
        FieldSettings settings = plan.Settings;
        var blocks = ImmutableArray.CreateBuilder<SheetBlock>();
        blocks.Add(new SheetParagraph(
            "Date __________  Place ________________  Air ______ °C, ______ % humidity  Device ________"));
        blocks.Add(new SheetParagraph("Testers __________________________________________________"));
        blocks.Add(new SheetHeading("How to test"));
        blocks.Add(new SheetList(FieldPlan.Instructions));
        blocks.Add(new SheetParagraph(
            $"A trial counts as reported when the target is reported in {settings.RequiredHits} of {settings.WindowPings} pings. Predicted is the share of trials that should be reported, "
            + $"with what the uncertainty of the part allows; a count outside the expected reports disagrees with it at {100 * settings.ConfidenceFraction:0.#} % confidence. "
            + $"Computed for {settings.Air}."));
        blocks.Add(new SheetHeading("Trials"));
        blocks.Add(new SheetParagraph($"{plan.Rows.Length} rows, {plan.Rows.Sum(r => r.Trials)} trials. Chance: predicted share of reports. Expected: reports that agree with it."));
        foreach (IGrouping<string, FieldRow> target in plan.Rows.GroupBy(TargetOf))
        {
            blocks.Add(new SheetTable(
                target.Key,
                [
                    new("Row", true), new("Range [m]", true), new("Angle [°]", true), new("Trials", true), new("Chance [%]", true), new("Expected", true), new("Done"), new("Reports"),
                    new("Excluded, why"),
                ],
                [
                    .. target.Select(r => ImmutableArray.Create(
                        $"{r.Id}", $"{r.Position.RangeMetres:0.00}", Signed(r.Position.OffAxis.Degrees), $"{r.Trials}", $"{100 * r.PredictedProbability:0}",
                        $"{r.LeastReports} to {r.MostReports}", "_____", "_____", "______________")),
                ]));
        }

        blocks.Add(new SheetParagraph("Angles are positive to the left as the sensor looks. Copy the counts into the columns done_trials_count, reports_count, excluded, reason and note of the table that came with this sheet, and read it back with field-test read."));
        blocks.Add(new SheetHeading("Cautions"));
        blocks.Add(new SheetList([Findings.Cautions[0], Findings.Cautions[1], Findings.Cautions[5], Findings.Cautions[7]]));
        blocks.Add(new SheetSignatures("The trials were done as written here, and every row is accounted for.", ["Tester", "Witness"]));
        return new SheetDocument("Field test", blocks.ToImmutable())
        {
            Subtitle = $"{plan.Transducer.Name} on a stand: figure of merit {plan.Transducer.LateFigureOfMeritDecibels:0.0} ± {plan.Transducer.Evidence.FigureOfMeritUncertaintyDecibels:0.0} dB before the test.",
            Footer = $"sonargeom {Tool.Version}; a design aid, no proof of safety",
        };
    }

    private static string TargetOf(FieldRow row) =>
        row.Position.Turn.Degrees == 0 ? row.Position.Target.Name : $"{row.Position.Target.Name}, turned {Math.Abs(row.Position.Turn.Degrees):0}° to the {(row.Position.Turn.Degrees > 0 ? "left" : "right")}";

    private static string Signed(double degrees) => degrees > 0 ? $"+{degrees:0}" : $"{degrees:0}";
}
