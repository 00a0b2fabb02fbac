using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>The names of the two ends of a horizontal axis: beside the axis label where there is room, else below it.</summary>
internal sealed class SideNames
{
    private const double Gap = 14;

    private readonly string _left;
    private readonly string _right;
    private readonly int _linesBelow;

    public SideNames((string Left, string Right) names, string axisLabel, double plotWidth)
    {
        _left = names.Left.Length == 0 ? string.Empty : "\u2190 " + names.Left;
        _right = names.Right.Length == 0 ? string.Empty : names.Right + " \u2192";
        double left = Typography.Label.Measure(_left);
        double right = Typography.Label.Measure(_right);
        double besideLabel = 0.5 * (plotWidth - Typography.AxisLabel.Measure(axisLabel));
        if (left + right == 0 || Math.Max(left, right) + Gap <= besideLabel)
        {
            _linesBelow = 0;
        }
        else
        {
            _linesBelow = left + right + Gap <= plotWidth ? 1 : 2;
        }
    }

    /// <summary>Gets the room needed below the axis label.</summary>
    public double Height => _linesBelow == 0 ? 0 : (_linesBelow * Typography.Label.LineHeight) + 3;

    public void Paint(DrawingSurface surface, Box plot, double labelBottom)
    {
        TextStyle style = Typography.Label;
        double baseline = _linesBelow == 0
            ? labelBottom - Typography.AxisLabel.Descent
            : labelBottom + 3 + style.Ascent;
        surface.Text(_left, plot.Left, baseline, style, Colour.Ink);
        surface.Text(
            _right, plot.Right, baseline + (_linesBelow == 2 ? style.LineHeight : 0), style, Colour.Ink, TextAnchor.End);
    }
}
