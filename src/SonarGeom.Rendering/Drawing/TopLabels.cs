using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Names of upright lines and stretches in a strip above a plot, each joined to its place by a short line.</summary>
internal sealed class TopLabels
{
    private const double Gap = 22;
    private const double Rise = 13;

    private readonly List<Label> _labels = [];
    private readonly TextStyle _style = Typography.Label;

    public double Height => _labels.Count == 0 ? 0 : ((_labels.Max(l => l.Line) + 1) * _style.LineHeight) + Rise;

    /// <summary>Places the names between two edges, each as near to its own place as it can be, on as few lines as fit.</summary>
    public void Arrange(IEnumerable<(double X, string Text, Colour Colour)> items, double left, double right)
    {
        _labels.Clear();
        (double X, string Text, Colour Colour)[] sorted = [.. items.OrderBy(i => i.X)];
        double total = sorted.Sum(i => _style.Measure(i.Text) + Gap);
        int lines = Math.Max(1, (int)Math.Ceiling(total / Math.Max(1, right - left + Gap)));
        for (int line = 0; line < lines; line++)
        {
            var here = sorted.Where((_, k) => k % lines == line).ToArray();
            double[] wanted = [.. here.Select(i => i.X)];
            double[] sizes = [.. here.Select(i => _style.Measure(i.Text) + Gap)];
            double[] at = LabelPlacer.Spread(wanted, sizes, left - (0.5 * Gap), right + (0.5 * Gap));
            for (int k = 0; k < here.Length; k++)
            {
                _labels.Add(new(here[k].X, at[k], sizes[k] - Gap, line, here[k].Text, here[k].Colour));
            }
        }
    }

    public void Paint(DrawingSurface surface, double plotTop)
    {
        foreach (Label label in _labels)
        {
            double bottom = plotTop - Rise - (label.Line * _style.LineHeight);
            double foot = Math.Clamp(label.X, label.Centre - (0.5 * label.Width) + 4, label.Centre + (0.5 * label.Width) - 4);
            surface.Draw(Outline.Line(label.X, plotTop, foot, bottom + 2), new(label.Colour, 1.4));
        }

        foreach (Label label in _labels)
        {
            double baseline = plotTop - Rise - 1 - (label.Line * _style.LineHeight) - _style.Descent;
            surface.Text(label.Text, label.Centre, baseline, _style, label.Colour, TextAnchor.Middle, halo: 3);
        }
    }

    private readonly record struct Label(double X, double Centre, double Width, int Line, string Text, Colour Colour);
}
