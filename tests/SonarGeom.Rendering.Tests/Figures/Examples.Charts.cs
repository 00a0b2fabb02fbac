using System.Collections.Immutable;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Figures;

internal static partial class Examples
{
    public static LineFigure TiltCurve()
    {
        ImmutableArray<PlotPoint> Curve(Func<double, double> f) =>
            [.. Enumerable.Range(0, 91).Select(i => new PlotPoint(i - 60, f(i - 60)))];
        ImmutableArray<PlotPoint> head = Curve(t => 96 * Math.Exp(-Math.Pow((t - 12) / 16.0, 2)));
        return new(
            [
                new("head band warned in time", head)
                {
                    Lower = [.. head.Select(p => p with { Y = Math.Max(0, p.Y - 7) })],
                    Upper = [.. head.Select(p => p with { Y = Math.Min(100, p.Y + 4) })],
                },
                new("chest band warned in time", Curve(t => 99 / (1 + Math.Exp((Math.Abs(t + 8) - 22) / 4)))),
                new("phases with a false floor echo, smooth tile", Curve(t => 100 / (1 + Math.Exp((t + 48) / 2.0)))),
                new("phases with a false floor echo, gravel", Curve(t => 100 / (1 + Math.Exp((t + 30) / 2.5)))),
            ],
            new("Tilt of the brow sensor, positive up", "°"),
            new("Share", "%") { From = 0, To = 100 })
        {
            Title = "Tilt curve of the brow sensor",
            Finding = "Between 2° and 19° up the head band keeps at least 80 % and no stride phase hears the floor.",
            Windows = [new("both kept: 2° to 19°", 2, 19, true) { Colour = Colour.FromHex("1c6e3c") }],
            ReferenceLines =
            [
                new("as mounted, 8°", 8, true, new(Colour.Ink, DashPattern.Dashed, 2)),
                new("required 80 %", 80, false, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2)),
            ],
            Footnotes = ["Every point is a full evaluation over 16 stride phases; other sensors as in the layout."],
        };
    }

    public static LineFigure FewPoints() => new(
        [
            new("measured, mean of 20", [new(0.4, 1.2), new(0.8, 9.5), new(1.2, 14.1), new(1.9, 18.8), new(2.6, double.NaN), new(3.1, 21.7)])
            {
                HasNoLine = true,
                Marker = MarkerShape.Ring,
            },
            new("computed", [new(0.4, 2), new(0.8, 8.9), new(1.2, 14.6), new(1.9, 19.2), new(2.6, 20.4), new(3.1, 21.1)]),
        ],
        new("Range", "m"),
        new("Level below threshold", "dB") { IsReversed = true })
    {
        Title = "A few points, an axis that grows downwards, a gap",
        Finding = "Computed and measured agree within 1.1 dB.",
        Markers = [new("worst case", new(0.4, 1.2), MarkerShape.None)],
        PlotHeightPixels = 420,
    };

    public static StripFigure Poles()
    {
        var across = new GridAxis(-0.49, 0.02, 50);
        ImmutableArray<double> Row(double width) =>
            [.. Enumerable.Range(0, 50).Select(i => Math.Abs(across.Centre(i)) > 0.45 ? double.NaN : 3.2 * Math.Exp(-Math.Pow(across.Centre(i) / width, 2)))];
        StripRow Make(string name, string detail, double width)
        {
            ImmutableArray<double> values = Row(width);
            return new(name, values)
            {
                Detail = detail,
                Cells = [.. values.Select(v => double.IsNaN(v) ? 1 : v < 1.9 ? 0 : -1)],
            };
        }

        return new(
            across,
            [
                Make("Pole, 25 mm, full height", "78 % in time", 0.4),
                Make("Pole, 75 mm, full height", "96 % in time", 0.6),
                Make("Chain post, 60 mm, 0.9 m high", "51 % in time", 0.26),
            ],
            Lateral,
            ColourMapping.Sequential(0, 3.5, "Warning time left", "s", isPaleHigh: true) with
            {
                Marks = [new(1.9, "time needed")],
                NoValueLabel = "never reported",
            })
        {
            Title = "Upright poles over the lateral offset",
            Finding = "The chain post is the worst: only half of the body's width is warned in time.",
            Categories = [new("too late", HatchPattern.Rising), new("never heard", HatchPattern.Lattice)],
            ReferenceLines =
            [
                new("widest body point, left", 0.29, true, LineStyle.Plain),
                new("widest body point, right", -0.29, true, LineStyle.Plain),
            ],
            SideNames = ("wearer's left", "right"),
        };
    }

    public static BarFigure Shares() => new(
        [
            new("warned in time", Colour.FromHex("9fd0c3"), HatchPattern.None),
            new("heard too late", Colour.FromHex("f3c78f"), HatchPattern.Rising),
            new("never heard", Colour.FromHex("c9c9d6"), HatchPattern.Lattice),
        ],
        [
            new("head", [62, 30, 8]) { Detail = "1.53 to 2.00 m" },
            new("chest", [91, 9, 0]) { Detail = "1.28 to 1.53 m" },
            new("waist", [100, 0, 0]) { Detail = "0.86 to 1.28 m" },
            new("knee", [48, 41, 11]) { Detail = "0.28 to 0.86 m" },
            new("foot", [0, 0, 100]) { Detail = "ground to 0.28 m" },
        ],
        new("Share of the silhouette's cells in the band", "%") { From = 0, To = 100 })
    {
        Title = "Share of each height band warned in time",
        Finding = "The foot band is never heard: it is left to the long cane.",
        ReferenceLines = [new("required 90 %", 90, true, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5))],
    };

    public static BarFigure SharesCompared() => new(
        [
            new("Layout A", Colour.FromHex("a9bdf6"), HatchPattern.None),
            new("Layout B, brow sensor 8° up", Colour.FromHex("f6c39a"), HatchPattern.Rising),
            new("Layout C, two chest sensors", Colour.FromHex("bfe0d8"), HatchPattern.Dots),
        ],
        [
            new("head", [62, 74.3, 58]),
            new("chest", [91, 88, 97]),
            new("waist", [100, 100, 99.4]),
            new("knee", [48, 44, 61]),
            new("foot", [0, double.NaN, 2]),
        ],
        new("Warned in time", "%") { From = 0, To = 100 })
    {
        Title = "Three layouts, band by band",
        Finding = "B is the best for the head, C for the knee; no layout serves the foot.",
        Arrangement = BarArrangement.SideBySide,
    };

    public static PolarFigure Directivity()
    {
        ImmutableArray<PolarPoint> Curve(double factor, double width) =>
        [
            .. Enumerable.Range(-180, 361).Select(i =>
            {
                double a = i * 0.5;
                double u = Math.Sin(a * Math.PI / 180) * width;
                double d = Math.Abs(u) < 1e-9 ? 1 : Math.Abs(Math.Sin(u) / u);
                return new PolarPoint(Angle.FromDegrees(a), factor * 20 * Math.Log10(Math.Max(d, 1e-6)));
            }),
        ];
        return new([new("one way (transmitter)", Curve(1, 6)), new("two way (transmitter and receiver)", Curve(2, 6))])
        {
            Title = "Directivity: narrow closed 40 kHz single",
            Finding = "One way the level falls by 3 dB at 13.4° off the boresight; two way by 6 dB at the same angle.",
            Marks =
            [
                new("−3 dB at 13.4°", Angle.FromDegrees(13.4), -3),
                new("−6 dB two way", Angle.FromDegrees(-13.4), -6),
            ],
            Footnotes = ["Level against the boresight at 40.0 kHz, circular piston in a baffle."],
        };
    }

    public static PolarFigure FullCircle() => Directivity() with
    {
        Title = "The whole circle",
        IsFullCircle = true,
        FloorDecibels = -60,
        RingStepDecibels = 20,
    };

    public static TimelineFigure WalkUp() => new(
        [
            new("brow", [new(0.1, 0.28, 1), new(0.28, 0.9, 0), new(0.9, 2.1, 2) { Label = "hit rate under 90 %" }, new(2.1, 4, 3)])
            {
                Detail = "announces ahead",
                Events = [new(0.9, "first reliably reported", MarkerShape.Diamond)],
            },
            new("chest left", [new(0.1, 0.28, 1), new(0.28, 1.6, 0) { Label = "reliably reported" }, new(1.6, 2.9, 2), new(2.9, 4, 3)])
            {
                Events = [new(1.6, "first reliably reported", MarkerShape.Diamond)],
            },
            new("belt", [new(0.1, 0.28, 1), new(0.28, 4, 3) { Label = "branch passes above the beam" }]),
        ],
        [
            new("reported in at least 90 % of phases", Colour.FromHex("9fd0c3"), HatchPattern.None),
            new("dead zone", Colour.FromHex("8d8d99"), HatchPattern.Lattice),
            new("heard now and then", Colour.FromHex("f3e3a8"), HatchPattern.Dots),
            new("not heard", Colour.White, HatchPattern.Rising),
        ],
        new("Distance ahead of the foremost body point", "m") { From = 0, To = 4, IsReversed = true })
    {
        Title = "Walking up to the branch at head height",
        Finding = "First reliably reported at 1.6 m by the chest sensor: 1.3 s of warning, 0.6 s short of what is needed.",
        ReferenceLines = [new("warning needed at 2.3 m", 2.3, true, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5))],
        Windows = [new("time to stop", 0.6, 2.3, true)],
    };
}
