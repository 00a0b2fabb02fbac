using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws lines over common axes, each named at its end.</summary>
internal sealed class LinePainter : FigurePainter
{
    private const double WidestEndLabel = 250;
    private const double Sample = 40;
    private const int MostMarkers = 9;

    private readonly LineFigure _figure;
    private readonly PlotFrame _frame;
    private readonly Ticks _across;
    private readonly Ticks _up;
    private readonly TopLabels _topLabels = new();
    private readonly List<EndLabel> _ends = [];
    private readonly LineStyle[] _styles;
    private readonly MarkerShape[] _markers;

    public LinePainter(LineFigure figure)
        : base(figure)
    {
        _figure = figure;
        _styles = [.. figure.Series.Select((s, i) => s.Style ?? LineStyle.At(i))];
        _markers = [.. figure.Series.Select((s, i) => s.Marker ?? Markers.At(i))];
        bool isFew = figure.Series.All(s => s.Points.Length <= 2 * MostMarkers);
        AxisRange across = AxisRange.Of(figure.Horizontal, figure.Series.SelectMany(s => s.Points.Select(p => p.X)), isFew);
        AxisRange up = AxisRange.Of(
            figure.Vertical,
            figure.Series.SelectMany(s => s.Points.Concat(s.Lower).Concat(s.Upper)
                .Where(p => p.X >= across.From && p.X <= across.To).Select(p => p.Y)),
            true);
        _up = figure.Vertical.Ticks.IsDefaultOrEmpty
            ? Ticks.Upright(up.From, up.To, figure.PlotHeightPixels)
            : Ticks.At(figure.Vertical);

        PlotFrame flat = new(new(0, 0, 1, figure.PlotHeightPixels), across.From, across.To, false, up.From, up.To, figure.Vertical.IsReversed);
        CollectEndLabels(flat);
        double rightWidth = _ends.Count == 0 ? 24 : _ends.Max(e => e.SampleWidth + e.Text.Width) + 30;
        double left = Math.Round(Margin + PlotFrame.LeftWidth(_up));
        double right = Math.Round(Width - Margin - rightWidth);
        flat = new(new(left, 0, right, 1), across.From, across.To, figure.Horizontal.IsReversed, up.From, up.To, false);
        _topLabels.Arrange(
            [
                .. figure.ReferenceLines.Where(r => r.IsUpright && r.Label.Length > 0)
                    .Select(r => (flat.X(r.Value), r.Label, r.Style.Colour)),
                .. figure.Windows.Where(w => w.IsUpright && w.Label.Length > 0)
                    .Select(w => (flat.X(0.5 * (Math.Max(w.From, across.From) + Math.Min(w.To, across.To))), w.Label, w.Colour)),
            ],
            Margin,
            Width - Margin);
        double top = Math.Round(ContentTop + _topLabels.Height);
        _frame = new(
            Box.FromSize(left, top, right - left, figure.PlotHeightPixels),
            across.From, across.To, figure.Horizontal.IsReversed, up.From, up.To, figure.Vertical.IsReversed)
        {
            PageWidth = Width,
        };
        _across = figure.Horizontal.Ticks.IsDefaultOrEmpty
            ? Ticks.Along(across.From, across.To, right - left, Typography.Tick)
            : Ticks.At(figure.Horizontal);
    }

    protected override double ContentHeight => _frame.Box.Bottom + PlotFrame.BottomHeight - ContentTop;

    protected override void PaintContent(DrawingSurface surface)
    {
        surface.BeginGroup("plot");
        surface.PushClip(_frame.Box);
        foreach (AxisWindow window in _figure.Windows)
        {
            WindowPainter.Paint(surface, window, BoxOf(window));
        }

        _frame.DrawGrid(surface, _across, _up);
        foreach (ReferenceLine line in _figure.ReferenceLines)
        {
            Outline path = line.IsUpright
                ? Outline.Line(_frame.X(line.Value), _frame.Box.Top, _frame.X(line.Value), _frame.Box.Bottom)
                : Outline.Line(_frame.Box.Left, _frame.Y(line.Value), _frame.Box.Right, _frame.Y(line.Value));
            surface.Draw(path, line.Style.ToStroke());
        }

        for (int i = 0; i < _figure.Series.Length; i++)
        {
            PaintEnvelope(surface, i);
        }

        for (int i = 0; i < _figure.Series.Length; i++)
        {
            if (!_figure.Series[i].HasNoLine)
            {
                surface.Draw(_frame.Path(_figure.Series[i].Points.AsSpan(), false), _styles[i].ToStroke());
            }
        }

        surface.PopClip();
        _frame.DrawBorder(surface);
        for (int i = 0; i < _figure.Series.Length; i++)
        {
            PaintMarkers(surface, i);
        }

        PaintPoints(surface);
        _topLabels.Paint(surface, _frame.Box.Top);
        _frame.DrawBottomAxis(surface, _across, _figure.Horizontal.Text);
        _frame.DrawLeftAxis(surface, _up, _figure.Vertical.Text);
        PaintEndLabels(surface);
        surface.EndGroup();
    }

