using System.Collections.Immutable;
using System.Text.Json;
using SonarGeom.Cli.Reports;
using SonarGeom.Coverage;
using SonarGeom.Files.Output;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>A layout of a comparison in one line.</summary>
internal readonly record struct LayoutRow(ComparedLayout Compared);

/// <summary>A share of one band for one probe with one layout.</summary>
internal readonly record struct LayoutBandRow(string Layout, BandRow Band);

/// <summary>A verdict with one layout.</summary>
internal readonly record struct LayoutVerdictRow(string Layout, VerdictRow Verdict);

/// <summary>The tables of a comparison: one row for each layout for programs, side by side for people.</summary>
internal static class CompareTables
{
    /// <summary>Gets the layouts.</summary>
    internal static ResultTable<LayoutRow> Layouts { get; } = new(
        new("layout", "layout", r => Cell.Of(r.Compared.Layout.Name)),
        new("sensor_count", "sensors", r => Cell.Of(r.Compared.Layout.Sensors.Length)),
        new("time_needed_s", "needed [s]", r => Cell.Of(r.Compared.TimeNeededSeconds, 2)),
        new("on_course_count", "obstacles on the way", r => Cell.Of(r.Compared.Verdicts.Count(v => v.IsOnCourse))),
        new("warned_in_time_count", "warned in time", r => Cell.Of(r.Compared.Verdicts.Count(v => v.IsOnCourse && !v.IsDanger))),
        new("danger_count", "in danger", r => Cell.Of(r.Compared.Verdicts.Count(v => v.IsDanger))),
        new("dangers", null, r => Cell.Of([.. r.Compared.Verdicts.Where(v => v.IsDanger).Select(v => v.Obstacle.Id)])));

    /// <summary>Gets the differences.</summary>
    internal static ResultTable<DifferenceMap> Differences { get; } = new(
        new("layout", "layout", d => Cell.Of(d.LayoutName)),
        new("probe", "probe", d => Cell.Of(d.ProbeName)),
        new("better_area_cm2", "gains [cm²]", d => Cell.Of(d.BetterCells * d.Grid.CellAreaSquareMetres * 1e4, 0)),
        new("worse_area_cm2", "loses [cm²]", d => Cell.Of(d.WorseCells * d.Grid.CellAreaSquareMetres * 1e4, 0)));

    private static ResultTable<LayoutBandRow> Bands { get; } = new(
        [new("layout", "layout", r => Cell.Of(r.Layout)), .. StudyTables.Bands.Of<LayoutBandRow>(r => r.Band)]);

    private static ResultTable<LayoutVerdictRow> Verdicts { get; } = new(
        [new("layout", "layout", r => Cell.Of(r.Layout)), .. StudyTables.Verdicts.Of<LayoutVerdictRow>(r => r.Verdict)]);

    /// <summary>Says how the layouts stand to one another, in one sentence for each.</summary>
    internal static IEnumerable<string> Sentences(LayoutComparison comparison)
    {
        foreach (ComparedLayout c in comparison.Layouts)
        {
            ObstacleVerdict[] dangers = [.. c.Verdicts.Where(v => v.IsDanger)];
            string head = string.Join(", ", c.Maps.Select(m => $"{m.ShareOf(HeightBand.Head).WarnedFraction * 100:0} % for {m.Probe.Name}"));
            string missed = dangers.Length == 0 ? "warns in time of every obstacle on the way" : $"does not warn in time of {dangers.Length} of {c.Verdicts.Count(v => v.IsOnCourse)}: {string.Join(", ", dangers.Select(v => v.Obstacle.Id))}";
            yield return $"{c.Layout.Name} {missed}. Head band warned in time: {head}.";
        }
    }

    /// <summary>Writes the comparison as JSON members.</summary>
    internal static void Write(Utf8JsonWriter json, LayoutComparison comparison)
    {
        json.WriteString("scenario", comparison.Scenario.Name);
        json.WriteString("wearer", comparison.Scenario.MainWearer.Name);
        json.WriteString("reference_layout", comparison.Layouts[0].Layout.Name);
        json.WriteSentences("findings", Sentences(comparison));
        Layouts.WriteArray(json, "layouts", comparison.Layouts.Select(l => new LayoutRow(l)));
        Bands.WriteArray(json, "bands", BandRows(comparison));
        Verdicts.WriteArray(json, "verdicts", VerdictRows(comparison));
        Differences.WriteArray(json, "differences", comparison.Differences);
        json.WriteNumber("largest_difference_s", Math.Round(comparison.LargestDifferenceSeconds, 2));
        json.WriteSentences("assumptions", comparison.Assumptions);
        json.WriteSentences("cautions", Findings.Cautions);
    }

