using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Arranges maps in rows and columns beside one colour bar, with a legend beside or below them.</summary>
internal sealed class HeatmapPainter : FigurePainter
{
    private const double TallestRow = 1080;
    private const double TallestRows = 1500;
    private const double TallestColourBar = 720;
    private const double WorthOfOneRow = 1.6;
    private const double ColumnGap = 44;
    private const double RowGap = 26;
    private const double LeastLegendColumn = 250;

    private readonly HeatmapFigure _figure;
    private readonly PanelPainter[] _panels;
    private readonly Ticks _across;
    private readonly Ticks _up;
    private readonly ColourBar? _bar;
    private readonly LevelColourBar? _levelBar;
    private readonly Legend _legend = new();
    private readonly bool _isLegendBeside;
    private readonly int _columns;
    private readonly double _plotWidth;
    private readonly double _plotHeight;
    private readonly double _leftWidth;
    private readonly double[] _gutters;
    private readonly double _captionHeight;
    private readonly SideNames _sideNames;
    private readonly double _startX;
    private readonly double _panelsHeight;

    public HeatmapPainter(HeatmapFigure figure)
        : base(figure)
    {
        if (figure.Panels.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A heatmap figure needs at least one panel.", nameof(figure));
        }

        _figure = figure;
        AxisRange across = AxisRange.Of(
            figure.Horizontal, figure.Panels.SelectMany(p => (double[])[p.Grid.Across.From, p.Grid.Across.To]), false);
        AxisRange up = AxisRange.Of(
            figure.Vertical, figure.Panels.SelectMany(p => (double[])[p.Grid.Up.From, p.Grid.Up.To]), false);
        int count = figure.Panels.Length;
        _captionHeight = figure.Panels.Any(p => p.Caption.Length > 0) ? Typography.Caption.LineHeight + 2 : 0;
        _leftWidth = PlotFrame.LeftWidth(Ticks.Upright(up.From, up.To, 600));
        double oneBarWidth = 26 + new ColourBar(figure.Colours, 400).Width;
        _columns = Math.Clamp(figure.Columns, 0, count);
        if (_columns == 0)
        {
            // The number of columns that shows the maps largest; but maps side by side compare best, which is worth some size.
            double largest = 0;
            for (int c = 1; c <= count; c++)
            {
                double size = PlotSize(figure, c, across, up, oneBarWidth).Width * (c == count ? WorthOfOneRow : 1);
                if (size > largest * 0.999)
                {
                    (_columns, largest) = (c, size);
                }
            }
        }

        int rows = (count + _columns - 1) / _columns;
        _gutters = Gutters(figure, _columns);
        (_plotWidth, _plotHeight) = PlotSize(figure, _columns, across, up, oneBarWidth);

        // One map has its colour bar beside it; several need the width and have it below.
        _levelBar = count > 1 ? new LevelColourBar(figure.Colours, Math.Min(ContentWidth, 900)) : null;
        double barWidth = count > 1 ? 0 : oneBarWidth;
        _across = figure.Horizontal.Ticks.IsDefaultOrEmpty
            ? Ticks.Along(across.From, across.To, _plotWidth, Typography.Tick)
            : Ticks.At(figure.Horizontal);
        _up = figure.Vertical.Ticks.IsDefaultOrEmpty
            ? Ticks.Upright(up.From, up.To, _plotHeight)
            : Ticks.At(figure.Vertical);
        _sideNames = new SideNames(figure.SideNames, figure.Horizontal.Text, _plotWidth);
        _panelsHeight = (rows * (_captionHeight + _plotHeight)) + ((rows - 1) * RowGap) + PlotFrame.BottomHeight + _sideNames.Height;
        _bar = _levelBar is null
            ? new ColourBar(figure.Colours, Math.Min((rows * _plotHeight) + ((rows - 1) * RowGap), TallestColourBar))
            : null;

        foreach (HeatmapPanel panel in figure.Panels)
        {
            PanelPainter.AddToLegend(_legend, panel, figure.Colours);
        }

        double used = _leftWidth + _gutters.Sum() + ((_columns - 1) * ColumnGap) + (_columns * _plotWidth) + barWidth;
        double spare = ContentWidth - used - 34;
        _isLegendBeside = false;
        if (_bar is not null && spare >= LeastLegendColumn && !_legend.IsEmpty)
        {
            _legend.Arrange(spare, isOneColumn: true);
            _isLegendBeside = _legend.Height <= _panelsHeight - _captionHeight;
        }

        if (!_isLegendBeside)
        {
            _legend.Arrange(ContentWidth);
        }

        _startX = Margin + (_isLegendBeside ? 0 : Math.Max(0, 0.5 * (ContentWidth - used)));
        _panels = new PanelPainter[count];
        for (int i = 0; i < count; i++)
        {
            int column = i % _columns;
            int row = i / _columns;
            double left = Math.Round(_startX + _leftWidth + (column * (_plotWidth + ColumnGap)) + _gutters.Take(column).Sum());
            double top = Math.Round(ContentTop + _captionHeight + (row * (_plotHeight + RowGap + _captionHeight)));
            var frame = new PlotFrame(
                Box.FromSize(left, top, _plotWidth, _plotHeight),
                across.From, across.To, figure.Horizontal.IsReversed, up.From, up.To, figure.Vertical.IsReversed)
            {
                PageWidth = count == 1 ? Width : double.PositiveInfinity,
            };
            _panels[i] = new PanelPainter(figure.Panels[i], figure.Colours, frame);
        }
    }

