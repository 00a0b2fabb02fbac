using SkiaSharp;
using SonarGeom.Rendering.Drawing;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Sheets;

/// <summary>Turns sheets into PDF files with searchable text. The same sheet always gives the same bytes.</summary>
public static class SheetWriter
{
    /// <summary>Returns the sheet as a PDF document of A4 pages.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <exception cref="ArgumentException">A table row has not as many cells as there are columns.</exception>
    public static byte[] Pdf(SheetDocument sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var layout = new SheetLayout(sheet);
        using var stream = new MemoryStream();
        using (SKDocument document = SKDocument.CreatePdf(stream, FigureWriter.Metadata(sheet.Title, sheet.Subtitle)))
        {
            for (int page = 0; page < layout.PageCount; page++)
            {
                using SKCanvas canvas = document.BeginPage((float)SheetLayout.PageWidth, (float)SheetLayout.PageHeight);
                using (var surface = new SkiaSurface(canvas))
                {
                    layout.Paint(page, surface);
                }

                document.EndPage();
            }

            document.Close();
        }

        return stream.ToArray();
    }
}
