using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Tests.Figures;

/// <summary>Small figures against approved drawings, letters and cell pictures left out so that they can be read in review.
/// To approve what is drawn now, run the tests once with the environment variable SONARGEOM_APPROVE set to 1.</summary>
public partial class GoldenFigureTests
{
    [Fact]
    public void A_small_map_is_drawn_as_approved()
    {
        Check("small-map", new HeatmapFigure(
            [
                new(new(new(-0.3, 0.2, 4), new(0.5, 1, 3), [0, 1, 2, 3, 1, 2, 3, 4, double.NaN, 3, 4, 5]))
                {
                    Categories = new([0, 0, -1, -1, 0, -1, -1, -1, -1, -1, -1, -1], [new("too late", HatchPattern.Level)]),
                    Contours = [new(2.5, "2.5 s", new(Colour.Ink, DashPattern.Dashed, 2))],
                    Outlines = [new("outline", [[new(-0.2, 0), new(0, 2.5), new(0.2, 0)]], true, LineStyle.Plain)],
                    Bands = [new("upper", 1.5, 3), new("lower", 0, 1.5)],
                    Markers = [new("sensor", new(0.1, 2.2), MarkerShape.Diamond)],
                },
            ],
            new("Lateral offset", "m") { IsReversed = true },
            new("Height", "m"),
            ColourMapping.Sequential(0, 5, "Warning time", "s") with { Marks = [new(2.5, "needed")] })
        {
            Title = "Small map",
            Finding = "One corner is too late.",
            Footnotes = ["Made up."],
            HasEqualAspect = false,
            WidthPixels = 800,
        });
    }

    [Fact]
    public void A_small_chart_is_drawn_as_approved()
    {
        Check("small-chart", new LineFigure(
            [new("level", [new(0.5, 20), new(1, 8), new(2, -4)]), new("threshold", [new(0.5, 10), new(1, 4), new(2, 0)])],
            new("Range", "m"),
            new("Level", "dB"))
        {
            Title = "Small chart",
            Finding = "They cross at 1.5 m.",
            Windows = [new("dead zone", 0, 0.7, true)],
            WidthPixels = 800,
            PlotHeightPixels = 300,
        });
    }

    private static void Check(string name, Figure figure)
    {
        string drawn = Skeleton(FigureWriter.Svg(figure));
        if (Environment.GetEnvironmentVariable("SONARGEOM_APPROVE") == "1")
        {
            File.WriteAllText(SourceOf(name), drawn);
            return;
        }

        string approved = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Figures", "Golden", name + ".svg.txt"));
        Assert.Equal(approved, drawn);
    }

    private static string Skeleton(string svg)
    {
        svg = GlyphShapes().Replace(svg, string.Empty);
        svg = Letters().Replace(svg, string.Empty);
        return CellPictures().Replace(svg, "(cells)");
    }

    private static string SourceOf(string name, [CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "Golden", name + ".svg.txt");

    [GeneratedRegex("<path id=\"g[^>]*/>\n")]
    private static partial Regex GlyphShapes();

    [GeneratedRegex("<use [^>]*/>")]
    private static partial Regex Letters();

    [GeneratedRegex("data:image/png;base64,[^\"]*")]
    private static partial Regex CellPictures();
}
