using System.Collections.Immutable;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Pictures of frontal maps: warning time, sensors that hear, and what changes between layouts.</summary>
internal static class MapFigures
{
    // Less than the search refines a distance to at a slow walk: drawn as no change.
    private const float NoChangeSeconds = 0.05f;

    /// <summary>The horizontal axis of all frontal maps.</summary>
    internal static readonly AxisSpec Lateral = new("Lateral offset", "m") { IsReversed = true };

    /// <summary>The vertical axis of all frontal maps.</summary>
    internal static readonly AxisSpec Height = new("Height above ground", "m");

    private const int Width = 900;

    private static readonly Colour NeedColour = Colour.FromHex("b00000");

    /// <summary>Returns the approach map of one probe.</summary>
    internal static HeatmapFigure Approach(StudyReport report, ApproachMap map, IReadOnlyList<BlindZone> zones) => new(
        [Panel(report.Posed, map) with { Markers = BodyMarks.Sensors(report.Posed, p => new(p.Y, p.Z)) }],
        Lateral, Height, WarningColours(report.Scenario, map.TimeNeededSeconds))
    {
        Title = $"Approach map: {Described(map.Probe)}",
        Finding = Finding(map, zones),
        WidthPixels = Width,
        SideNames = ("wearer's left", "right"),
        Footnotes =
        [
            "Seen from behind the wearer. Colour: warning time left when the probe, coming straight at the wearer, is first reliably reported. "
            + $"Hatched: cells of the silhouette not warned of in time ({map.TimeNeededSeconds:0.0#} s), by cause. {FigureWords.Conditions(report)}",
            FigureWords.Caution,
        ],
    };

    /// <summary>Returns the map of one probe with the silhouette, the bands and the blind cells, without sensors.</summary>
    internal static HeatmapPanel Panel(PosedLayout posed, ApproachMap map) => new(Grid(map.Grid, i => OnBody(map, i, map.WarningSeconds[i])))
    {
        Categories = Blind(map),
        Contours = map.WarningSeconds.All(w => w < map.TimeNeededSeconds) ? [] :
        [
            new(map.TimeNeededSeconds, $"{map.TimeNeededSeconds:0.0#} s", new(NeedColour, DashPattern.Full, 3))
            {
                LegendName = $"time needed, {map.TimeNeededSeconds:0.0#} s",
            },
        ],
        Outlines = [BodyMarks.Silhouette(posed)],
        Regions = BodyMarks.Cane(posed, map.Grid),
        Bands = BodyMarks.Bands(posed, b => map.ShareOf(b) is { Cells: > 0 } s ? $"{FigureWords.Percent(s.WarnedFraction)} in time" : string.Empty),
    };

    /// <summary>Returns the colours of warning times: the same for all maps of a scenario.</summary>
    internal static ColourMapping WarningColours(Scenario scenario, double timeNeededSeconds)
    {
        double most = Math.Max(scenario.Maps.HorizonMetres / scenario.Walk.SpeedMetresPerSecond, 1.2 * timeNeededSeconds);
        return ColourMapping.Sequential(0, Math.Ceiling(2 * most) / 2, "Warning time left", "s", isPaleHigh: true) with
        {
            Marks = [new(timeNeededSeconds, "time needed"), new(0, "never")],
            NoValueLabel = "never, beside the body",
        };
    }

    /// <summary>Says what an approach map shows.</summary>
    internal static string Finding(ApproachMap map, IReadOnlyList<BlindZone> zones)
    {
        string shares = $"Warned in time: {FigureWords.Shares(map.Shares())} of the silhouette.";
        return zones.Count == 0
            ? $"{shares} No blind zone was found for this probe."
            : $"{shares} Worst of {zones.Count} blind zone{(zones.Count == 1 ? "" : "s")}: {FigureWords.Zone(zones[0])}.";
    }

    /// <summary>Returns the map of how many sensors alone report the main probe in time.</summary>
    internal static HeatmapFigure SensorsHearing(StudyReport report, ApproachMap map)
    {
        int sensors = map.SensorNames.Length;
        return new(
            [
                new(Grid(map.Grid, i => OnBody(map, i, map.SensorsHearing[i])))
                {
                    Outlines = [BodyMarks.Silhouette(report.Posed)],
                    Bands = BodyMarks.Bands(report.Posed, b => $"{FigureWords.Percent(HeardByTwo(map, b))} by two or more"),
                    Markers = BodyMarks.Sensors(report.Posed, p => new(p.Y, p.Z)),
                },
            ],
            Lateral, Height,
            ColourMapping.Sequential(0, sensors + 1, "Sensors that hear it, at least", "", isPaleHigh: true) with
            {
                ClassEdges = [.. Enumerable.Range(1, sensors).Select(n => (double)n)],
                Marks = [new(0, "none")],
                NoValueLabel = "none, beside the body",
            })
        {
            Title = $"How many sensors hear it: {Described(map.Probe)}",
            Finding = Redundancy(map),
            WidthPixels = Width,
            SideNames = ("wearer's left", "right"),
            Footnotes =
            [
                $"Seen from behind the wearer. Counted at the last useful distance, where {map.TimeNeededSeconds:0.0#} s are left, each sensor on its own. "
                + FigureWords.Conditions(report),
            ],
        };
    }

    /// <summary>Returns the share of a band's silhouette that two or more sensors hear. [unitless]</summary>
    internal static double HeardByTwo(ApproachMap map, HeightBand band) => HeardShare(map, band, 2);

