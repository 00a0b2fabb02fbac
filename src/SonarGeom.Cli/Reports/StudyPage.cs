using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The report page of a study: the worst finding first, complete without its pictures.</summary>
internal static partial class StudyPage
{
    /// <summary>Returns the page.</summary>
    /// <param name="report">What the study found.</param>
    /// <param name="inputsHash">Hash of the inputs.</param>
    /// <param name="pictures">The drawn pictures by their stems.</param>
    internal static byte[] Of(StudyReport report, string inputsHash, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        Scenario scenario = report.Scenario;
        var page = new Page($"What the layout “{scenario.Layout.Name}” warns of, and what it misses", Footer(inputsHash));
        page.Lead(
            $"Scenario {scenario.Name}, on {scenario.MainWearer.Name}, walking at {scenario.Walk.SpeedMetresPerSecond:0.0#} m/s. "
            + $"{scenario.Description} A warning counts as in time when it comes at least {report.TimeNeededSeconds:0.00} s before contact.");
        WriteAnswer(page, report, pictures);
        WriteRequirements(page, report);
        WriteVerdicts(page, report);
        WriteBlindZones(page, report);
        WriteChanges(page, report);
        WriteMaps(page, report, pictures);
        WriteSlices(page, report, pictures);
        WriteTilts(page, report, pictures);
        WriteWearers(page, report, pictures);
        WriteDirections(page, report, pictures);
        WriteOutages(page, report);
        WriteSelfEchoes(page, report);
        WriteAir(page, report);
        WriteSensors(page, report, pictures);
        WriteScene(page, report);
        page.Section("Definitions");
        page.Terms(Definitions.Of(report));
        page.Section("Assumptions");
        page.List(report.Assumptions);
        page.Section("Cautions");
        page.List(Findings.Cautions);
        return page.Finish();
    }

    /// <summary>Returns what stands at the end of a page.</summary>
    internal static string Footer(string inputsHash) => $"Made by sonargeom {Tool.Version}. SHA-256 of the inputs: {inputsHash}. {FigureWords.Caution}";

    private static void WriteAnswer(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Worst finding");
        bool isBad = report.Verdicts.Any(v => v.IsDanger) || !report.BlindZones.IsEmpty;
        page.Callout(isBad ? "Worst" : "Result", report.WorstFinding, isBad);
        page.Text(FigureWords.Caution);
        page.List(report.Maps.Select(m =>
            $"{m.Probe.Name}: {MapFigures.Finding(m, [.. report.BlindZones.Where(z => z.ProbeName == m.Probe.Name)])}"));
        page.Table(
            $"Share of the wearer's silhouette warned in time, by height band and probe ({report.TimeNeededSeconds:0.00} s needed)",
            FigureWords.Bands,
            [
                new("Height band", b => Cell.Of(Words.Of(b))),
                new("From [m]", b => Cell.Of(report.Posed.BandLowMetres(b), 2)),
                new("To [m]", b => Cell.Of(report.Posed.BandHighMetres(b), 2)),
                .. report.Maps.Select(m => new PageColumn<HeightBand>($"{m.Probe.Name} [%]", b => Cell.Of(100 * m.ShareOf(b).WarnedFraction, 1))),
            ]);
        page.Picture(pictures["bands"], "bands.csv");
    }

    private static void WriteRequirements(Page page, StudyReport report)
    {
        page.Section("Requirements");
        if (report.Requirements.IsEmpty)
        {
            page.Text("The scenario states no requirement.");
            return;
        }

        int failed = report.Requirements.Count(r => !r.IsMet);
        page.Callout(
            failed == 0 ? "Met" : "Not met",
            failed == 0 ? "Every stated requirement holds." : $"{failed} of {report.Requirements.Length} stated requirements do not hold.", failed > 0);
        page.Table(
            "Stated requirements", report.Requirements,
            new PageColumn<RequirementResult>("Requirement", r => Cell.Of(r.Requirement.Text)),
            new("Holds", r => Cell.Of(r.IsMet ? "met" : "NOT met")),
            new("Reached [%]", r => Cell.Of(100 * r.ReachedFraction, 1)),
            new("Required [%]", r => Cell.Of(100 * r.Requirement.ShareFraction, 1)),
            new("In words", r => Cell.Of(r.Sentence)));
    }

