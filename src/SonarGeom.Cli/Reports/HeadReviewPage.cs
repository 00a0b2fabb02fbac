using System.Collections.Immutable;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The pictures and the page of a head-height review: one to read, sign and keep.</summary>
internal static class HeadReviewPage
{
    /// <summary>Makes a picture for each probe, a map for each wearer, and the page head-review.html. Touches no file.</summary>
    /// <param name="review">The review.</param>
    /// <param name="inputsHash">Hash of the inputs.</param>
    internal static IReadOnlyList<ReportFile> Of(HeadReview review, string inputsHash)
    {
        DrawnPicture[] drawn = Picture.Draw(
        [
            .. review.Cases[0].Maps.Select((m, p) => new Picture($"head-band-{FileNames.Of(m.Probe.Name)}", Maps(review, p))).DistinctBy(p => p.Stem),
        ]);
        byte[] page = PageOf(review, inputsHash, drawn.ToDictionary(d => d.Picture.Stem, StringComparer.Ordinal));
        return [.. drawn.SelectMany(d => d.Files), new("head-review.html", page)];
    }

    /// <summary>Returns the head-band maps of one probe, a wearer each.</summary>
    internal static HeatmapFigure Maps(HeadReview review, int probe)
    {
        ApproachMap first = review.Cases[0].Maps[probe];
        double low = review.Cases.Min(c => c.BandLowMetres) - 0.05, high = review.Cases.Max(c => c.BandHighMetres) + 0.05;
        double half = review.Cases.Max(c => HalfWidth(c.Maps[probe])) + 0.05;
        return new(
            [.. review.Cases.Select(c => Panel(c, c.Maps[probe]))],
            MapFigures.Lateral with { From = -half, To = half }, MapFigures.Height with { From = low, To = high },
            MapFigures.WarningColours(review.Scenario, first.TimeNeededSeconds))
        {
            Title = $"Head band of three wearers: {MapFigures.Described(first.Probe)}",
            Finding = Finding(review, probe),
            SideNames = ("left", "right"),
            Columns = review.Cases.Length,
            Footnotes =
            [
                $"{FigureWords.Capital(string.Join("; ", review.Cases.Select(c => $"{c.Role}: {c.Wearer}, {c.StatureMetres:0.00} m")))}. Seen from behind the wearer; each band lies at its wearer's own height. Colour: warning time left at the first reliable report. "
                + $"Hatched: not warned of in time ({first.TimeNeededSeconds:0.0#} s), by cause.",
                FigureWords.Caution,
            ],
        };
    }

    private static string Finding(HeadReview review, int probe) =>
        $"Head band warned in time: {FigureWords.Listed([.. review.Cases.Select(c => $"{c.Role} {FigureWords.Percent(c.Maps[probe].ShareOf(HeightBand.Head).WarnedFraction)}")])}.";

    private static HeatmapPanel Panel(HeadReviewCase wearer, ApproachMap map) => new(
        MapFigures.Grid(map.Grid, i => IsHead(map, i) && map.InSilhouette[i] ? map.WarningSeconds[i] : double.NaN))
    {
        Caption = wearer.Role,
        Categories = MapFigures.Blind(map),
        Outlines =
        [
            new(
                "swept silhouette in the head band",
                [.. ContourTracer.Trace(MapFigures.Grid(map.Grid, i => IsHead(map, i) && map.InSilhouette[i] ? 1 : 0), 0.5).Select(l => l.Points)],
                true, new(Colour.Ink, DashPattern.Full, 2.5)),
        ],
        Bands = [new("head", wearer.BandLowMetres, wearer.BandHighMetres) { Detail = $"{FigureWords.Percent(map.ShareOf(HeightBand.Head).WarnedFraction)} in time" }],
    };

    private static bool IsHead(ApproachMap map, int cell) => map.RowBands[cell / map.Grid.Columns] == HeightBand.Head;

    private static double HalfWidth(ApproachMap map)
    {
        int[] cells = [.. Enumerable.Range(0, map.Grid.Count).Where(i => IsHead(map, i) && map.InSilhouette[i])];
        return cells.Length == 0 ? 0.2 : cells.Max(i => Math.Abs(map.Grid.YMetres(i % map.Grid.Columns)));
    }

