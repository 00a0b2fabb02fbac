using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>Tells the main job's answer to people at a terminal, worst finding first.</summary>
internal static class StudyText
{
    private const int Width = 100;
    private const int MostZones = 6;

    /// <summary>Writes the short answer.</summary>
    internal static void WriteShort(TextWriter output, StudyReport report)
    {
        output.WriteLine($"Scenario {report.Scenario.Name}, layout {report.Scenario.Layout.Name}, wearer {report.Scenario.MainWearer.Name}");
        output.WriteLine();
        output.WriteLine(Wrapping.Fold($"Worst: {report.WorstFinding}", Width, 0));
        WriteRequirements(output, report);
        WriteBands(output, report);
        WriteVerdicts(output, report);
        WriteChanges(output, report);
        WriteZones(output, report, MostZones);
        if (report.Firing.SmallestMarginDecibels < 0)
        {
            output.WriteLine();
            output.WriteLine(Wrapping.Fold($"Firing: {report.Firing.Sentence}", Width, 0));
        }

        foreach (string flag in report.Air.Flags)
        {
            output.WriteLine();
            output.WriteLine(Wrapping.Fold($"Flag: {flag}", Width, 0));
        }

        output.WriteLine();
        output.WriteLine(Wrapping.Fold(
            "A design aid, no proof of safety: a detector adds to the long cane or guide dog and never replaces it. Assumptions and cautions are in the report.", Width, 0));
    }

    /// <summary>Writes the full answer: all tables, assumptions and cautions.</summary>
    internal static void WriteFull(TextWriter output, StudyReport report)
    {
        output.WriteLine($"Scenario {report.Scenario.Name}, layout {report.Scenario.Layout.Name}, wearer {report.Scenario.MainWearer.Name}");
        output.WriteLine();
        output.WriteLine(Wrapping.Fold($"Worst: {report.WorstFinding}", Width, 0));
        WriteRequirements(output, report);
        WriteBands(output, report);
        WriteVerdicts(output, report);
        WriteChanges(output, report);
        WriteZones(output, report, int.MaxValue);
        Section(output, "Poles that stand from the ground to above the head, over the width of the silhouette");
        SideTables.StripShares.WriteText(output, report.PoleStrips);
        Section(output, $"Warned in time on every wearer, {report.Scenario.Probes[0].Name}");
        SideTables.Wearers.WriteText(output, [.. SideTables.WearerRows(report)]);
        Section(output, $"Tilt of each sensor, {report.Scenario.Probes[0].Name}");
        SideTables.Tilts.WriteText(output, [.. SideTables.TiltRows(report)]);
        Section(output, $"Hazard closing in from other directions, positive left, {report.Scenario.Probes[0].Name}");
        SideTables.Azimuths.WriteText(output, [.. SideTables.AzimuthRows(report)]);
        Section(output, $"Turning on the spot: directions from 90° right to 90° left in which {report.Scenario.Probes[0].Name} is reported");
        SideTables.Turning.WriteText(output, report.Turning);
        Section(output, "With one sensor dead or covered");
        SideTables.Outages.WriteText(output, report.Outages);
        Section(output, "Floor and limbs that the sensors hear");
        SideTables.SelfEchoes.WriteText(output, report.SelfEchoes);
        Section(output, "Firing");
        output.WriteLine(Wrapping.Fold($"{FiringTables.OrderInWords(report.Scenario.Layout, report.Firing.Schedule)}. {report.Firing.Sentence}", Width, 0));
        FiringTables.FalseReports.WriteText(output, report.Firing.FalseReports);
        Section(output, "Air");
        AirTables.Air.WriteText(output, [new AirRow(report.Air, report.Scenario.Device.AssumedMicrosecondsPerCentimetre)]);
        if (!report.Air.Flags.IsEmpty)
        {
            WriteSentences(output, "Flags", report.Air.Flags);
        }

        WriteSentences(output, "Assumptions", report.Assumptions);
        WriteSentences(output, "Cautions", Findings.Cautions);
    }