    /// <summary>Writes the tables and grids as files.</summary>
    internal static void Write(LayoutComparison comparison, PosedLayout posed, string inputsHash, OutputFolder folder)
    {
        using (Stream bands = folder.Create("bands.csv"))
        {
            Bands.WriteCsv(bands, BandRows(comparison));
        }

        using (Stream verdicts = folder.Create("hazards.csv"))
        {
            Verdicts.WriteCsv(verdicts, VerdictRows(comparison));
        }

        using (Stream differences = folder.Create("differences.csv"))
        {
            Differences.WriteCsv(differences, comparison.Differences);
        }

        using (Stream whole = folder.Create("comparison.json"))
        {
            JsonResult.Write(whole, "comparison", inputsHash, json => Write(json, comparison));
        }

        foreach (DifferenceMap map in comparison.Differences)
        {
            using Stream grid = folder.Create($"{FileNames.Of(map)}.csv");
            GridCsv.Write(grid, map);
        }

        foreach (ReportFile file in ComparisonReport.Of(comparison, posed, inputsHash))
        {
            folder.WriteBytes(file.Name, file.Bytes);
        }

        using var text = new StreamWriter(folder.Create("report.txt"));
        text.NewLine = "\n";
        WriteText(text, comparison);
        text.WriteLine();
        text.WriteLine("Assumptions");
        WriteList(text, comparison.Assumptions);
        text.WriteLine();
        text.WriteLine("Cautions");
        WriteList(text, Findings.Cautions);
    }

    /// <summary>Writes the shares of the bands as a comma-separated table.</summary>
    internal static void WriteBandsCsv(TextWriter output, LayoutComparison comparison) => Bands.WriteCsv(output, BandRows(comparison));

    /// <summary>Writes the comparison for people, side by side.</summary>
    internal static void WriteText(TextWriter output, LayoutComparison comparison)
    {
        ImmutableArray<ComparedLayout> layouts = comparison.Layouts;
        output.WriteLine($"Scenario {comparison.Scenario.Name}, wearer {comparison.Scenario.MainWearer.Name}; compared with {layouts[0].Layout.Name}");
        output.WriteLine();
        WriteList(output, Sentences(comparison));
        output.WriteLine();
        Layouts.WriteText(output, [.. layouts.Select(l => new LayoutRow(l))]);
        output.WriteLine();
        output.WriteLine("Share of the silhouette warned in time, in percent");
        new ResultTable<(int Probe, HeightBand Band)>(
        [
            new(null, "probe", r => Cell.Of(layouts[0].Maps[r.Probe].Probe.Name)),
            new(null, "band", r => Cell.Of(Words.Of(r.Band))),
            .. layouts.Select(l => new Column<(int Probe, HeightBand Band)>(null, l.Layout.Name, r => Cell.Of(100 * l.Maps[r.Probe].ShareOf(r.Band).WarnedFraction, 0))),
        ]).WriteText(output, [.. Enumerable.Range(0, layouts[0].Maps.Length).SelectMany(p => StudyTables.HeadToFoot.Select(b => (p, b)))]);
        output.WriteLine();
        output.WriteLine("Obstacles: verdict, warning time and the time needed");
        new ResultTable<int>(
        [
            new(null, "obstacle", i => Cell.Of(layouts[0].Verdicts[i].Obstacle.Id)),
            new(null, "height", i => Cell.Of(Words.Span(layouts[0].Verdicts[i].LowBand, layouts[0].Verdicts[i].HighBand))),
            .. layouts.Select(l => new Column<int>(null, l.Layout.Name, i => Cell.Of(InShort(l.Verdicts[i])))),
        ]).WriteText(output, [.. Enumerable.Range(0, layouts[0].Verdicts.Length)]);
        output.WriteLine();
        output.WriteLine($"Silhouette area that a layout gains or loses against {layouts[0].Layout.Name}");
        Differences.WriteText(output, comparison.Differences);
    }

    private static string InShort(ObstacleVerdict verdict) => verdict.FirstReliableMetres > 0
        ? $"{Words.Of(verdict.Outcome)}, {verdict.WarningSeconds:0.0} of {verdict.TimeNeededSeconds:0.0} s"
        : $"{Words.Of(verdict.Outcome)}: {Findings.InWords(verdict)}";

    private static void WriteList(TextWriter output, IEnumerable<string> sentences)
    {
        foreach (string sentence in sentences)
        {
            output.WriteLine($"- {Wrapping.Fold(sentence, 100, 2)}");
        }
    }

    private static IEnumerable<LayoutBandRow> BandRows(LayoutComparison comparison) =>
        comparison.Layouts.SelectMany(l => StudyTables.BandRows(l.Maps).Select(b => new LayoutBandRow(l.Layout.Name, b)));

    private static IEnumerable<LayoutVerdictRow> VerdictRows(LayoutComparison comparison) =>
        comparison.Layouts.SelectMany(l => l.Verdicts.Select(v => new LayoutVerdictRow(l.Layout.Name, new VerdictRow(v, null))));
}
