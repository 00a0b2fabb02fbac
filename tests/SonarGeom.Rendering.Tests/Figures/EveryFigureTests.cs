using System.Xml.Linq;
using SkiaSharp;
using SonarGeom.Rendering.Drawing;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Tests.Figures;

public class EveryFigureTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Names => AllFigures.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void No_two_lines_of_text_overlap_and_none_leaves_the_page(string name)
    {
        (FigurePainter painter, SvgSurface surface) = Paint(name);
        var page = new Box(0, 0, painter.Width, painter.Height);
        Assert.NotEmpty(surface.Texts);
        for (int i = 0; i < surface.Texts.Count; i++)
        {
            DrawingSurface.PlacedText text = surface.Texts[i];
            Assert.True(page.Contains(text.Box), $"\"{text.Text}\" leaves the page: {text.Box}");
            for (int k = 0; k < i; k++)
            {
                DrawingSurface.PlacedText other = surface.Texts[k];
                Assert.False(
                    text.Box.Grown(-1.5).Overlaps(other.Box.Grown(-1.5)), $"\"{text.Text}\" lies over \"{other.Text}\"");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Both_formats_have_all_the_text_and_the_pixels_have_ink_for_it(string name)
    {
        (FigurePainter painter, SvgSurface surface) = Paint(name);
        XDocument document = XDocument.Parse(surface.Finish());
        string[] written = [.. document.Descendants(Svg + "g").Attributes("data-text").Select(a => a.Value)];
        Assert.Equal(surface.Texts.Select(t => t.Text), written);

        using SKBitmap picture = SKBitmap.Decode(FigureWriter.Png(AllFigures.Make(name)));
        Assert.Equal((int)painter.Width, picture.Width);
        Assert.Equal((int)painter.Height, picture.Height);
        SKColor[] pixels = picture.Pixels;
        foreach (DrawingSurface.PlacedText text in surface.Texts)
        {
            Assert.True(HasContrast(pixels, picture.Width, text.Box), $"\"{text.Text}\" at {text.Box} cannot be seen");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_vector_picture_stands_alone_and_tells_what_it_shows(string name)
    {
        Figure figure = AllFigures.Make(name);
        XElement root = XDocument.Parse(FigureWriter.Svg(figure)).Root!;
        Assert.Equal("img", root.Attribute("role")!.Value);
        Assert.Equal(root.Attribute("aria-label")!.Value, root.Element(Svg + "title")!.Value);
        Assert.StartsWith(figure.Finding, root.Element(Svg + "desc")!.Value, StringComparison.Ordinal);

        HashSet<string> ids = [.. root.Descendants().Attributes("id").Select(a => a.Value)];
        foreach (string link in root.Descendants().Attributes("href").Select(a => a.Value))
        {
            Assert.True(
                link.StartsWith("data:image/png;base64,", StringComparison.Ordinal)
                || (link[0] == '#' && ids.Contains(link[1..])),
                link);
        }

        Assert.Empty(root.Descendants(Svg + "text"));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_same_figure_gives_the_same_bytes(string name)
    {
        Assert.Equal(FigureWriter.Png(AllFigures.Make(name)), FigureWriter.Png(AllFigures.Make(name)));
        Assert.Equal(FigureWriter.SvgBytes(AllFigures.Make(name)), FigureWriter.SvgBytes(AllFigures.Make(name)));
    }

    [Fact]
    public void Pdf_has_no_date_and_the_same_bytes_and_one_page_each()
    {
        byte[] one = FigureWriter.Pdf(Examples.TiltCurve(), Examples.ApproachMap());
        Assert.Equal(one, FigureWriter.Pdf(Examples.TiltCurve(), Examples.ApproachMap()));
        string text = System.Text.Encoding.Latin1.GetString(one);
        Assert.DoesNotContain("CreationDate", text, StringComparison.Ordinal);
        Assert.Equal(2, text.Split("/Type /Page\n").Length - 1);
        Assert.Throws<ArgumentException>(() => FigureWriter.Pdf());
    }

    [Fact]
    public void Figures_drawn_at_once_are_the_same_as_one_by_one()
    {
        string[] names = AllFigures.SortedNames[..8];
        byte[][] alone = [.. names.Select(n => FigureWriter.SvgBytes(AllFigures.Make(n)))];
        byte[][] together = new byte[names.Length][];
        Parallel.For(0, names.Length, i => together[i] = FigureWriter.SvgBytes(AllFigures.Make(names[i])));
        Assert.Equal(alone, together);
    }

    [Fact]
    public void A_scale_gives_more_pixels()
    {
        using SKBitmap once = SKBitmap.Decode(FigureWriter.Png(Examples.HardNothing()));
        using SKBitmap twice = SKBitmap.Decode(FigureWriter.Png(Examples.HardNothing(), 2));
        Assert.Equal(2 * once.Width, twice.Width);
        Assert.Throws<ArgumentOutOfRangeException>(() => FigureWriter.Png(Examples.HardNothing(), 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => FigureWriter.Png(Examples.HardNothing(), double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => Examples.HardNothing() with { WidthPixels = 599 });
    }

    private static (FigurePainter Painter, SvgSurface Surface) Paint(string name)
    {
        Figure figure = AllFigures.Make(name);
        FigurePainter painter = figure.Arrange();
        var surface = new SvgSurface(painter.Width, painter.Height, figure.Title, figure.Description);
        painter.Paint(surface);
        return (painter, surface);
    }

    /// <summary>Letters have ink much darker than their rim or paper.</summary>
    private static bool HasContrast(SKColor[] pixels, int width, Box box)
    {
        int darkest = 255;
        int palest = 0;
        for (int y = (int)box.Top; y <= (int)box.Bottom && (y + 1) * width <= pixels.Length; y++)
        {
            for (int x = (int)box.Left; x <= (int)box.Right && x < width; x++)
            {
                SKColor c = pixels[(y * width) + x];
                int grey = ((2 * c.Red) + (5 * c.Green) + c.Blue) / 8;
                darkest = Math.Min(darkest, grey);
                palest = Math.Max(palest, grey);
            }
        }

        return palest - darkest > 90;
    }
}