    private static void WriteRequirements(TextWriter output, StudyReport report)
    {
        if (report.Requirements.IsEmpty)
        {
            return;
        }

        Section(output, "Requirements");
        foreach (RequirementResult requirement in report.Requirements)
        {
            output.WriteLine(Wrapping.Fold($"{requirement.Requirement.Text}: {requirement.Sentence}", Width, 0));
        }
    }

    // One row for each band, one column for each probe: the shares that are asked for first.
    private static void WriteBands(TextWriter output, StudyReport report)
    {
        Section(output, $"Share of the wearer's silhouette warned in time ({report.TimeNeededSeconds:0.00} s needed), in percent");
        ApproachMap[] maps = [.. report.Maps];
        Column<HeightBand>[] columns =
        [
            new(null, "band", b => Cell.Of(Words.Of(b))),
            .. maps.Select(m => new Column<HeightBand>(null, m.Probe.Name, b => Cell.Of(100 * m.ShareOf(b).WarnedFraction, 0))),
        ];
        new ResultTable<HeightBand>(columns).WriteText(output, StudyTables.HeadToFoot);
    }

    private static void WriteVerdicts(TextWriter output, StudyReport report)
    {
        Section(output, "Obstacles, the worst first");
        if (report.Verdicts.IsEmpty)
        {
            output.WriteLine("The scenario has no obstacles.");
            return;
        }

        StudyTables.Verdicts.WriteText(output, [.. StudyTables.VerdictRows(report)
            .OrderByDescending(r => r.Verdict.IsDanger).ThenByDescending(r => r.Verdict.IsOnCourse)
            .ThenByDescending(r => BlindZoneFinder.WeightOf(r.Verdict.HighBand)).ThenByDescending(r => r.Verdict.ClosingSpeedMetresPerSecond).ThenBy(r => r.Verdict.WarningSeconds)]);
    }

    private static void WriteChanges(TextWriter output, StudyReport report)
    {
        ObstacleVerdict[] dangers = [.. report.Verdicts.Where(v => v.IsDanger)];
        if (dangers.Length == 0)
        {
            return;
        }

        Section(output, "Smallest single change that mends each");
        foreach (ObstacleVerdict verdict in dangers)
        {
            string answer = report.Changes.TryGetValue(verdict.Obstacle.Id, out SmallestChange? change)
                ? ChangeInWords(change)
                : "none of those tried (tilt, azimuth, threshold, site, part).";
            output.WriteLine(Wrapping.Fold($"{verdict.Obstacle.Id}: {answer}", Width, 0));
        }
    }

    private static string ChangeInWords(SmallestChange change)
    {
        string lost = change.Lost.IsEmpty ? "loses no obstacle" : $"loses {string.Join(", ", change.Lost)}";
        string gained = change.Gained.IsEmpty ? string.Empty : $" also gains {string.Join(", ", change.Gained)};";
        string floor = change.FloorNote.Length == 0 ? string.Empty : $"; {change.FloorNote}";
        string bands = change.Bands.IsEmpty ? "no band changes by half a per cent" : string.Join(", ", StudyTables.BandsInWords(change));
        return $"{change.Description};{gained} {lost}; {bands}{floor}.";
    }

    private static void WriteZones(TextWriter output, StudyReport report, int most)
    {
        Section(output, "Blind zones, the most dangerous first");
        BlindZone[] zones = [.. report.BlindZones.OrderByDescending(z => z.DangerSquareMetres)];
        if (zones.Length == 0)
        {
            output.WriteLine("None was found for the probes computed.");
            return;
        }

        StudyTables.BlindZones.WriteText(output, [.. zones.Take(most)]);
        if (zones.Length > most)
        {
            output.WriteLine($"and {zones.Length - most} more in blind-zones.csv.");
        }
    }

    private static void Section(TextWriter output, string title)
    {
        output.WriteLine();
        output.WriteLine(title);
    }

    private static void WriteSentences(TextWriter output, string title, IEnumerable<string> sentences)
    {
        Section(output, title);
        foreach (string sentence in sentences)
        {
            output.WriteLine($"- {Wrapping.Fold(sentence, Width, 2)}");
        }
    }
}
