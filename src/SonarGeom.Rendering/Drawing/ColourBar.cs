using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>The upright bar that says which colour stands for which value.</summary>
internal sealed class ColourBar
{
    private const double BarWidth = 26;
    private const double Tip = 16;

    private readonly ColourMapping _mapping;
    private readonly Ticks _ticks;
    private readonly double _tickWidth;
    private readonly List<TextBlock> _marks = [];

    public ColourBar(ColourMapping mapping, double height)
    {
        _mapping = mapping;
        Height = height;
        double barHeight = height - (2 * Tip);
        _ticks = mapping.ClassEdges.Length > 0
            ? Ticks.At(mapping.ClassEdges.AsSpan())
            : Ticks.Upright(mapping.Low, mapping.High, Math.Min(barHeight, 500));
        _tickWidth = PlotFrame.Widest(_ticks);
        foreach (ScaleMark mark in mapping.Marks)
        {
            _marks.Add(TextBlock.Wrap(mark.Label, Typography.StrongLabel, 120));
        }

        double markWidth = _marks.Count == 0 ? 0 : 12 + _marks.Max(m => m.Width);
        Width = BarWidth + PlotFrame.TickLength + 4 + _tickWidth + markWidth + 10 + Typography.AxisLabel.Size;
    }

    public double Width { get; }

    public double Height { get; }

    public void Paint(DrawingSurface surface, double left, double top)
    {
        surface.BeginGroup("colour bar");
        var bar = new Box(left, top + Tip, left + BarWidth, top + Height - Tip);
        PaintColours(surface, bar);

        // The pointed ends say that values beyond the scale have the colours of its ends.
        var shape = new Outline();
        shape.MoveTo(bar.Left, bar.Top);
        shape.LineTo(bar.CentreX, bar.Top - Tip);
        shape.LineTo(bar.Right, bar.Top);
        shape.LineTo(bar.Right, bar.Bottom);
        shape.LineTo(bar.CentreX, bar.Bottom + Tip);
        shape.LineTo(bar.Left, bar.Bottom);
        shape.Close();
        surface.Draw(shape, new(Colour.Ink, 1.5));
        PaintTicks(surface, bar);
        double x = left + Width - Typography.AxisLabel.Descent;
        surface.Text(_mapping.Text, x, bar.CentreY, Typography.AxisLabel, Colour.Ink, TextAnchor.Middle, isUpward: true);
        surface.EndGroup();
    }

    private static Outline Triangle(Box bar, bool isTop)
    {
        var tip = new Outline();
        double y = isTop ? bar.Top : bar.Bottom;
        tip.MoveTo(bar.Left, y);
        tip.LineTo(bar.CentreX, isTop ? y - Tip : y + Tip);
        tip.LineTo(bar.Right, y);
        tip.Close();
        return tip;
    }

    /// <summary>Returns how far along the bar a value lies, from 0 to 1. Classes are equally long whatever they span; a
    /// value inside a class lies at its share of it.</summary>
    public static double Share(ColourMapping mapping, double value)
    {
        int classes = mapping.ClassEdges.Length + 1;
        if (classes == 1)
        {
            return (value - mapping.Low) / (mapping.High - mapping.Low);
        }

        int index = 0;
        while (index < mapping.ClassEdges.Length && value >= mapping.ClassEdges[index])
        {
            index++;
        }

        double from = index == 0 ? mapping.Low : mapping.ClassEdges[index - 1];
        double to = index == classes - 1 ? mapping.High : mapping.ClassEdges[index];
        double share = to > from ? Math.Clamp((value - from) / (to - from), 0, 1) : 0.5;
        return (index + share) / classes;
    }

    private double YOf(Box bar, double value) => bar.Bottom - (bar.Height * Share(_mapping, value));

    private void PaintColours(DrawingSurface surface, Box bar)
    {
        int classes = _mapping.ClassEdges.Length + 1;
        if (classes > 1)
        {
            for (int i = 0; i < classes; i++)
            {
                double lower = bar.Bottom - (bar.Height * i / classes);
                double upper = bar.Bottom - (bar.Height * (i + 1) / classes);
                surface.Fill(Outline.Rectangle(new(bar.Left, upper, bar.Right, lower)), _mapping.OfClass(i));
                surface.Draw(Outline.Line(bar.Left, upper, bar.Right, upper), new(Colour.Ink, 1));
            }
        }
        else
        {
            const int rows = 200;
            var image = new RasterImage(1, rows);
            for (int r = 0; r < rows; r++)
            {
                image.Set(0, r, _mapping.Scale.At(1 - ((r + 0.5) / rows)));
            }

            surface.DrawImage(image, bar);
        }

        surface.Fill(Triangle(bar, true), _mapping.At(double.PositiveInfinity));
        surface.Fill(Triangle(bar, false), _mapping.At(double.NegativeInfinity));
    }

    private void PaintTicks(DrawingSurface surface, Box bar)
    {
        var lines = new Outline();
        TextStyle style = Typography.Tick;
        double textX = bar.Right + PlotFrame.TickLength + 4;
        for (int i = 0; i < _ticks.Values.Length; i++)
        {
            double y = YOf(bar, _ticks.Values[i]);
            lines.AddLine(bar.Right, y, bar.Right + PlotFrame.TickLength, y);
            surface.Text(_ticks.Labels[i], textX, y + (0.36 * style.Size), style, Colour.Ink);
        }

        surface.Draw(lines, new(Colour.Ink, 1.5));
        if (_marks.Count == 0)
        {
            return;
        }

        double[] wanted = [.. _mapping.Marks.Select(m => YOf(bar, Math.Clamp(m.Value, _mapping.Low, _mapping.High)))];
        double[] sizes = [.. _marks.Select(m => m.Height + 4)];
        double[] at = LabelPlacer.Spread(wanted, sizes, bar.Top - Tip, bar.Bottom + Tip);
        double markX = textX + _tickWidth + 12;
        for (int i = 0; i < _marks.Count; i++)
        {
            surface.Draw(
                Outline.Line(bar.Left - 5, wanted[i], bar.Right + 5, wanted[i]), new(Colour.White, 6));
            surface.Draw(
                Outline.Line(bar.Left - 5, wanted[i], bar.Right + 5, wanted[i]), new(Colour.Ink, 3));
            _marks[i].Paint(surface, markX, at[i] - (0.5 * _marks[i].Height), Colour.Ink);
        }
    }
}
