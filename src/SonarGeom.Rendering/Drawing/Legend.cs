using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Samples with their names, set in columns that fit a width.</summary>
internal sealed class Legend
{
    private const double SampleWidth = 48;
    private const double SampleHeight = 24;
    private const double Gap = 10;
    private const double ColumnGap = 30;
    private const double RowGap = 9;

    private readonly List<(Action<DrawingSurface, Box> Paint, string Name, string Key)> _entries = [];
    private readonly List<(Box Sample, TextBlock Text)> _placed = [];

    public bool IsEmpty => _entries.Count == 0;

    public double Height { get; private set; }

    public void Add(string name, string kind, Action<DrawingSurface, Box> paint)
    {
        string key = kind + "|" + name;
        if (name.Length > 0 && !_entries.Exists(e => e.Key == key))
        {
            _entries.Add((paint, name, key));
        }
    }

    public void AddLine(string name, LineStyle style, MarkerShape marker = MarkerShape.None) =>
        Add(name, $"line {style} {marker}", (surface, box) =>
        {
            surface.Draw(Outline.Line(box.Left, box.CentreY, box.Right, box.CentreY), style.ToStroke());
            Markers.Draw(surface, marker, box.CentreX, box.CentreY, 6, style.Colour);
        });

    public void AddHatch(string name, HatchPattern hatch, Colour colour, Colour ground) =>
        Add(name, $"hatch {hatch} {colour}", (surface, box) =>
        {
            var outline = Outline.Rectangle(box);
            surface.Fill(outline, ground);
            Hatching.Draw(surface, outline, hatch, colour);
            surface.Draw(outline, new(Colour.Ink, 1.2));
        });

    public void AddMarker(string name, MarkerShape shape, Colour colour) =>
        Add(name, $"marker {shape} {colour}", (surface, box) =>
            Markers.Draw(surface, shape, box.CentreX, box.CentreY, 7, colour));

    /// <summary>Sets the entries into a width; with one column only, long names run over several lines.</summary>
    public void Arrange(double width, bool isOneColumn = false)
    {
        _placed.Clear();
        Height = 0;
        if (_entries.Count == 0)
        {
            return;
        }

        TextStyle style = Typography.Label;
        int columns = isOneColumn ? 1 : _entries.Count;
        while (columns > 1 && ColumnWidths(columns).Sum() - ColumnGap > width)
        {
            columns--;
        }

        double[] widths = columns == 1 ? [width] : ColumnWidths(columns);
        int rows = (_entries.Count + columns - 1) / columns;
        double x = 0;
        for (int c = 0; c < columns && c * rows < _entries.Count; c++)
        {
            double y = 0;
            double textWidth = columns == 1 ? width - SampleWidth - Gap : widths[c];
            for (int r = 0; r < rows && (c * rows) + r < _entries.Count; r++)
            {
                var text = TextBlock.Wrap(_entries[(c * rows) + r].Name, style, textWidth);
                _placed.Add((Box.FromSize(x, y, SampleWidth, SampleHeight), text));
                y += Math.Max(text.Height, SampleHeight) + RowGap;
            }

            Height = Math.Max(Height, y - RowGap);
            x += widths[c];
        }
    }

    public void Paint(DrawingSurface surface, double left, double top)
    {
        surface.BeginGroup("legend");
        for (int i = 0; i < _placed.Count; i++)
        {
            (Box sample, TextBlock text) = _placed[i];
            var box = new Box(sample.Left + left, sample.Top + top, sample.Right + left, sample.Bottom + top);
            _entries[i].Paint(surface, box);
            text.Paint(surface, box.Right + Gap, box.Top + (0.5 * (SampleHeight - text.Style.LineHeight)), Colour.Ink);
        }

        surface.EndGroup();
    }

    private double[] ColumnWidths(int columns)
    {
        int rows = (_entries.Count + columns - 1) / columns;
        double[] widths = new double[columns];
        for (int i = 0; i < _entries.Count; i++)
        {
            double width = SampleWidth + Gap + Typography.Label.Measure(_entries[i].Name) + ColumnGap;
            widths[i / rows] = Math.Max(widths[i / rows], width);
        }

        return widths;
    }
}
