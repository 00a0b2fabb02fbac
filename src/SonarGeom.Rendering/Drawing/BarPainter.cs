using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws level bars, stacked or one under the other.</summary>
internal sealed class BarPainter : RowChartPainter
{
    private readonly BarFigure _figure;

    public BarPainter(BarFigure figure)
        : base(
            figure,
            figure.Rows.Select(r => (r.Label, r.Detail)),
            figure.Arrangement == BarArrangement.Stacked ? 62 : 22 + (32 * figure.Parts.Length),
            figure.Horizontal,
            RangeOf(figure),
            0,
            figure.ReferenceLines,
            [],
            (string.Empty, string.Empty))
    {
        _figure = figure;
        foreach (BarRow row in figure.Rows)
        {
            if (row.Values.Length != figure.Parts.Length)
            {
                throw new ArgumentException(
                    $"Row \"{row.Label}\" has {row.Values.Length} values for {figure.Parts.Length} parts.");
            }
        }

        foreach (BarPart part in figure.Parts)
        {
            Legend.AddHatch(part.Name, part.Hatch, Colour.Ink, part.Colour);
        }
    }

    protected override void PaintRows(DrawingSurface surface)
    {
        for (int i = 0; i < _figure.Rows.Length; i++)
        {
            foreach ((int part, Box box) in Bars(i))
            {
                var bar = Outline.Rectangle(box);
                surface.Fill(bar, _figure.Parts[part].Colour);
                Hatching.Draw(surface, bar, _figure.Parts[part].Hatch, Colour.Ink, hasRim: false);
                surface.Draw(bar, new(Colour.Ink, 1.2));
            }
        }
    }

    protected override void PaintOver(DrawingSurface surface)
    {
        if (_figure.Decimals < 0)
        {
            return;
        }

        TextStyle style = Typography.StrongLabel;
        for (int i = 0; i < _figure.Rows.Length; i++)
        {
            PaintMissing(surface, i);
            foreach ((int part, Box box) in Bars(i))
            {
                string text = Ticks.Write(_figure.Rows[i].Values[part], _figure.Decimals);
                double width = style.Measure(text);
                double baseline = box.CentreY + (0.36 * style.Size);
                bool isStacked = _figure.Arrangement == BarArrangement.Stacked;
                if (isStacked && width + 10 > box.Width)
                {
                    continue;
                }

                // A value beside its bar; inside when stacked or when there is no room to the right.
                bool isInside = isStacked || box.Right + 8 + width > Frame.Box.Right;
                double x = isStacked ? box.CentreX : isInside ? box.Right - 8 : box.Right + 8;
                TextAnchor anchor = isStacked ? TextAnchor.Middle : isInside ? TextAnchor.End : TextAnchor.Start;
                surface.Text(text, x, baseline, style, Colour.Ink, anchor, halo: 4);
            }
        }
    }

    /// <summary>A missing bar must not look like a zero.</summary>
    private void PaintMissing(DrawingSurface surface, int row)
    {
        TextStyle style = Typography.Label;
        Box line = Row(row);
        if (_figure.Arrangement == BarArrangement.Stacked)
        {
            if (!_figure.Rows[row].Values.Any(double.IsFinite))
            {
                surface.Text("no value", line.Left + 8, line.CentreY + (0.36 * style.Size), style, Colour.Grey);
            }

            return;
        }

        double slot = (line.Height - 20) / _figure.Parts.Length;
        for (int part = 0; part < _figure.Parts.Length; part++)
        {
            if (!double.IsFinite(_figure.Rows[row].Values[part]))
            {
                double middle = line.Top + 10 + ((part + 0.5) * slot) - 2;
                surface.Text("no value", line.Left + 8, middle + (0.36 * style.Size), style, Colour.Grey);
            }
        }
    }

    private static AxisRange RangeOf(BarFigure figure)
    {
        IEnumerable<double> ends = figure.Arrangement == BarArrangement.Stacked
            ? figure.Rows.Select(r => r.Values.Where(double.IsFinite).Sum())
            : figure.Rows.SelectMany(r => r.Values);
        return AxisRange.Of(figure.Horizontal with { From = figure.Horizontal.From ?? 0 }, ends.Append(0), true);
    }

    private IEnumerable<(int Part, Box Box)> Bars(int row)
    {
        Box line = Row(row);
        bool isStacked = _figure.Arrangement == BarArrangement.Stacked;
        double slot = (line.Height - 20) / (isStacked ? 1 : _figure.Parts.Length);
        double from = 0;
        for (int part = 0; part < _figure.Parts.Length; part++)
        {
            double value = _figure.Rows[row].Values[part];
            if (!double.IsFinite(value))
            {
                continue;
            }

            double to = from + value;
            double top = line.Top + 10 + (isStacked ? 0 : part * slot);
            double a = Frame.X(Math.Clamp(from, Frame.FromX, Frame.ToX));
            double b = Frame.X(Math.Clamp(to, Frame.FromX, Frame.ToX));
            if (value != 0 || !isStacked)
            {
                yield return (part, new(Math.Min(a, b), top, Math.Max(a, b), top + slot - (isStacked ? 0 : 4)));
            }

            from = isStacked ? to : 0;
        }
    }
}