    private static byte[] PageOf(HeadReview review, string inputsHash, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        var page = new Page($"Head-height review of the layout “{review.Scenario.Layout.Name}”", StudyPage.Footer(inputsHash));
        page.Lead($"Scenario {review.Scenario.Name}; the shortest, the tallest and a head-bowed wearer against what hangs at head height. The sheet to print and sign is also head-review.pdf.");
        page.Section("Findings, the worst first");
        if (review.Findings.IsEmpty)
        {
            page.Callout("Result", "No hazard at head height is missed and no blind zone was found in the head band, for the wearers and probes computed.", false);
        }
        else
        {
            page.Callout("Worst", review.Findings[0].Sentence, true);
            page.Table(
                "What is not warned of in time at head height", review.Findings,
                new PageColumn<HeadReviewFinding>("Rank", f => Cell.Of(f.Rank)),
                new("Wearer", f => Cell.Of(f.Role)),
                new("Subject", f => Cell.Of(f.Subject)),
                new("Finding", f => Cell.Of(f.Sentence)));
        }

        page.Text(FigureWords.Caution);
        page.Section("Head band of each wearer");
        page.Table(
            "The wearers", review.Cases,
            new PageColumn<HeadReviewCase>("Role", c => Cell.Of(c.Role)),
            new("Wearer", c => Cell.Of(c.Wearer)),
            new("Stature [m]", c => Cell.Of(c.StatureMetres, 2)),
            new("Head band from [m]", c => Cell.Of(c.BandLowMetres, 2)),
            new("Head band to [m]", c => Cell.Of(c.BandHighMetres, 2)));
        for (int p = 0; p < review.Cases[0].Maps.Length; p++)
        {
            WriteProbe(page, review, p, pictures);
        }

        WriteHazards(page, review);
        page.Section("Assumptions");
        page.List(review.Assumptions);
        page.Section("Cautions");
        page.List(Findings.Cautions);
        page.Section("Review");
        page.Text(HeadReviewSheet.Statement);
        page.Signatures(HeadReviewSheet.Roles);
        return page.Finish();
    }

    private static void WriteProbe(Page page, HeadReview review, int probe, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        ApproachMap first = review.Cases[0].Maps[probe];
        page.Part(FigureWords.Named(first.Probe));
        if (pictures.TryGetValue($"head-band-{FileNames.Of(first.Probe.Name)}", out DrawnPicture? picture))
        {
            page.Picture(picture, "head-band.csv");
        }

        page.Table(
            $"Head band warned in time, {first.Probe.Name}", review.Cases,
            new PageColumn<HeadReviewCase>("Wearer", c => Cell.Of(c.Role)),
            new("Warned in time [%]", c => Cell.Of(100 * c.Maps[probe].ShareOf(HeightBand.Head).WarnedFraction, 1)),
            new("Warning at the worst cell [s]", c => Cell.Of(c.Maps[probe].ShareOf(HeightBand.Head).LeastWarningSeconds, 2)),
            new("Needed [s]", c => Cell.Of(c.Maps[probe].TimeNeededSeconds, 2)),
            new("Blind zones", c => Cell.Of(c.Zones.Count(z => z.ProbeName == first.Probe.Name))),
            new("Largest", c => c.Zones.FirstOrDefault(z => z.ProbeName == first.Probe.Name) is { } z ? Cell.Of(FigureWords.Zone(z)) : default));
    }

    private static void WriteHazards(Page page, HeadReview review)
    {
        page.Section("Hazards that reach into the head band");
        IReadOnlyList<HeadHazardRow> hazards = HeadReviewResults.HazardRows(review);
        if (hazards.Count == 0)
        {
            page.Text("The scenario has none.");
            return;
        }

        page.Table(
            "Verdict on each hazard and wearer", hazards,
            new PageColumn<HeadHazardRow>("Hazard", r => Cell.Of(r.Verdict.Verdict.Obstacle.Id)),
            new("Wearer", r => Cell.Of(r.Role)),
            new("Verdict", r => Cell.Of(Words.Of(r.Verdict.Verdict.Outcome))),
            new("Warning [s]", r => Cell.Of(r.Verdict.Verdict.FirstReliableMetres > 0 ? r.Verdict.Verdict.WarningSeconds : null, 2)),
            new("Needed [s]", r => Cell.Of(r.Verdict.Verdict.TimeNeededSeconds, 2)),
            new("Sensor", r => Cell.Of(r.Verdict.Verdict.Sensor)),
            new("Why", r => r.Verdict.Verdict.Cause == Echoes.LimitingCause.None ? default : Cell.Of(Findings.InWords(r.Verdict.Verdict))),
            new("Note", r => Cell.Of(r.Verdict.Verdict.Obstacle.Note)));
    }
}
