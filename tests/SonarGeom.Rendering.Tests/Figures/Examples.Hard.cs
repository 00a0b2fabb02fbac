using System.Collections.Immutable;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Figures;

/// <summary>Figures made to break a layout: long words, many marks, extreme numbers, missing values.</summary>
internal static partial class Examples
{
    public static HeatmapFigure HardFiveWearers() => ApproachMap() with
    {
        Title = "Five wearers, each with bands of its own, and a title so long that it cannot stand on one line of the picture",
        Panels =
        [
            .. new[] { "shortest woman, 1.50 m", "median woman", "median man", "tallest man, head bowed", "wheelchair user" }
                .Select((name, i) => FrontalPanel(0.05 * i) with
                {
                    Caption = name,
                    Bands = [.. Bands.Select(b => b with { From = b.From * (1 - (0.03 * i)), To = b.To * (1 - (0.03 * i)) })],
                }),
        ],
    };

    public static HeatmapFigure HardManyMarkers() => ApproachMap() with
    {
        Panels =
        [
            FrontalPanel() with
            {
                Markers =
                [
                    .. Enumerable.Range(0, 14).Select(i => new MapMarker(
                        $"sensor number {i + 1}", new(0.2 * Math.Sin(i), 1.2 + (0.03 * i)), MarkerShape.Circle)),
                ],
                Contours =
                [
                    .. Enumerable.Range(1, 6).Select(i => new ContourLevel(0.5 * i, $"{0.5 * i:F1} s", LineStyle.At(i))),
                ],
            },
        ],
    };

    public static HeatmapFigure HardSideSlice() => PlanSlice() with
    {
        Title = "Side slice with narrow bands",
        Vertical = new("Height", "m") { From = -1.2, To = 1.2 },
        Panels =
        [
            PlanSlice().Panels[0] with
            {
                Bands =
                [
                    new("head", 0.30, 0.34), new("chest", 0.26, 0.30), new("waist", 0.22, 0.26), new("knee", 0.18, 0.22), new("foot", 0.14, 0.18),
                ],
                ReferenceLines =
                [
                    new("warning needed", 2.3, true, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5)),
                    new("dead zone ends", 2.45, true, new(Colour.Ink, DashPattern.Dotted, 2.5)),
                    new("sensor height", 0, false, new(Colour.Ink, DashPattern.Dotted, 2)),
                ],
            },
        ],
    };

    public static HeatmapFigure HardNothing() => new(
        [new(new(new(0, 1, 1), new(0, 1, 1), [double.NaN]))],
        new("Across", string.Empty),
        new("Up", string.Empty),
        ColourMapping.Sequential(0, 1, "Nothing", string.Empty))
    {
        Title = "One cell without a value",
        Finding = "Nothing was computed.",
        WidthPixels = 600,
    };

    public static HeatmapFigure HardExtreme() => new(
        [
            new(new(
                new(1e6, 2.5e5, 4),
                new(-3e-5, 1e-5, 4),
                [1e12, -1e12, double.PositiveInfinity, double.NegativeInfinity, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, double.NaN, 11])),
        ],
        new("Very large numbers", "Pa"),
        new("Very small numbers", "m"),
        ColourMapping.Sequential(-1e12, 1e12, "Anything", "mPa"))
    {
        Title = "Numbers < & > \"quoted\" and 'apostrophes' \u0001 with control characters",
        Finding = "Ωμέγα, λ ≈ 8.6 mm, θ = 15°, ≤ ≥ ± × · ² ³ → – — “ ”, 中文 falls back to boxes.",
        HasEqualAspect = false,
    };

    public static LineFigure HardManySeries() => new(
        [
            .. Enumerable.Range(0, 12).Select(i => new LineSeries(
                $"series {i + 1}{(i == 4 ? " whose name is much longer than anybody would wish it to be" : string.Empty)}",
                [.. Enumerable.Range(0, 60).Select(k => new PlotPoint(k * 0.1, (i * 0.1) + (20 * Math.Exp(-k * 0.1))))])),
        ],
        new("Range", "m"),
        new("Level re threshold", "dB"))
    {
        Title = "Twelve lines that end together",
        Finding = "All names can be read.",
        ReferenceLines =
        [
            .. Enumerable.Range(0, 6).Select(i => new ReferenceLine($"line at {1 + (0.2 * i):F1} m", 1 + (0.2 * i), true, LineStyle.At(i))),
            new("threshold", 0, false, LineStyle.Plain),
            new("noise floor", 0.2, false, LineStyle.At(3)),
        ],
    };

    public static TimelineFigure HardManyRows() => WalkUp() with
    {
        Rows =
        [
            .. Enumerable.Range(0, 18).Select(i => new TimelineRow(
                i == 3 ? "a sensor with a name that goes on and on until it has to be broken over lines" : $"sensor {i + 1}",
                [new(0.1 * i, 4, i % 4) { Label = "a label" }])),
        ],
        WidthPixels = 900,
    };

    public static PolarFigure HardPolar() => Directivity() with
    {
        Title = "Many marks close together",
        Marks = [.. Enumerable.Range(0, 8).Select(i => new PolarMark($"mark {i + 1}, {i * 2}°", Angle.FromDegrees(i * 2), -i))],
        RingStepDecibels = 3,
        WidthPixels = 800,
    };

    public static BarFigure HardBars() => Shares() with
    {
        Rows = [.. Shares().Rows, new BarRow("a band with thin parts", [97.5, 1.5, 1]), new BarRow("nothing at all", [double.NaN, double.NaN, double.NaN])],
        WidthPixels = 640,
    };

    public static StripFigure HardStrip() => Poles() with
    {
        Rows = [.. Poles().Rows.Take(1)],
        ReferenceLines = [.. Enumerable.Range(0, 5).Select(i => new ReferenceLine($"offset {i * 0.05:F2} m", i * 0.05, true, LineStyle.At(i)))],
        WidthPixels = 700,
    };
}
