using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Strips of what stands over the whole height of the wearer.</summary>
internal static class StripFigures
{
    /// <summary>Returns the strips of upright poles.</summary>
    internal static StripFigure Poles(StudyReport report)
    {
        ApproachStrip first = report.PoleStrips[0];
        LimitingCause[] causes =
        [
            .. report.PoleStrips.SelectMany(s => s.Causes.Where((c, i) => s.InSilhouette[i] && c != LimitingCause.None))
                .GroupBy(c => c).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.Key),
        ];
        return new StripFigure(
            new GridAxis(first.FirstYMetres, first.CellMetres, first.Count),
            [.. report.PoleStrips.Select(s => Row(s, causes))],
            MapFigures.Lateral,
            MapFigures.WarningColours(report.Scenario, first.TimeNeededSeconds))
        {
            Title = "Upright poles over the lateral offset",
            Finding = string.Join("; ", report.PoleStrips.Select(s => $"{s.Name}: {FigureWords.Percent(s.WarnedFraction)} of the width warned in time")) + ".",
            Categories = [.. causes.Select(c => new CellCategory($"blind: {FigureWords.Cause(c)}", MapFigures.HatchOf(c)))],
            ReferenceLines =
            [
                new("left edge of the silhouette", report.Posed.Silhouette.LeftMetres, true, LineStyle.Plain),
                new("right edge", report.Posed.Silhouette.RightMetres, true, LineStyle.Plain),
            ],
            SideNames = ("wearer's left", "right"),
            Footnotes =
            [
                $"A pole has no height of its own: one line of cells each. Hatched: not warned of in time ({first.TimeNeededSeconds:0.0#} s), by cause. "
                + FigureWords.Conditions(report),
            ],
        };
    }

    private static StripRow Row(ApproachStrip strip, LimitingCause[] causes) =>
        new(strip.Name, [.. strip.WarningSeconds.Select((w, i) => strip.InSilhouette[i] || w > 0 ? w : double.NaN)])
        {
            Detail = $"{FigureWords.Percent(strip.WarnedFraction)} in time",
            Cells = [.. Enumerable.Range(0, strip.Count).Select(i => strip.InSilhouette[i] ? Array.IndexOf(causes, strip.Causes[i]) : -1)],
        };
}