    protected override double ContentHeight =>
        _panelsHeight + LevelBarHeight + (_isLegendBeside || _legend.IsEmpty ? 0 : 18 + _legend.Height);

    private double LevelBarHeight => _levelBar is null ? 0 : 16 + _levelBar.Height;

    protected override void PaintContent(DrawingSurface surface)
    {
        for (int i = 0; i < _panels.Length; i++)
        {
            PaintPanel(surface, i);
        }

        double right = _startX + _leftWidth + (_columns * _plotWidth) + ((_columns - 1) * ColumnGap) + _gutters.Sum();
        _bar?.Paint(surface, right + 26, ContentTop + _captionHeight);
        _levelBar?.Paint(surface, Margin, ContentTop + _panelsHeight + 16);
        if (_legend.IsEmpty)
        {
            return;
        }

        if (_isLegendBeside && _bar is not null)
        {
            _legend.Paint(surface, right + 26 + _bar.Width + 34, ContentTop + _captionHeight);
        }
        else
        {
            _legend.Paint(surface, Margin, ContentTop + _panelsHeight + LevelBarHeight + 18);
        }
    }

    private (double Width, double Height) PlotSize(
        HeatmapFigure figure, int columns, AxisRange across, AxisRange up, double oneBarWidth)
    {
        int rows = (figure.Panels.Length + columns - 1) / columns;
        double barWidth = figure.Panels.Length > 1 ? 0 : oneBarWidth;
        double free = ContentWidth - _leftWidth - Gutters(figure, columns).Sum() - ((columns - 1) * ColumnGap) - barWidth - 4;
        double widest = Math.Max(40, free / columns);
        double tallest = rows == 1 ? TallestRow : Math.Max(260, TallestRows / rows);
        if (!figure.HasEqualAspect)
        {
            return (Math.Floor(widest), Math.Floor(Math.Min(tallest, Math.Max(300, 0.62 * widest))));
        }

        double pixels = Math.Min(widest / across.Span, tallest / up.Span);
        return (Math.Round(pixels * across.Span), Math.Round(pixels * up.Span));
    }

    private static double[] Gutters(HeatmapFigure figure, int columns)
    {
        double[] gutters = new double[columns];
        for (int i = 0; i < figure.Panels.Length; i++)
        {
            if (ShowsBandNames(figure, columns, i))
            {
                gutters[i % columns] = Math.Max(gutters[i % columns], PanelPainter.BandNameWidth(figure.Panels[i]));
            }
        }

        return gutters;
    }

    /// <summary>Neighbours in a row with the same bands share the names beside the last of them.</summary>
    private static bool ShowsBandNames(HeatmapFigure figure, int columns, int index)
    {
        HeatmapPanel panel = figure.Panels[index];
        bool isLast = (index + 1) % columns == 0 || index + 1 == figure.Panels.Length;
        return panel.Bands.Length > 0 && (isLast || !panel.Bands.SequenceEqual(figure.Panels[index + 1].Bands));
    }

    private void PaintPanel(DrawingSurface surface, int index)
    {
        PanelPainter panel = _panels[index];
        PlotFrame frame = panel.Frame;
        string caption = _figure.Panels[index].Caption;
        surface.BeginGroup(caption.Length > 0 ? "panel: " + caption : "panel");
        if (caption.Length > 0)
        {
            surface.Text(caption, frame.Box.Left, frame.Box.Top - 9, Typography.Caption, Colour.Ink);
        }

        panel.Paint(surface, _across, _up, ShowsBandNames(_figure, _columns, index));
        bool isLowest = index + _columns >= _panels.Length;
        double bottom = frame.DrawBottomAxis(surface, _across, isLowest ? _figure.Horizontal.Text : null);
        frame.DrawLeftAxis(surface, _up, index % _columns == 0 ? _figure.Vertical.Text : null);
        if (isLowest)
        {
            _sideNames.Paint(surface, frame.Box, bottom);
        }

        surface.EndGroup();
    }
}
