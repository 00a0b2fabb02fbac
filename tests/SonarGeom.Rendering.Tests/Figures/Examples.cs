using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Figures;

/// <summary>Made-up figures of each kind, as busy as real ones get. No number in them means anything.</summary>
internal static partial class Examples
{
    public static readonly AxisSpec Lateral = new("Lateral offset", "m") { IsReversed = true };

    public static readonly AxisSpec Height = new("Height above ground", "m");

    public static ValueGrid Frontal(double shift = 0)
    {
        var across = new GridAxis(-0.52, 0.02, 53);
        var up = new GridAxis(0.01, 0.02, 106);
        var values = new double[across.Count * up.Count];
        for (int r = 0; r < up.Count; r++)
        {
            for (int c = 0; c < across.Count; c++)
            {
                double y = across.Centre(c);
                double z = up.Centre(r);
                double v = 3.4 * Math.Exp(-(Math.Pow((y - shift) / 0.42, 2) + Math.Pow((z - 1.15) / 0.55, 2)))
                    + (1.2 * Math.Exp(-(Math.Pow((y + 0.3) / 0.1, 2) + Math.Pow((z - 1.75) / 0.12, 2))));
                values[(r * across.Count) + c] = v < 0.25 ? double.NaN : v;
            }
        }

        return new(across, up, ImmutableArray.Create(values));
    }

    public static ImmutableArray<PlotPoint> Silhouette()
    {
        (double Y, double Z)[] half =
        [
            (0.02, 0), (0.14, 0.01), (0.15, 0.1), (0.12, 0.45), (0.16, 0.75), (0.2, 0.95), (0.27, 1.0), (0.29, 1.2),
            (0.25, 1.45), (0.12, 1.52), (0.08, 1.55), (0.09, 1.65), (0.09, 1.75), (0.06, 1.84), (0, 1.87),
        ];
        return [.. half.Select(p => new PlotPoint(p.Y, p.Z)), .. half.Reverse().Select(p => new PlotPoint(-p.Y, p.Z))];
    }

    public static ImmutableArray<MapBand> Bands { get; } =
    [
        new("head", 1.53, 2.0) { Detail = "62 % in time" },
        new("chest", 1.28, 1.53) { Detail = "91 % in time" },
        new("waist", 0.86, 1.28) { Detail = "100 % in time" },
        new("knee", 0.28, 0.86) { Detail = "48 % in time" },
        new("foot", 0, 0.28) { Detail = "0 % in time" },
    ];

    public static HeatmapPanel FrontalPanel(double shift = 0)
    {
        ValueGrid grid = Frontal(shift);
        int[] cells = new int[grid.Values.Length];
        for (int i = 0; i < cells.Length; i++)
        {
            double v = grid.Values[i];
            double y = grid.Across.Centre(i % grid.Across.Count);
            double z = grid.Up.Centre(i / grid.Across.Count);
            bool isInside = Math.Abs(y) < 0.28 && z < 1.87;
            cells[i] = !isInside ? -1 : double.IsNaN(v) ? 0 : v < 1.9 ? (z < 0.5 ? 1 : 2) : -1;
        }

        return new(grid)
        {
            Categories = new(
                [.. cells],
                [
                    new("never heard", HatchPattern.Lattice),
                    new("too late: masked by the floor", HatchPattern.Falling),
                    new("too late: out of beam", HatchPattern.Rising),
                ]),
            Contours = [new(1.9, "1.9 s", new(Colour.FromHex("b00000"), DashPattern.Full, 3)) { LegendName = "time needed, 1.9 s" }],
            Outlines = [new("swept silhouette of the wearer", [Silhouette()], true, new(Colour.Ink, DashPattern.Full, 3))],
            Regions =
            [
                new(
                    "covered by the long cane",
                    [[new(-0.5, 0), new(0.5, 0), new(0.5, 0.24), new(-0.5, 0.24)]],
                    HatchPattern.Dots,
                    Colour.FromHex("615511")),
            ],
            Bands = Bands,
            Markers =
            [
                new("brow", new(0, 1.74), MarkerShape.Diamond) { LegendName = "sensor" },
                new("chest left", new(0.1, 1.36), MarkerShape.Diamond) { LegendName = "sensor" },
                new("chest right", new(-0.1, 1.36), MarkerShape.Diamond) { LegendName = "sensor" },
                new("belt", new(0, 1.02), MarkerShape.Diamond) { LegendName = "sensor" },
            ],
        };
    }

