using System.Text;
using SkiaSharp;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Figures;

/// <summary>Turns figures into files. The same figure always gives the same bytes.</summary>
public static class FigureWriter
{
    private const float PointsPerPixel = 0.45f;
    private const int Lossless = 101;

    /// <summary>Returns the figure as a PNG picture.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="scale">Picture elements per figure pixel, above 0 to 4: 2 for print. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="scale"/> is outside its range.</exception>
    public static byte[] Png(Figure figure, double scale = 1)
    {
        ArgumentNullException.ThrowIfNull(figure);
        if (!(scale > 0 && scale <= 4))
        {
            throw new ArgumentOutOfRangeException(nameof(scale), $"Scale is {scale}; it must be above 0 and at most 4.");
        }

        FigurePainter painter = figure.Arrange();
        var info = new SKImageInfo(
            (int)Math.Ceiling(painter.Width * scale),
            (int)Math.Ceiling(painter.Height * scale),
            SKColorType.Rgba8888,
            SKAlphaType.Opaque);
        using var bitmap = new SKBitmap(info);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        canvas.Scale((float)scale);
        using (var surface = new SkiaSurface(canvas))
        {
            painter.Paint(surface);
            canvas.Flush();
        }

        using SKPixmap pixels = bitmap.PeekPixels();
        using SKData data = pixels.Encode(PngOptions.Quick)
            ?? throw new InvalidOperationException("The picture could not be packed as PNG.");
        return data.ToArray();
    }

    /// <summary>Returns the figure as an SVG document.</summary>
    /// <param name="figure">The figure.</param>
    public static string Svg(Figure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        FigurePainter painter = figure.Arrange();
        var surface = new SvgSurface(painter.Width, painter.Height, figure.Title, figure.Description);
        painter.Paint(surface);
        return surface.Finish();
    }

    /// <summary>Returns the figure as an SVG document in UTF-8 without a byte-order mark.</summary>
    /// <param name="figure">The figure.</param>
    public static byte[] SvgBytes(Figure figure) => Encoding.UTF8.GetBytes(Svg(figure));

    /// <summary>Returns figures as a PDF document, one page each, as large as the figure.</summary>
    /// <param name="figures">One or more figures.</param>
    /// <exception cref="ArgumentException">There is no figure.</exception>
    public static byte[] Pdf(params ReadOnlySpan<Figure> figures)
    {
        if (figures.IsEmpty)
        {
            throw new ArgumentException("A PDF document needs at least one figure.", nameof(figures));
        }

        using var stream = new MemoryStream();
        using (SKDocument document = SKDocument.CreatePdf(stream, Metadata(figures[0].Title, figures[0].Finding)))
        {
            foreach (Figure figure in figures)
            {
                FigurePainter painter = figure.Arrange();
                using SKCanvas canvas = document.BeginPage(
                    (float)painter.Width * PointsPerPixel, (float)painter.Height * PointsPerPixel);
                canvas.Scale(PointsPerPixel);
                using (var surface = new SkiaSurface(canvas))
                {
                    painter.Paint(surface);
                }

                document.EndPage();
            }

            document.Close();
        }

        return stream.ToArray();
    }

    /// <summary>Returns document data without any date, with pictures stored without loss.</summary>
    internal static SKDocumentPdfMetadata Metadata(string title, string subject) => new(300, Lossless)
    {
        Title = title,
        Subject = subject,
        Creator = "SonarGeom",
        Producer = "SonarGeom",
    };
}
