using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws one row of cells per strip.</summary>
internal sealed class StripPainter : RowChartPainter
{
    private const double RowHeight = 64;
    private const double RowInset = 6;
    private const double LeastBarHeight = 300;

    private readonly StripFigure _figure;
    private readonly ColourBar _bar;

    public StripPainter(StripFigure figure)
        : base(
            figure,
            figure.Rows.Select(r => (r.Label, r.Detail)),
            HeightOfRow(figure),
            figure.Horizontal,
            AxisRange.Of(figure.Horizontal, [figure.Across.From, figure.Across.To], false),
            new ColourBar(figure.Colours, LeastBarHeight).Width + 26,
            figure.ReferenceLines,
            [],
            figure.SideNames)
    {
        _figure = figure;
        _bar = new ColourBar(figure.Colours, Frame.Box.Height);
        for (int i = 0; i < figure.Rows.Length; i++)
        {
            StripRow row = figure.Rows[i];
            if (row.Values.Length != figure.Across.Count)
            {
                throw new ArgumentException(
                    $"Row \"{row.Label}\" has {row.Values.Length} values; the strip has {figure.Across.Count} cells.");
            }

            if (row.Values.Any(double.IsNaN))
            {
                Legend.Add(figure.Colours.NoValueLabel, "no value", (surface, box) =>
                {
                    surface.Fill(Outline.Rectangle(box), PanelPainter.NoValue);
                    surface.Draw(Outline.Rectangle(box), new(Colour.Ink, 1.2));
                });
            }
        }

        for (int i = 0; i < figure.Categories.Length; i++)
        {
            CellCategory category = figure.Categories[i];
            if (figure.Rows.Any(r => r.Cells.Contains(i)))
            {
                Legend.AddHatch(category.Name, category.Hatch, category.Colour, Colour.White);
            }
        }
    }

    protected override void PaintRows(DrawingSurface surface)
    {
        GridAxis across = _figure.Across;
        for (int i = 0; i < _figure.Rows.Length; i++)
        {
            StripRow row = _figure.Rows[i];
            double left = Frame.X(across.From);
            double right = Frame.X(across.To);
            Box line = Row(i);
            var box = new Box(Math.Min(left, right), line.Top + RowInset, Math.Max(left, right), line.Bottom - RowInset);
            var image = new RasterImage(across.Count, 1);
            for (int c = 0; c < across.Count; c++)
            {
                image.Set(
                    left < right ? c : across.Count - 1 - c,
                    0,
                    double.IsNaN(row.Values[c]) ? PanelPainter.NoValue : _figure.Colours.At(row.Values[c]));
            }

            surface.DrawImage(image, box);
            for (int k = 0; k < _figure.Categories.Length; k++)
            {
                var region = new Outline();
                AddRuns(region, row, k, box);
                Hatching.Draw(surface, region, _figure.Categories[k].Hatch, _figure.Categories[k].Colour);
                surface.Draw(region, new(_figure.Categories[k].Colour, 1.6));
            }

            surface.Draw(Outline.Rectangle(box), new(Colour.Ink, 1));
        }
    }

    protected override void PaintOver(DrawingSurface surface) =>
        _bar.Paint(surface, Frame.Box.Right + 26, Frame.Box.Top);

    private static double HeightOfRow(StripFigure figure) =>
        Math.Max(RowHeight, LeastBarHeight / Math.Max(1, figure.Rows.Length));

    private void AddRuns(Outline region, StripRow row, int category, Box box)
    {
        GridAxis across = _figure.Across;
        for (int c = 0; c < row.Cells.Length; c++)
        {
            if (row.Cells[c] != category)
            {
                continue;
            }

            int first = c;
            while (c + 1 < row.Cells.Length && row.Cells[c + 1] == category)
            {
                c++;
            }

            double a = Frame.X(across.From + (first * across.Step));
            double b = Frame.X(across.From + ((c + 1) * across.Step));
            region.AddRectangle(new(Math.Min(a, b), box.Top, Math.Max(a, b), box.Bottom));
        }
    }
}