    /// <summary>Returns the share of a band's silhouette that at least some sensors hear. [unitless]</summary>
    internal static double HeardShare(ApproachMap map, HeightBand band, int least)
    {
        int cells = 0, heard = 0;
        for (int i = 0; i < map.Grid.Count; i++)
        {
            if (map.InSilhouette[i] && map.RowBands[i / map.Grid.Columns] == band)
            {
                cells++;
                heard += map.SensorsHearing[i] >= least ? 1 : 0;
            }
        }

        return cells == 0 ? 0 : (double)heard / cells;
    }

    /// <summary>Returns what changes from the first layout of a comparison to another.</summary>
    internal static HeatmapFigure Difference(LayoutComparison comparison, DifferenceMap map, PosedLayout? posed) => new(
        [
            new(Grid(map.Grid, i => Math.Abs(map.DifferenceSeconds[i]) < NoChangeSeconds ? 0 : map.DifferenceSeconds[i]))
            {
                Contours = [new(0, "0", new(Colour.Ink, DashPattern.Dashed, 2)) { LegendName = "no change" }],
                Outlines = posed is null ? [Edge(map)] : [BodyMarks.Silhouette(posed)],
                Bands = posed is null ? [] : BodyMarks.Bands(posed, _ => string.Empty),
            },
        ],
        Lateral, Height,
        ColourMapping.Difference(Math.Max(0.5, Math.Ceiling(comparison.LargestDifferenceSeconds * 2) / 2), "Warning time gained or lost", "s"))
    {
        Title = $"{map.LayoutName} less {comparison.Layouts[0].Layout.Name}: {map.ProbeName}",
        Finding = DifferenceFinding(comparison, map),
        WidthPixels = Width,
        SideNames = ("wearer's left", "right"),
        Footnotes = ["Seen from behind the wearer. All difference maps of a comparison share one scale; zero is nearly white. " + FigureWords.Caution],
    };

    /// <summary>Says what a difference map shows.</summary>
    internal static string DifferenceFinding(LayoutComparison comparison, DifferenceMap map)
    {
        double cell = map.Grid.CellAreaSquareMetres * 10_000;
        string gain = map.BetterCells == 0 ? "warns of nothing more in time" : $"warns of {map.BetterCells * cell:0} cm² more of the silhouette in time";
        string loss = map.WorseCells == 0 ? "loses nothing" : $"loses {map.WorseCells * cell:0} cm²";
        return $"Against {comparison.Layouts[0].Layout.Name}, {map.LayoutName} {gain} and {loss} for {map.ProbeName}.";
    }

    /// <summary>Returns the hatching of the blind cells by cause.</summary>
    internal static CategoryLayer Blind(ApproachMap map)
    {
        LimitingCause[] causes =
        [
            .. Enumerable.Range(0, map.Grid.Count).Where(i => map.InSilhouette[i] && map.Causes[i] != LimitingCause.None)
                .GroupBy(i => map.Causes[i]).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.Key),
        ];
        int[] cells = [.. Enumerable.Range(0, map.Grid.Count).Select(i => map.InSilhouette[i] ? Array.IndexOf(causes, map.Causes[i]) : -1)];
        return new([.. cells], [.. causes.Select(c => new CellCategory($"blind: {FigureWords.Cause(c)}", HatchOf(c)))]);
    }

    /// <summary>Returns the strokes that stand for a cause in every map.</summary>
    internal static HatchPattern HatchOf(LimitingCause cause) => cause switch
    {
        LimitingCause.DeadZone => HatchPattern.RisingDense,
        LimitingCause.OutsideListeningWindow => HatchPattern.FallingDense,
        LimitingCause.OutOfBeam => HatchPattern.Rising,
        LimitingCause.TooWeak => HatchPattern.Level,
        LimitingCause.Specular => HatchPattern.Lattice,
        LimitingCause.OccludedByWearer => HatchPattern.Falling,
        LimitingCause.OccludedByObstacle => HatchPattern.FallingDense,
        LimitingCause.MaskedByFloor => HatchPattern.Grid,
        LimitingCause.MaskedByOwnLimb => HatchPattern.Grid,
        LimitingCause.TooLate => HatchPattern.Upright,
        LimitingCause.WrongSide => HatchPattern.RisingDense,
        _ => HatchPattern.None,
    };

    /// <summary>Returns the words for a probe.</summary>
    internal static string Described(Probe probe) => string.IsNullOrWhiteSpace(probe.Description) ? probe.Name : probe.Description;

    /// <summary>Returns values of a frontal grid as a grid to draw.</summary>
    internal static ValueGrid Grid(CoverageGrid grid, Func<int, double> value) => new(
        new GridAxis(grid.FirstYMetres, grid.CellMetres, grid.Columns),
        new GridAxis(grid.FirstZMetres, grid.CellMetres, grid.Rows),
        [.. Enumerable.Range(0, grid.Count).Select(value)]);

    // Beside the body nothing can hit: silence there is left blank, so that it does not outshine what counts.
    private static double OnBody(ApproachMap map, int cell, double value) => map.InSilhouette[cell] || value > 0 ? value : double.NaN;

    private static string Redundancy(ApproachMap map)
    {
        HeightBand[] single = [.. FigureWords.Bands.Where(b => map.ShareOf(b).Cells > 0 && HeardByTwo(map, b) < 0.5)];
        return single.Length == 0
            ? "At least half of every height band is heard by two or more sensors."
            : $"Less than half of the {FigureWords.Listed([.. single.Select(Words.Of)])} band{(single.Length == 1 ? " is" : "s is")} heard by two or more sensors: there one failing sensor opens a gap.";
    }

    // Without a posed wearer the edge of the silhouette follows from its cells.
    private static MapOutline Edge(DifferenceMap map) => new(
        "wearer's swept silhouette",
        [.. ContourTracer.Trace(Grid(map.Grid, i => map.InSilhouette[i] ? 1 : 0), 0.5).Select(l => l.Points)],
        true, new(Colour.Ink, DashPattern.Full, 3));
}
