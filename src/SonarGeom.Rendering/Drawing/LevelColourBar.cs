using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>The colour bar lying level under several maps, its label before it and its named values above it.</summary>
internal sealed class LevelColourBar
{
    private const double BarHeight = 26;
    private const double Tip = 16;

    private readonly ColourMapping _mapping;
    private readonly Ticks _ticks;
    private readonly TopLabels _marks = new();
    private readonly double _labelWidth;
    private readonly double _width;

    public LevelColourBar(ColourMapping mapping, double width)
    {
        _mapping = mapping;
        _width = width;
        _labelWidth = Typography.AxisLabel.Measure(mapping.Text) + 20;
        double length = width - _labelWidth - (2 * Tip);
        _ticks = mapping.ClassEdges.Length > 0
            ? Ticks.At(mapping.ClassEdges.AsSpan())
            : Ticks.Along(mapping.Low, mapping.High, length, Typography.Tick);
        ArrangeMarks(0);
    }

    public double Height => _marks.Height + BarHeight + PlotFrame.TickLength + 3 + Typography.Tick.Size;

    public void Paint(DrawingSurface surface, double left, double top)
    {
        surface.BeginGroup("colour bar");
        ArrangeMarks(left);
        Box bar = BarAt(left, top + _marks.Height);
        surface.Text(
            _mapping.Text, left, bar.CentreY + (0.36 * Typography.AxisLabel.Size), Typography.AxisLabel, Colour.Ink);
        PaintColours(surface, bar);
        var lines = new Outline();
        TextStyle style = Typography.Tick;
        for (int i = 0; i < _ticks.Values.Length; i++)
        {
            double x = XOf(bar, _ticks.Values[i]);
            lines.AddLine(x, bar.Bottom, x, bar.Bottom + PlotFrame.TickLength);
            surface.Text(
                _ticks.Labels[i], x, bar.Bottom + PlotFrame.TickLength + 3 + style.Ascent, style, Colour.Ink, TextAnchor.Middle);
        }

        surface.Draw(lines, new(Colour.Ink, 1.5));
        foreach (ScaleMark mark in _mapping.Marks)
        {
            double x = XOf(bar, Math.Clamp(mark.Value, _mapping.Low, _mapping.High));
            surface.Draw(Outline.Line(x, bar.Top - 5, x, bar.Bottom + 5), new(Colour.White, 6));
            surface.Draw(Outline.Line(x, bar.Top - 5, x, bar.Bottom + 5), new(Colour.Ink, 3));
        }

        _marks.Paint(surface, bar.Top);
        surface.EndGroup();
    }

    private Box BarAt(double left, double top) =>
        new(left + _labelWidth + Tip, top, left + _width - Tip, top + BarHeight);

    private double XOf(Box bar, double value) => bar.Left + (bar.Width * ColourBar.Share(_mapping, value));

    private void ArrangeMarks(double left)
    {
        Box bar = BarAt(left, 0);
        _marks.Arrange(
            _mapping.Marks.Select(m => (XOf(bar, Math.Clamp(m.Value, _mapping.Low, _mapping.High)), m.Label, Colour.Ink)),
            bar.Left - Tip,
            bar.Right + Tip);
    }

    private void PaintColours(DrawingSurface surface, Box bar)
    {
        int classes = _mapping.ClassEdges.Length + 1;
        if (classes > 1)
        {
            for (int i = 0; i < classes; i++)
            {
                double from = bar.Left + (bar.Width * i / classes);
                double to = bar.Left + (bar.Width * (i + 1) / classes);
                surface.Fill(Outline.Rectangle(new(from, bar.Top, to, bar.Bottom)), _mapping.OfClass(i));
                surface.Draw(Outline.Line(to, bar.Top, to, bar.Bottom), new(Colour.Ink, 1));
            }
        }
        else
        {
            const int columns = 200;
            var image = new RasterImage(columns, 1);
            for (int c = 0; c < columns; c++)
            {
                image.Set(c, 0, _mapping.Scale.At((c + 0.5) / columns));
            }

            surface.DrawImage(image, bar);
        }

        // The pointed ends say that values beyond the scale have the colours of its ends.
        surface.Fill(Triangle(bar, true), _mapping.At(double.PositiveInfinity));
        surface.Fill(Triangle(bar, false), _mapping.At(double.NegativeInfinity));
        var shape = new Outline();
        shape.MoveTo(bar.Left, bar.Top);
        shape.LineTo(bar.Right, bar.Top);
        shape.LineTo(bar.Right + Tip, bar.CentreY);
        shape.LineTo(bar.Right, bar.Bottom);
        shape.LineTo(bar.Left, bar.Bottom);
        shape.LineTo(bar.Left - Tip, bar.CentreY);
        shape.Close();
        surface.Draw(shape, new(Colour.Ink, 1.5));
    }

    private static Outline Triangle(Box bar, bool isHigh)
    {
        double x = isHigh ? bar.Right : bar.Left;
        var tip = new Outline();
        tip.MoveTo(x, bar.Top);
        tip.LineTo(isHigh ? x + Tip : x - Tip, bar.CentreY);
        tip.LineTo(x, bar.Bottom);
        tip.Close();
        return tip;
    }
}
