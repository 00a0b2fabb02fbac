using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using SkiaSharp;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Figures;

public partial class HeatmapTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void Each_cell_has_the_colour_of_its_value_and_lies_where_the_axes_say()
    {
        HeatmapFigure figure = Small(new(new(0, 1, 3), new(0, 1, 2), [0, 1, 2, 3, double.NaN, 5]), isReversed: false);
        using SKBitmap cells = Cells(figure);
        Assert.Equal((3, 2), (cells.Width, cells.Height));
        foreach ((int x, int y, double value) in ((int X, int Y, double Value)[])[(0, 1, 0), (1, 1, 1), (2, 1, 2), (0, 0, 3), (2, 0, 5)])
        {
            Colour wanted = figure.Colours.At(value);
            SKColor got = cells.GetPixel(x, y);
            Assert.Equal((wanted.Red, wanted.Green, wanted.Blue, 255), (got.Red, got.Green, got.Blue, got.Alpha));
        }

        Assert.Equal(0, cells.GetPixel(1, 0).Alpha);
        using SKBitmap reversed = Cells(Small(figure.Panels[0].Grid, isReversed: true));
        for (int x = 0; x < 3; x++)
        {
            Assert.Equal(cells.GetPixel(x, 0), reversed.GetPixel(2 - x, 0));
        }
    }

    [Fact]
    public void A_mirrored_grid_gives_the_mirrored_picture()
    {
        ValueGrid grid = Examples.Frontal(0.1);
        HeatmapFigure here = Map(grid);
        HeatmapFigure there = Map(grid.Mirrored());
        using SKBitmap cells = Cells(here);
        using SKBitmap mirrored = Cells(there);
        for (int y = 0; y < cells.Height; y++)
        {
            for (int x = 0; x < cells.Width; x++)
            {
                Assert.Equal(cells.GetPixel(x, y), mirrored.GetPixel(cells.Width - 1 - x, y));
            }
        }

        // The contour's points, mirrored in the middle of the plot.
        XElement image = XDocument.Parse(FigureWriter.Svg(here)).Descendants(Svg + "image").First();
        double middle = Number(image, "x") + (0.5 * Number(image, "width"));
        (double X, double Y)[] a = [.. ContourPoints(here).OrderBy(p => p.Y).ThenBy(p => p.X)];
        (double X, double Y)[] b = [.. ContourPoints(there).Select(p => ((2 * middle) - p.X, p.Y)).OrderBy(p => p.Y).ThenBy(p => p.Item1)];
        Assert.Equal(a.Length, b.Length);
        Assert.NotEmpty(a);
        for (int i = 0; i < a.Length; i++)
        {
            // Written to a hundredth of a pixel.
            Assert.Equal(a[i].X, b[i].X, 0.021);
            Assert.Equal(a[i].Y, b[i].Y, 0.021);
        }
    }

    [Fact]
    public void The_picture_of_a_mirrored_grid_is_the_mirrored_picture_pixel_by_pixel()
    {
        ValueGrid grid = Examples.Frontal(0.1);
        using SKBitmap here = SKBitmap.Decode(FigureWriter.Png(Map(grid)));
        using SKBitmap there = SKBitmap.Decode(FigureWriter.Png(Map(grid.Mirrored())));
        XElement image = XDocument.Parse(FigureWriter.Svg(Map(grid))).Descendants(Svg + "image").First();
        int left = (int)Number(image, "x");
        int width = (int)Number(image, "width");
        int top = (int)Number(image, "y");
        int height = (int)Number(image, "height");
        int different = 0;
        for (int y = top + 4; y < top + height - 4; y++)
        {
            for (int x = 4; x < width - 4; x++)
            {
                SKColor a = here.GetPixel(left + x, y);
                SKColor b = there.GetPixel(left + width - 1 - x, y);
                different += Math.Abs(a.Red - b.Red) + Math.Abs(a.Green - b.Green) + Math.Abs(a.Blue - b.Blue) > 60 ? 1 : 0;
            }
        }

        // Rims of strokes may fall to either side of a pixel's middle.
        Assert.True(different < 0.002 * width * height, $"{different} of {width * height} pixels differ");
    }

    [Fact]
    public void Equal_aspect_draws_squares()
    {
        XElement image = XDocument.Parse(FigureWriter.Svg(Examples.PlanSlice())).Descendants(Svg + "image").First();
        Assert.Equal(5.0 / 3.0, Number(image, "width") / Number(image, "height"), 0.003);
    }

    [Fact]
    public void Wrong_figures_are_refused_with_both_numbers()
    {
        HeatmapFigure figure = Examples.ApproachMap();
        Assert.Throws<ArgumentException>(() => FigureWriter.Svg(figure with { Panels = [] }));
        HeatmapPanel panel = figure.Panels[0] with { Categories = new([1, 2], []) };
        string message = Assert.Throws<ArgumentException>(() => FigureWriter.Svg(figure with { Panels = [panel] })).Message;
        Assert.Contains("2 cell categories for 5618 cells", message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new ValueGrid(new(0, 1, 2), new(0, 1, 2), [1, 2, 3]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new GridAxis(0, 0, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => new GridAxis(double.NaN, 1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => new GridAxis(0, 1, 0));
        Assert.Throws<ArgumentException>(() => FigureWriter.Svg(figure with { Horizontal = figure.Horizontal with { From = 3 } }));
    }

    private static HeatmapFigure Map(ValueGrid grid) => new(
        [new(grid) { Contours = [new(1.9, string.Empty, new(Colour.FromHex("b00000"), DashPattern.Full, 3))] }],
        Examples.Lateral with { From = -0.53, To = 0.53 },
        Examples.Height,
        ColourMapping.Sequential(0, 3.5, "Warning time left", "s"))
    {
        Title = "A map",
        Finding = "It can be mirrored.",
    };

    private static HeatmapFigure Small(ValueGrid grid, bool isReversed) => new(
        [new(grid)],
        new("Across", "m") { IsReversed = isReversed },
        new("Up", "m"),
        ColourMapping.Sequential(0, 5, "Value", "dB"))
    {
        Title = "Small",
        Finding = "Six cells.",
    };

    private static SKBitmap Cells(HeatmapFigure figure)
    {
        string data = XDocument.Parse(FigureWriter.Svg(figure)).Descendants(Svg + "image").First().Attribute("href")!.Value;
        return SKBitmap.Decode(Convert.FromBase64String(data[(data.IndexOf(',', StringComparison.Ordinal) + 1)..]));
    }

    private static IEnumerable<(double X, double Y)> ContourPoints(HeatmapFigure figure) =>
        XDocument.Parse(FigureWriter.Svg(figure)).Descendants(Svg + "path")
            .Where(p => p.Attribute("stroke")?.Value == "#b00000")
            .Where(p => p.Ancestors(Svg + "g").Any(g => g.Attribute("clip-path") is not null))
            .SelectMany(p => Coordinates().Matches(p.Attribute("d")!.Value))
            .Select(m => (
                double.Parse(m.Groups[1].ValueSpan, CultureInfo.InvariantCulture),
                double.Parse(m.Groups[2].ValueSpan, CultureInfo.InvariantCulture)));

    private static double Number(XElement element, string name) =>
        double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"[ML](-?[\d.]+) (-?[\d.]+)")]
    private static partial Regex Coordinates();
}
