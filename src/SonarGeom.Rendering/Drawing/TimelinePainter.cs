using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws stretches and events in rows.</summary>
internal sealed class TimelinePainter : RowChartPainter
{
    private readonly TimelineFigure _figure;

    public TimelinePainter(TimelineFigure figure)
        : base(
            figure,
            figure.Rows.Select(r => (r.Label, r.Detail)),
            58,
            figure.Horizontal,
            AxisRange.Of(
                figure.Horizontal,
                figure.Rows.SelectMany(r => r.Intervals.SelectMany(i => (double[])[i.From, i.To]).Concat(r.Events.Select(e => e.At))),
                true),
            0,
            figure.ReferenceLines,
            figure.Windows,
            (string.Empty, string.Empty))
    {
        _figure = figure;
        for (int k = 0; k < figure.Kinds.Length; k++)
        {
            TimelineKind kind = figure.Kinds[k];
            if (figure.Rows.Any(r => r.Intervals.Any(i => i.Kind == k)))
            {
                Legend.AddHatch(kind.Name, kind.Hatch, Colour.Ink, kind.Colour);
            }
        }

        foreach (TimelineEvent e in figure.Rows.SelectMany(r => r.Events))
        {
            Legend.AddMarker(e.Label, e.Shape, e.Colour);
        }
    }

    protected override void PaintRows(DrawingSurface surface)
    {
        for (int i = 0; i < _figure.Rows.Length; i++)
        {
            Box row = Row(i);
            surface.Draw(Outline.Line(row.Left, row.CentreY, row.Right, row.CentreY), new(Colour.GridGrey, 1));
            foreach (TimelineInterval interval in _figure.Rows[i].Intervals)
            {
                TimelineKind kind = _figure.Kinds[interval.Kind];
                var bar = Outline.Rectangle(BoxOf(row, interval));
                surface.Fill(bar, kind.Colour);
                Hatching.Draw(surface, bar, kind.Hatch, Colour.Ink, hasRim: false);
                surface.Draw(bar, new(Colour.Ink, 1.2));
            }
        }
    }

    protected override void PaintOver(DrawingSurface surface)
    {
        TextStyle style = Typography.Label;
        for (int i = 0; i < _figure.Rows.Length; i++)
        {
            Box row = Row(i);
            double[] events = [.. _figure.Rows[i].Events.Select(e => Frame.X(e.At))];
            foreach (TimelineInterval interval in _figure.Rows[i].Intervals)
            {
                Box box = BoxOf(row, interval);
                double half = 0.5 * style.Measure(interval.Label);
                if (interval.Label.Length > 0
                    && (2 * half) + 12 <= box.Width
                    && !Array.Exists(events, x => Math.Abs(x - box.CentreX) < half + 12))
                {
                    surface.Text(
                        interval.Label, box.CentreX, box.CentreY + (0.36 * style.Size), style, Colour.Ink, TextAnchor.Middle, halo: 4);
                }
            }

            foreach (TimelineEvent e in _figure.Rows[i].Events)
            {
                if (e.At >= Frame.FromX && e.At <= Frame.ToX)
                {
                    Markers.Draw(surface, e.Shape, Frame.X(e.At), row.CentreY, 9, e.Colour);
                }
            }
        }
    }

    private Box BoxOf(Box row, TimelineInterval interval)
    {
        double a = Frame.X(Math.Clamp(interval.From, Frame.FromX, Frame.ToX));
        double b = Frame.X(Math.Clamp(interval.To, Frame.FromX, Frame.ToX));
        return new(Math.Min(a, b), row.Top + 10, Math.Max(a, b), row.Bottom - 10);
    }
}
