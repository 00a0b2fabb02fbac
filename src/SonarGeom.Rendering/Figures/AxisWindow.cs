using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Figures;

/// <summary>A shaded stretch of one axis, across the whole plot, named at its end.</summary>
/// <param name="Label">Its name; empty for none.</param>
/// <param name="From">Lower edge. [unit of the axis]</param>
/// <param name="To">Upper edge. [unit of the axis]</param>
/// <param name="IsUpright">Whether it is a stretch of the horizontal axis.</param>
/// <param name="Hatch">Strokes that fill it; with none it is filled with pale grey.</param>
public sealed record AxisWindow(string Label, double From, double To, bool IsUpright, HatchPattern Hatch = HatchPattern.None)
{
    /// <summary>Gets the colour of strokes and edges.</summary>
    public Colour Colour { get; init; } = Colour.Grey;
}
