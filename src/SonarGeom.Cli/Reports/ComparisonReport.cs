using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The pictures and the page of a comparison.</summary>
internal static class ComparisonReport
{
    /// <summary>Makes the difference maps, all on one scale, and the page compare.html. Touches no file.</summary>
    /// <param name="comparison">What was compared.</param>
    /// <param name="posed">The first layout on the main wearer, for the silhouette and the bands.</param>
    /// <param name="inputsHash">Hash of the inputs.</param>
    internal static IReadOnlyList<ReportFile> Of(LayoutComparison comparison, PosedLayout posed, string inputsHash)
    {
        Picture[] pictures =
        [
            .. comparison.Layouts[0].Maps.Select((m, p) => new Picture($"bands-{FileNames.Of(m.Probe.Name)}", Bands(comparison, p))),
            .. comparison.Differences.Select(d => new Picture(FileNames.Of(d), MapFigures.Difference(comparison, d, posed))),
        ];
        DrawnPicture[] drawn = Picture.Draw([.. pictures.DistinctBy(p => p.Stem)]);
        byte[] page = Page(comparison, inputsHash, drawn.ToDictionary(d => d.Picture.Stem, StringComparer.Ordinal));
        return [.. drawn.SelectMany(d => d.Files), new("compare.html", page)];
    }

    private static Rendering.Figures.BarFigure Bands(LayoutComparison comparison, int probe)
    {
        ComparedLayout[] byHead = [.. comparison.Layouts.OrderByDescending(l => l.Maps[probe].ShareOf(HeightBand.Head).WarnedFraction)];
        double most = byHead[0].Maps[probe].ShareOf(HeightBand.Head).WarnedFraction, least = byHead[^1].Maps[probe].ShareOf(HeightBand.Head).WarnedFraction;
        string name = comparison.Layouts[0].Maps[probe].Probe.Name;
        return CurveFigures.Shares(
            [.. comparison.Layouts.Select(l => (l.Layout.Name, l.Maps[probe].Shares()))],
            $"Warned in time, layout by layout: {name}",
            most == least
                ? $"At head height all warn of the same share in time, {FigureWords.Percent(most)}."
                : $"At head height {byHead[0].Layout.Name} warns of most in time ({FigureWords.Percent(most)}), {byHead[^1].Layout.Name} of least ({FigureWords.Percent(least)}).",
            $"{FigureWords.Capital(comparison.Scenario.MainWearer.Name)}; {FigureWords.Named(comparison.Layouts[0].Maps[probe].Probe)}.");
    }

    private static byte[] Page(LayoutComparison comparison, string inputsHash, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        Scenario scenario = comparison.Scenario;
        string first = comparison.Layouts[0].Layout.Name;
        var page = new Page($"{comparison.Layouts.Length} layouts on {scenario.Name}", StudyPage.Footer(inputsHash));
        page.Lead($"On {scenario.MainWearer.Name}, walking at {scenario.Walk.SpeedMetresPerSecond:0.0#} m/s. The layout “{first}” is the one that the others are compared with.");
        page.Section("What differs");
        page.List(CompareTables.Sentences(comparison));
        page.Text(FigureWords.Caution);
        page.Table(
            "The layouts", comparison.Layouts,
            new PageColumn<ComparedLayout>("Layout", l => Cell.Of(l.Layout.Name)),
            new("Sensors", l => Cell.Of(l.Layout.Sensors.Length)),
            new("Time needed [s]", l => Cell.Of(l.TimeNeededSeconds, 2)),
            new("Obstacles in the way", l => Cell.Of(l.Verdicts.Count(v => v.IsOnCourse))),
            new("Warned in time", l => Cell.Of(l.Verdicts.Count(v => v.IsOnCourse && !v.IsDanger))),
            new("Not warned in time", l => Cell.Of(l.Verdicts.Count(v => v.IsDanger))));
        WriteBands(page, comparison, pictures);
        page.Section("Hazard by hazard");
        page.Table(
            "Verdict, warning time and time needed for each obstacle", Enumerable.Range(0, comparison.Layouts[0].Verdicts.Length).ToArray(),
            [
                new("Obstacle", i => Cell.Of(comparison.Layouts[0].Verdicts[i].Obstacle.Id)),
                new("Height bands", i => Cell.Of(Words.Span(comparison.Layouts[0].Verdicts[i].LowBand, comparison.Layouts[0].Verdicts[i].HighBand))),
                .. comparison.Layouts.Select(l => new PageColumn<int>(l.Layout.Name, i => Cell.Of(InShort(l.Verdicts[i])))),
            ]);
        WriteDifferences(page, comparison, pictures);
        page.Section("Assumptions");
        page.List(comparison.Assumptions);
        page.Section("Cautions");
        page.List(Findings.Cautions);
        return page.Finish();
    }

    private static void WriteBands(Page page, LayoutComparison comparison, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Band by band");
        for (int p = 0; p < comparison.Layouts[0].Maps.Length; p++)
        {
            int probe = p;
            ApproachMap map = comparison.Layouts[0].Maps[p];
            page.Part(FigureWords.Named(map.Probe));
            if (pictures.TryGetValue($"bands-{FileNames.Of(map.Probe.Name)}", out DrawnPicture? picture))
            {
                page.Picture(picture, "bands.csv");
            }

            page.Table(
                $"Share of the silhouette warned in time, {map.Probe.Name}", FigureWords.Bands,
                [
                    new("Height band", b => Cell.Of(Words.Of(b))),
                    .. comparison.Layouts.Select(l => new PageColumn<HeightBand>($"{l.Layout.Name} [%]", b => Cell.Of(100 * l.Maps[probe].ShareOf(b).WarnedFraction, 1))),
                ]);
        }
    }

    private static void WriteDifferences(Page page, LayoutComparison comparison, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Where warning time is gained and lost");
        page.Table(
            $"Area of the silhouette gained and lost against {comparison.Layouts[0].Layout.Name}", comparison.Differences,
            new PageColumn<DifferenceMap>("Layout", d => Cell.Of(d.LayoutName)),
            new("Probe", d => Cell.Of(d.ProbeName)),
            new("Gained [cm²]", d => Cell.Of(d.BetterCells * d.Grid.CellAreaSquareMetres * 1e4, 0)),
            new("Lost [cm²]", d => Cell.Of(d.WorseCells * d.Grid.CellAreaSquareMetres * 1e4, 0)),
            new("Largest gain [s]", d => Cell.Of(Extreme(d, Math.Max), 2)),
            new("Largest loss [s]", d => Cell.Of(Extreme(d, Math.Min), 2)));
        foreach (DifferenceMap map in comparison.Differences)
        {
            if (pictures.TryGetValue(FileNames.Of(map), out DrawnPicture? picture))
            {
                page.Part($"{map.LayoutName}, {map.ProbeName}");
                page.Picture(picture, $"{FileNames.Of(map)}.csv");
            }
        }
    }

    private static double Extreme(DifferenceMap map, Func<double, double, double> pick) =>
        map.DifferenceSeconds.Where((_, i) => map.InSilhouette[i]).Aggregate(0.0, (a, d) => pick(a, d));

    private static string InShort(ObstacleVerdict verdict) => verdict.FirstReliableMetres > 0
        ? $"{Words.Of(verdict.Outcome)}, {verdict.WarningSeconds:0.0} of {verdict.TimeNeededSeconds:0.0} s"
        : $"{Words.Of(verdict.Outcome)}: {FigureWords.Cause(verdict.Cause)}";
}