    public static HeatmapFigure ApproachMap() => new(
        [FrontalPanel()],
        Lateral,
        Height,
        ColourMapping.Sequential(0, 3.5, "Warning time left", "s", isPaleHigh: true) with
        {
            Marks = [new(1.9, "time needed")],
            NoValueLabel = "never reported",
        })
    {
        Title = "Approach map: 30 mm level branch, 400 mm long",
        Finding = "38 % of the head band is not warned in time; the largest hole, 0.21 m wide, lies over the left shoulder.",
        SideNames = ("wearer's left", "right"),
        Footnotes =
        [
            "Seen from behind the wearer. Warning time is distance ahead of the foremost body point in that column divided by a closing "
            + "speed of 1.2 m/s; a cell counts as reported when at least 90 % of stride phases report it.",
            "A design aid, no proof of safety: the detector supplements the long cane or guide dog and never replaces them.",
        ],
    };

    public static HeatmapFigure Comparison() => new(
        [
            FrontalPanel() with { Caption = "Layout A", Markers = [] },
            FrontalPanel(0.12) with { Caption = "Layout B", Markers = [] },
            FrontalPanel(-0.2) with { Caption = "Layout C", Markers = [] },
        ],
        Lateral,
        Height,
        ColourMapping.Sequential(0, 3.5, "Warning time left", "s", isPaleHigh: true) with
        {
            ClassEdges = [0.5, 1.0, 1.9, 2.5, 3.0],
            Marks = [new(1.9, "time needed")],
            NoValueLabel = "never reported",
        })
    {
        Title = "Three layouts against the same branch",
        Finding = "Layout B warns of 7 % more of the head band than A and loses 4 % of the knee band.",
        SideNames = ("left", "right"),
        Footnotes = ["Seen from behind the wearer. Same wearer, street and air in all three."],
    };

    public static HeatmapFigure Difference()
    {
        ValueGrid a = Frontal();
        ValueGrid b = Frontal(0.12);
        double[] d = [.. a.Values.Zip(b.Values, (x, y) => y - x)];
        return new(
            [
                new(new(a.Across, a.Up, [.. d]))
                {
                    Contours = [new(0, "0", new(Colour.Ink, DashPattern.Dashed, 2)) { LegendName = "no change" }],
                    Outlines = [new("swept silhouette of the wearer", [Silhouette()], true, new(Colour.Ink, DashPattern.Full, 3))],
                    Bands = [.. Bands.Select(x => x with { Detail = "" })],
                },
            ],
            Lateral,
            Height,
            ColourMapping.Difference(2, "Warning time, B less A", "s"))
        {
            Title = "What changes from layout A to layout B",
            Finding = "The left side gains up to 1.1 s, the right side loses as much.",
        };
    }

    public static HeatmapFigure PlanSlice()
    {
        var across = new GridAxis(0.0125, 0.025, 200);
        var up = new GridAxis(-1.4875, 0.025, 120);
        var values = new double[across.Count * up.Count];
        for (int i = 0; i < values.Length; i++)
        {
            double x = across.Centre(i % across.Count);
            double y = up.Centre(i / across.Count);
            double r = Math.Sqrt((x * x) + (y * y));
            double angle = Math.Atan2(y, x);
            values[i] = r < 0.25 ? double.NegativeInfinity : 38 - (40 * Math.Log10(r)) - (260 * angle * angle) - (20 * Math.Log10(4));
        }

        ImmutableArray<PlotPoint> beam = [new(5, -1.34), new(0, 0), new(5, 1.34)];
        return new(
            [
                new(new(across, up, ImmutableArray.Create(values)))
                {
                    Contours =
                    [
                        new(0, "0 dB", new(Colour.Ink, DashPattern.Full, 3)) { LegendName = "just detected (0 dB)" },
                        new(10, "10 dB", new(Colour.Ink, DashPattern.Dashed, 1.8)),
                    ],
                    Outlines = [new("half-power beam edge, ±15°", [beam], false, new(Colour.FromHex("a83187"), DashPattern.DashDot, 3))],
                    Markers = [new("chest sensor", new(0.05, 0), MarkerShape.Diamond)],
                    ReferenceLines = [new("foremost body point", 0.18, true, new(Colour.Grey, DashPattern.Dotted, 2))],
                },
            ],
            new("Distance ahead", "m"),
            new("Lateral offset, positive left", "m"),
            ColourMapping.Sequential(-30, 40, "Detection margin", "dB"))
        {
            Title = "Plan slice at 1.30 m: 25 mm upright rod",
            Finding = "The rod is detected to 2.9 m on the axis; the truth is narrower than the beam beyond 2 m and wider before it.",
            Footnotes = ["20 °C, 50 % relative humidity, 40 kHz, band mean over 8 cycles."],
        };
    }
}
