using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Arranges named rows over one horizontal axis, with names of upright lines above and a legend below.</summary>
internal abstract class RowChartPainter : FigurePainter
{
    private const double WidestLabelShare = 0.28;

    private readonly List<(TextBlock Name, TextBlock Detail)> _labels = [];
    private readonly double[] _rowTops;
    private readonly double[] _rowHeights;
    private readonly double _plotBottom;
    private readonly AxisSpec _axis;
    private readonly TopLabels _topLabels = new();
    private readonly Ticks _ticks;
    private readonly SideNames _sideNames;
    private readonly IReadOnlyList<ReferenceLine> _references;
    private readonly IReadOnlyList<AxisWindow> _windows;

    protected RowChartPainter(
        Figure figure,
        IEnumerable<(string Name, string Detail)> labels,
        double rowHeight,
        AxisSpec axis,
        AxisRange range,
        double rightWidth,
        IReadOnlyList<ReferenceLine> references,
        IReadOnlyList<AxisWindow> windows,
        (string Left, string Right) sideNames)
        : base(figure)
    {
        _axis = axis;
        _references = [.. references.Where(r => r.IsUpright)];
        _windows = [.. windows.Where(w => w.IsUpright)];
        double widestLabel = WidestLabelShare * Width;
        foreach ((string name, string detail) in labels)
        {
            _labels.Add((
                TextBlock.Wrap(name, Typography.StrongLabel, widestLabel), TextBlock.Wrap(detail, Typography.Label, widestLabel)));
        }

        if (_labels.Count == 0)
        {
            throw new ArgumentException("A figure of rows needs at least one row.", nameof(figure));
        }

        double labelWidth = _labels.Max(l => Math.Max(l.Name.Width, l.Detail.Width));
        double left = Math.Round(Margin + labelWidth + 16);
        double right = Math.Round(Width - Margin - rightWidth);
        if (rightWidth == 0)
        {
            right -= 24;
        }

        var flat = new PlotFrame(new(left, 0, right, 1), range.From, range.To, axis.IsReversed, 0, 1, false);
        _topLabels.Arrange(
            [
                .. _references.Where(r => r.Label.Length > 0).Select(r => (flat.X(r.Value), r.Label, r.Style.Colour)),
                .. _windows.Where(w => w.Label.Length > 0)
                    .Select(w => (flat.X(0.5 * (Math.Max(w.From, range.From) + Math.Min(w.To, range.To))), w.Label, w.Colour)),
            ],
            Margin,
            Width - Margin);
        double top = Math.Round(ContentTop + _topLabels.Height);
        _rowTops = new double[_labels.Count];
        _rowHeights = new double[_labels.Count];
        double y = top;
        for (int i = 0; i < _labels.Count; i++)
        {
            _rowTops[i] = y;
            _rowHeights[i] = Math.Round(Math.Max(rowHeight, _labels[i].Name.Height + _labels[i].Detail.Height + 10));
            y += _rowHeights[i];
        }

        _plotBottom = y;
        Frame = new PlotFrame(new(left, top, right, y), range.From, range.To, axis.IsReversed, 0, 1, false) { PageWidth = Width };
        _sideNames = new SideNames(sideNames, axis.Text, right - left);
        _ticks = axis.Ticks.IsDefaultOrEmpty
            ? Ticks.Along(range.From, range.To, right - left, Typography.Tick)
            : Ticks.At(axis.Ticks.AsSpan());
    }

    protected PlotFrame Frame { get; }

    protected Legend Legend { get; } = new();

    protected override double ContentHeight
    {
        get
        {
            Legend.Arrange(ContentWidth);
            return BelowAxis + (Legend.IsEmpty ? 0 : 20 + Legend.Height) - ContentTop;
        }
    }

    private double BelowAxis => _plotBottom + PlotFrame.BottomHeight + _sideNames.Height;

    protected Box Row(int index) =>
        Box.FromSize(Frame.Box.Left, _rowTops[index], Frame.Box.Width, _rowHeights[index]);

    protected override void PaintContent(DrawingSurface surface)
    {
        surface.BeginGroup("plot");
        PaintWindows(surface);
        Frame.DrawGrid(surface, _ticks, null);
        for (int i = 0; i < _labels.Count; i++)
        {
            (TextBlock name, TextBlock detail) = _labels[i];
            double y = Row(i).CentreY - (0.5 * (name.Height + detail.Height));
            name.Paint(surface, Margin, y, Colour.Ink);
            detail.Paint(surface, Margin, y + name.Height, Colour.Ink);
        }

        surface.PushClip(Frame.Box);
        PaintRows(surface);
        surface.PopClip();
        Frame.DrawBorder(surface);
        foreach (ReferenceLine line in _references)
        {
            double x = Frame.X(line.Value);
            if (x >= Frame.Box.Left - 1e-6 && x <= Frame.Box.Right + 1e-6)
            {
                var path = Outline.Line(x, Frame.Box.Top, x, Frame.Box.Bottom);
                surface.Draw(path, new(Colour.White.WithAlpha(210), line.Style.WidthPixels + 3));
                surface.Draw(path, line.Style.ToStroke());
            }
        }

        PaintOver(surface);
        _topLabels.Paint(surface, Frame.Box.Top);
        double bottom = Frame.DrawBottomAxis(surface, _ticks, _axis.Text);
        _sideNames.Paint(surface, Frame.Box, bottom);
        surface.EndGroup();
        if (!Legend.IsEmpty)
        {
            Legend.Arrange(ContentWidth);
            Legend.Paint(surface, Margin, BelowAxis + 20);
        }
    }

    /// <summary>Draws the rows, inside the plot only.</summary>
    protected abstract void PaintRows(DrawingSurface surface);

    /// <summary>Draws what may lie over reference lines and beside the plot.</summary>
    protected virtual void PaintOver(DrawingSurface surface)
    {
    }

    private void PaintWindows(DrawingSurface surface)
    {
        surface.PushClip(Frame.Box);
        foreach (AxisWindow window in _windows)
        {
            double a = Frame.X(Math.Max(window.From, Frame.FromX));
            double b = Frame.X(Math.Min(window.To, Frame.ToX));
            WindowPainter.Paint(surface, window, new(Math.Min(a, b), Frame.Box.Top, Math.Max(a, b), Frame.Box.Bottom));
        }

        surface.PopClip();
    }
}
