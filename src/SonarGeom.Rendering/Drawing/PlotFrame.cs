using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>The rectangle of a plot, the ranges of its axes and the way from values to the page.</summary>
internal sealed class PlotFrame(Box box, double fromX, double toX, bool isReversedX, double fromY, double toY, bool isReversedY)
{
    public const double TickLength = 7;

    public Box Box => box;

    /// <summary>Gets the width of the page, so that a long axis label stays on it.</summary>
    public double PageWidth { get; init; } = double.PositiveInfinity;

    public double FromX => fromX;

    public double ToX => toX;

    public double FromY => fromY;

    public double ToY => toY;

    public double X(double value)
    {
        double share = (value - fromX) / (toX - fromX);
        return isReversedX ? box.Right - (share * box.Width) : box.Left + (share * box.Width);
    }

    public double Y(double value)
    {
        double share = (value - fromY) / (toY - fromY);
        return isReversedY ? box.Top + (share * box.Height) : box.Bottom - (share * box.Height);
    }

    public Outline Path(ReadOnlySpan<PlotPoint> points, bool isClosed)
    {
        var outline = new Outline();
        AddPath(outline, points, isClosed);
        return outline;
    }

    public void AddPath(Outline outline, ReadOnlySpan<PlotPoint> points, bool isClosed)
    {
        bool isDown = false;
        foreach (PlotPoint p in points)
        {
            if (!double.IsFinite(p.X) || !double.IsFinite(p.Y))
            {
                isDown = false;
                continue;
            }

            if (isDown)
            {
                outline.LineTo(X(p.X), Y(p.Y));
            }
            else
            {
                outline.MoveTo(X(p.X), Y(p.Y));
                isDown = true;
            }
        }

        if (isClosed && points.Length > 0)
        {
            outline.Close();
        }
    }

    public void DrawBorder(DrawingSurface surface) =>
        surface.Draw(Outline.Rectangle(box), new(Colour.Ink, 1.5));

    public void DrawGrid(DrawingSurface surface, Ticks? across, Ticks? up)
    {
        var lines = new Outline();
        foreach (double v in across?.Values ?? [])
        {
            lines.AddLine(X(v), box.Top, X(v), box.Bottom);
        }

        foreach (double v in up?.Values ?? [])
        {
            lines.AddLine(box.Left, Y(v), box.Right, Y(v));
        }

        surface.Draw(lines, new(Colour.GridGrey, 1));
    }

    /// <summary>Draws ticks under the plot, with their labels and the axis label if asked for. Returns the lower edge.</summary>
    public double DrawBottomAxis(DrawingSurface surface, Ticks ticks, string? label)
    {
        var lines = new Outline();
        foreach (double v in ticks.Values)
        {
            lines.AddLine(X(v), box.Bottom, X(v), box.Bottom + TickLength);
        }

        surface.Draw(lines, new(Colour.Ink, 1.5));
        if (label is null)
        {
            return box.Bottom + TickLength;
        }

        TextStyle style = Typography.Tick;
        double baseline = box.Bottom + TickLength + 3 + style.Ascent;
        for (int i = 0; i < ticks.Values.Length; i++)
        {
            surface.Text(ticks.Labels[i], X(ticks.Values[i]), baseline, style, Colour.Ink, TextAnchor.Middle);
        }

        baseline += style.Descent + 6 + Typography.AxisLabel.Ascent;
        double half = 0.5 * Typography.AxisLabel.Measure(label);
        double centre = Math.Max(half + 8, Math.Min(box.CentreX, PageWidth - 8 - half));
        surface.Text(label, centre, baseline, Typography.AxisLabel, Colour.Ink, TextAnchor.Middle);
        return baseline + Typography.AxisLabel.Descent;
    }

    /// <summary>Draws ticks left of the plot, with their labels and the axis label if asked for.</summary>
    public void DrawLeftAxis(DrawingSurface surface, Ticks ticks, string? label)
    {
        var lines = new Outline();
        foreach (double v in ticks.Values)
        {
            lines.AddLine(box.Left - TickLength, Y(v), box.Left, Y(v));
        }

        surface.Draw(lines, new(Colour.Ink, 1.5));
        if (label is null)
        {
            return;
        }

        TextStyle style = Typography.Tick;
        for (int i = 0; i < ticks.Values.Length; i++)
        {
            surface.Text(
                ticks.Labels[i], box.Left - TickLength - 4, Y(ticks.Values[i]) + (0.36 * style.Size), style, Colour.Ink, TextAnchor.End);
        }

        double x = box.Left - LeftWidth(ticks) + Typography.AxisLabel.Ascent;
        TextStyle labelStyle = Typography.AxisLabel;
        double length = labelStyle.Measure(label);
        if (length > box.Height + 30)
        {
            labelStyle = labelStyle with { Size = Math.Max(13, labelStyle.Size * (box.Height + 30) / length) };
        }

        surface.Text(label, x, box.CentreY, labelStyle, Colour.Ink, TextAnchor.Middle, isUpward: true);
    }

    /// <summary>Returns the room that a left axis needs.</summary>
    public static double LeftWidth(Ticks ticks) =>
        TickLength + 4 + Widest(ticks) + 10 + Typography.AxisLabel.Size;

    /// <summary>Gets the room that a bottom axis needs.</summary>
    public static double BottomHeight => TickLength + 3 + Typography.Tick.Size + 6 + Typography.AxisLabel.Size;

    public static double Widest(Ticks ticks) =>
        ticks.Labels.Length == 0 ? 0 : ticks.Labels.Max(Typography.Tick.Measure);
}
