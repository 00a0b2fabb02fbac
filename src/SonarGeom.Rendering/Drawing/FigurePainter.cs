using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>A figure arranged on a page: title and finding above, footnotes below, the content between.</summary>
internal abstract class FigurePainter
{
    protected const double Margin = 28;

    private readonly TextBlock _title;
    private readonly TextBlock _finding;
    private readonly List<TextBlock> _footnotes = [];

    protected FigurePainter(Figure figure)
    {
        Width = figure.WidthPixels;
        double width = Width - (2 * Margin);
        _title = TextBlock.Wrap(figure.Title, Typography.Title, width);
        _finding = TextBlock.Wrap(figure.Finding, Typography.Finding, width);
        foreach (string footnote in figure.Footnotes)
        {
            _footnotes.Add(TextBlock.Wrap(footnote, Typography.Footnote, width));
        }

        ContentTop = Margin + _title.Height + 6 + _finding.Height + 18;
    }

    public double Width { get; }

    public double Height => Math.Ceiling(
        ContentTop + ContentHeight + (_footnotes.Count == 0 ? 0 : 22 + _footnotes.Sum(f => f.Height + 4)) + 20);

    protected double ContentTop { get; }

    protected double ContentWidth => Width - (2 * Margin);

    /// <summary>Gets how tall the content is; known once the derived painter is built.</summary>
    protected abstract double ContentHeight { get; }

    public void Paint(DrawingSurface surface)
    {
        surface.BeginGroup("heading");
        _title.Paint(surface, Margin, Margin, Colour.Ink);
        _finding.Paint(surface, Margin, Margin + _title.Height + 6, Colour.Ink);
        surface.EndGroup();
        PaintContent(surface);
        double y = ContentTop + ContentHeight + 22;
        if (_footnotes.Count > 0)
        {
            surface.BeginGroup("footnotes");
            surface.Draw(Outline.Line(Margin, y - 9, Width - Margin, y - 9), new(Colour.GridGrey, 1));
            foreach (TextBlock footnote in _footnotes)
            {
                footnote.Paint(surface, Margin, y, Colour.FromHex("444444"));
                y += footnote.Height + 4;
            }

            surface.EndGroup();
        }
    }

    protected abstract void PaintContent(DrawingSurface surface);
}