    private void CollectEndLabels(PlotFrame frame)
    {
        for (int i = 0; i < _figure.Series.Length; i++)
        {
            LineSeries series = _figure.Series[i];
            PlotPoint last = series.Points.LastOrDefault(
                p => double.IsFinite(p.X) && double.IsFinite(p.Y) && p.X >= frame.FromX && p.X <= frame.ToX,
                new PlotPoint(frame.ToX, frame.FromY));
            double y = frame.Y(Math.Clamp(last.Y, frame.FromY, frame.ToY));
            _ends.Add(new(
                i, y, TextBlock.Wrap(series.Name, Typography.Label, WidestEndLabel), _styles[i], _markers[i], Sample, series.HasNoLine));
        }

        foreach (ReferenceLine line in _figure.ReferenceLines.Where(r => !r.IsUpright && r.Label.Length > 0))
        {
            _ends.Add(new(
                -1, frame.Y(line.Value), TextBlock.Wrap(line.Label, Typography.Label, WidestEndLabel), line.Style, MarkerShape.None, 0, true));
        }

        foreach (AxisWindow window in _figure.Windows.Where(w => !w.IsUpright && w.Label.Length > 0))
        {
            double middle = 0.5 * (Math.Max(window.From, frame.FromY) + Math.Min(window.To, frame.ToY));
            _ends.Add(new(
                -1,
                frame.Y(middle),
                TextBlock.Wrap(window.Label, Typography.Label, WidestEndLabel),
                new(window.Colour),
                MarkerShape.None,
                0,
                true));
        }
    }

    private Box BoxOf(AxisWindow window)
    {
        if (window.IsUpright)
        {
            double a = _frame.X(Math.Max(window.From, _frame.FromX));
            double b = _frame.X(Math.Min(window.To, _frame.ToX));
            return new(Math.Min(a, b), _frame.Box.Top, Math.Max(a, b), _frame.Box.Bottom);
        }

        double c = _frame.Y(Math.Max(window.From, _frame.FromY));
        double d = _frame.Y(Math.Min(window.To, _frame.ToY));
        return new(_frame.Box.Left, Math.Min(c, d), _frame.Box.Right, Math.Max(c, d));
    }

    private void PaintEnvelope(DrawingSurface surface, int index)
    {
        LineSeries series = _figure.Series[index];
        if (series.Lower.Length == 0 || series.Upper.Length == 0)
        {
            return;
        }

        ImmutableArray<PlotPoint> edge = [.. series.Lower, .. series.Upper.Reverse()];
        surface.Fill(_frame.Path(edge.AsSpan(), true), _styles[index].Colour.WithAlpha(45));
    }

    private void PaintMarkers(DrawingSurface surface, int index)
    {
        ImmutableArray<PlotPoint> points = _figure.Series[index].Points;
        bool isSparse = points.Length > 2 * MostMarkers && !_figure.Series[index].HasNoLine;
        double stride = isSparse ? points.Length / (double)MostMarkers : 1;

        // Lines with many points start their symbols at different places, so that equal lines do not hide each other's.
        double offset = isSparse ? stride * ((0.37 * index) + 0.2) % stride : 0;
        for (double k = offset; k < points.Length; k += stride)
        {
            PlotPoint p = points[(int)k];
            double x = _frame.X(p.X);
            double y = _frame.Y(p.Y);
            if (_frame.Box.Grown(0.5).Contains(x, y))
            {
                Markers.Draw(surface, _markers[index], x, y, 6.5, _styles[index].Colour);
            }
        }
    }

    private void PaintPoints(DrawingSurface surface)
    {
        var labels = new LabelPlacer(_frame.Box.Grown(-3));
        foreach (LineSeries series in _figure.Series)
        {
            labels.Avoid(_frame.Path(series.Points.AsSpan(), false));
        }

        TextStyle style = Typography.StrongLabel;
        foreach (MapMarker marker in _figure.Markers)
        {
            double x = _frame.X(marker.At.X);
            double y = _frame.Y(marker.At.Y);
            if (!_frame.Box.Contains(x, y))
            {
                continue;
            }

            double width = style.Measure(marker.Label) + 4;
            if (marker.Label.Length > 0 && labels.Beside(x, y, width, style.Size + 4, 14) is { } place)
            {
                surface.Text(
                    marker.Label, place.Box.Left + 2, place.Box.CentreY + (0.36 * style.Size), style, marker.Colour, halo: 3.5);
            }

            Markers.Draw(surface, marker.Shape, x, y, 8, marker.Colour);
        }
    }

    private void PaintEndLabels(DrawingSurface surface)
    {
        double[] wanted = [.. _ends.Select(e => e.Y + _frame.Box.Top)];
        double[] sizes = [.. _ends.Select(e => e.Text.Height + 6)];
        double[] at = LabelPlacer.Spread(wanted, sizes, _frame.Box.Top - 8, _frame.Box.Bottom + 34);
        double x = _frame.Box.Right + 22;
        for (int i = 0; i < _ends.Count; i++)
        {
            EndLabel end = _ends[i];
            surface.Draw(Outline.Line(_frame.Box.Right + 2, wanted[i], x - 2, at[i]), new(end.Style.Colour, 1.2));
            if (end.SampleWidth > 0)
            {
                if (!end.HasNoLine)
                {
                    surface.Draw(Outline.Line(x, at[i], x + Sample - 6, at[i]), end.Style.ToStroke());
                }

                Markers.Draw(surface, end.Marker, x + (0.5 * (Sample - 6)), at[i], 6.5, end.Style.Colour);
            }

            end.Text.Paint(surface, x + end.SampleWidth + 2, at[i] - (0.5 * end.Text.Height), end.Style.Colour);
        }
    }

    private sealed record EndLabel(
        int Series, double Y, TextBlock Text, LineStyle Style, MarkerShape Marker, double SampleWidth, bool HasNoLine);
}
