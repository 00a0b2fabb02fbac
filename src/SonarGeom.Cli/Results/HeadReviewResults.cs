using System.Collections.Immutable;
using System.Text.Json;
using SonarGeom.Coverage;
using SonarGeom.Files.Output;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>The head band's share for one probe on one wearer.</summary>
internal readonly record struct HeadShareRow(HeadReviewCase Case, ApproachMap Map);

/// <summary>A hazard at head height on one wearer.</summary>
internal readonly record struct HeadHazardRow(string Role, VerdictRow Verdict);

/// <summary>A head-band blind zone on one wearer.</summary>
internal readonly record struct HeadZoneRow(string Role, BlindZone Zone);

/// <summary>The tables of a head-height review.</summary>
internal static class HeadReviewResults
{
    /// <summary>Gets the findings, worst first.</summary>
    internal static ResultTable<HeadReviewFinding> FindingsTable { get; } = new(
        new("rank", "rank", f => Cell.Of(f.Rank)),
        new("wearer_role", "wearer", f => Cell.Of(f.Role)),
        new("subject", "subject", f => Cell.Of(f.Subject)),
        new("finding", "finding", f => Cell.Of(f.Sentence)),
        new("danger_unitless", null, f => Cell.Of(f.DangerUnitless, 4)));

    /// <summary>Gets the shares of the head band.</summary>
    internal static ResultTable<HeadShareRow> Shares { get; } = new(
        new("wearer_role", "wearer", r => Cell.Of(r.Case.Role)),
        new("wearer", "name", r => Cell.Of(r.Case.Wearer)),
        new("stature_m", "stature [m]", r => Cell.Of(r.Case.StatureMetres, 3)),
        new("band_low_z_m", "band from [m]", r => Cell.Of(r.Case.BandLowMetres, 2)),
        new("band_high_z_m", "to [m]", r => Cell.Of(r.Case.BandHighMetres, 2)),
        new("probe", "probe", r => Cell.Of(r.Map.Probe.Name)),
        new("cells", null, r => Cell.Of(r.Map.ShareOf(HeightBand.Head).Cells)),
        new("warned_in_time_percent", "warned in time [%]", r => Cell.Of(r.Map.ShareOf(HeightBand.Head).WarnedFraction * 100, 1)),
        new("least_warning_s", "worst cell [s]", r => Cell.Of(r.Map.ShareOf(HeightBand.Head).LeastWarningSeconds, 2)),
        new("time_needed_s", "needed [s]", r => Cell.Of(r.Map.TimeNeededSeconds, 2)));

    /// <summary>Gets the hazards.</summary>
    internal static ResultTable<HeadHazardRow> Hazards { get; } = new(
        [new("wearer_role", "wearer", r => Cell.Of(r.Role)), .. StudyTables.Verdicts.Of<HeadHazardRow>(r => r.Verdict)]);

    /// <summary>Gets the blind zones.</summary>
    internal static ResultTable<HeadZoneRow> Zones { get; } = new(
        [new("wearer_role", "wearer", r => Cell.Of(r.Role)), .. StudyTables.BlindZones.Of<HeadZoneRow>(r => r.Zone)]);

    /// <summary>Returns the rows of the shares.</summary>
    internal static IReadOnlyList<HeadShareRow> ShareRows(HeadReview review) => [.. review.Cases.SelectMany(c => c.Maps.Select(m => new HeadShareRow(c, m)))];

    /// <summary>Returns the rows of the hazards.</summary>
    internal static IReadOnlyList<HeadHazardRow> HazardRows(HeadReview review) =>
        [.. review.Cases.SelectMany(c => c.Hazards.Select(h => new HeadHazardRow(c.Role, new VerdictRow(h, null))))];

    /// <summary>Returns the rows of the zones.</summary>
    internal static IReadOnlyList<HeadZoneRow> ZoneRows(HeadReview review) =>
        [.. review.Cases.SelectMany(c => c.Zones.Select(z => new HeadZoneRow(c.Role, z)))];

    /// <summary>Writes the review as JSON members.</summary>
    internal static void Write(Utf8JsonWriter json, HeadReview review)
    {
        json.WriteString("scenario", review.Scenario.Name);
        json.WriteString("layout", review.Scenario.Layout.Name);
        FindingsTable.WriteArray(json, "findings", review.Findings);
        Shares.WriteArray(json, "head_band", ShareRows(review));
        Hazards.WriteArray(json, "hazards", HazardRows(review));
        Zones.WriteArray(json, "blind_zones", ZoneRows(review));
        json.WriteSentences("assumptions", review.Assumptions);
        json.WriteSentences("cautions", Findings.Cautions);
    }

    /// <summary>Writes the review as files.</summary>
    internal static void Write(HeadReview review, string inputsHash, OutputFolder folder)
    {
        using (Stream findings = folder.Create("findings.csv"))
        {
            FindingsTable.WriteCsv(findings, review.Findings);
        }

        using (Stream shares = folder.Create("head-band.csv"))
        {
            Shares.WriteCsv(shares, ShareRows(review));
        }

        using (Stream hazards = folder.Create("hazards.csv"))
        {
            Hazards.WriteCsv(hazards, HazardRows(review));
        }

        using (Stream zones = folder.Create("blind-zones.csv"))
        {
            Zones.WriteCsv(zones, ZoneRows(review));
        }

        using (Stream whole = folder.Create("head-review.json"))
        {
            JsonResult.Write(whole, "head_review", inputsHash, json => Write(json, review));
        }

        foreach (HeadShareRow row in ShareRows(review))
        {
            using Stream grid = folder.Create($"map-{FileNames.Of(row.Case.Role)}-{FileNames.Of(row.Map.Probe.Name)}.csv");
            GridCsv.Write(grid, row.Map);
        }
    }

    /// <summary>Writes the short answer for people.</summary>
    internal static void WriteText(TextWriter output, HeadReview review)
    {
        output.WriteLine($"Head-height review: scenario {review.Scenario.Name}, layout {review.Scenario.Layout.Name}");
        output.WriteLine();
        if (review.Findings.IsEmpty)
        {
            output.WriteLine("No hazard at head height is missed and no blind zone was found in the head band, for the wearers and probes computed.");
        }

        foreach (HeadReviewFinding finding in review.Findings)
        {
            output.WriteLine($"{finding.Rank,3}. {Wrapping.Fold(finding.Sentence, 100, 5)}");
        }

        output.WriteLine();
        output.WriteLine("Head band");
        Shares.WriteText(output, ShareRows(review));
        output.WriteLine();
        output.WriteLine("Hazards that reach into the head band");
        if (HazardRows(review).Count == 0)
        {
            output.WriteLine("The scenario has none.");
        }
        else
        {
            Hazards.WriteText(output, HazardRows(review));
        }
    }
}