    private static void WriteVerdicts(Page page, StudyReport report)
    {
        page.Section("Verdict on each obstacle");
        if (report.Verdicts.IsEmpty)
        {
            page.Text("The scenario has no obstacles.");
            return;
        }

        int onWay = report.Verdicts.Count(v => v.IsOnCourse), danger = report.Verdicts.Count(v => v.IsDanger);
        page.Text(
            $"{onWay} of {report.Verdicts.Length} obstacles stand in the way; {danger} of these are not warned of in time on the right side. "
            + "Worst first. Margin: of the best sensor at the last useful distance, in the least good stride phase that must still report.");
        page.Table(
            "Obstacles, the worst first", Sorted(report.Verdicts),
            new PageColumn<ObstacleVerdict>("Obstacle", v => Cell.Of(v.Obstacle.Id)),
            new("Verdict", v => Cell.Of(Words.Of(v.Outcome))),
            new("Why", v => v.Cause == LimitingCause.None ? default : Cell.Of(Findings.InWords(v))),
            new("Height bands", v => Cell.Of(Words.Span(v.LowBand, v.HighBand))),
            new("Side", v => Cell.Of(Words.Of(v.Side))),
            new("Reported from [m]", v => Cell.Of(StudyTables.ReportedFrom(v))),
            new("Lost again below [m]", v => Cell.Of(v.LostAgainBelowMetres > 0 ? v.LostAgainBelowMetres : null, 2)),
            new("Warning [s]", v => Cell.Of(v.FirstReliableMetres > 0 ? v.WarningSeconds : null, 2)),
            new("Needed [s]", v => Cell.Of(v.TimeNeededSeconds, 2)),
            new("Closing [m/s]", v => Cell.Of(v.ClosingSpeedMetresPerSecond, 2)),
            new("Margin [dB]", v => Cell.Of(v.MarginAtNeedDecibels, 1)),
            new("Sensor", v => Cell.Of(v.Sensor)),
            new("Announced", v => Cell.Of(Words.Of(v.Announced))),
            new("Note", v => Cell.Of(v.Obstacle.Note)));
    }

    private static void WriteBlindZones(Page page, StudyReport report)
    {
        page.Section("Blind zones");
        if (report.BlindZones.IsEmpty)
        {
            page.Text("No blind zone was found for the probes computed.");
            return;
        }

        BlindZone[] zones = [.. report.BlindZones.OrderByDescending(z => z.DangerSquareMetres)];
        page.Text(
            $"{zones.Length} connected parts of the silhouette are not warned of in time, over all probes. The most dangerous, for {zones[0].ProbeName}: {FigureWords.Zone(zones[0])}. "
            + "Danger weighs the band by the largest circle that fits; see the assumptions.");
        page.Table(
            "Blind zones, the most dangerous first", zones,
            new PageColumn<BlindZone>("Zone", z => Cell.Of(z.Name)),
            new("Probe", z => Cell.Of(z.ProbeName)),
            new("Band", z => Cell.Of(Words.Of(z.Band))),
            new("Side", z => Cell.Of(Words.Of(z.Side))),
            new("Cause", z => Cell.Of(Findings.InWords(z.Cause))),
            new("Cells with this cause [%]", z => Cell.Of(100 * z.CauseFraction, 1)),
            new("Largest circle [m]", z => Cell.Of(z.InscribedDiameterMetres, 2)),
            new("Area [m²]", z => Cell.Of(z.AreaSquareMetres, 4)),
            new("From height [m]", z => Cell.Of(z.LowZMetres, 2)),
            new("To height [m]", z => Cell.Of(z.HighZMetres, 2)),
            new("Right edge [m left of middle]", z => Cell.Of(z.RightYMetres, 2)),
            new("Left edge [m left of middle]", z => Cell.Of(z.LeftYMetres, 2)),
            new("Never heard [%]", z => Cell.Of(100 * z.NeverHeardFraction, 1)),
            new("Longest warning [s]", z => Cell.Of(z.LongestWarningSeconds, 2)));
    }

    private static void WriteChanges(Page page, StudyReport report)
    {
        page.Section("What to change");
        ObstacleVerdict[] dangers = [.. Sorted(report.Verdicts).Where(v => v.IsDanger)];
        if (dangers.Length == 0)
        {
            page.Text("Every obstacle in the way is warned of in time: no change was looked for.");
            return;
        }

        int mended = dangers.Count(v => report.Changes.ContainsKey(v.Obstacle.Id));
        page.Text(
            $"A single change was found for {mended} of {dangers.Length} obstacles: the cheapest that mends it among tilt and azimuth up to 15°, threshold up to 6 dB, "
            + "other sites and other parts, each evaluated in full. The table names what each would gain and lose elsewhere.");
        page.Table(
            "Smallest single change for each obstacle not warned of in time", dangers,
            new PageColumn<ObstacleVerdict>("Obstacle", v => Cell.Of(v.Obstacle.Id)),
            new("Change", v => Cell.Of(Change(v)?.Description ?? "none found among those tried")),
            new("Also gains", v => Change(v) is { } c ? Cell.Of(c.Gained) : default),
            new("Loses", v => Change(v) is { } c ? Cell.Of(c.Lost) : default),
            new("Bands", v => Change(v) is { } c ? Cell.Of(c.Bands.IsEmpty ? "unchanged" : string.Join(", ", StudyTables.BandsInWords(c))) : default),
            new("Floor echo", v => Change(v) is { } c ? Cell.Of(c.FloorNote.Length == 0 ? "stays silent" : c.FloorNote) : default));

        SmallestChange? Change(ObstacleVerdict v) => report.Changes.GetValueOrDefault(v.Obstacle.Id);
    }

    private static ObstacleVerdict[] Sorted(IEnumerable<ObstacleVerdict> verdicts) =>
    [
        .. verdicts.OrderByDescending(v => v.IsDanger).ThenByDescending(v => v.IsOnCourse)
            .ThenByDescending(v => BlindZoneFinder.WeightOf(v.HighBand)).ThenByDescending(v => v.ClosingSpeedMetresPerSecond).ThenBy(v => v.WarningSeconds),
    ];
}
