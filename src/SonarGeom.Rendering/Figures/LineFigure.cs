using System.Collections.Immutable;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Figures;

/// <summary>One line of a chart.</summary>
/// <param name="Name">Its name, written at its end.</param>
/// <param name="Points">Its points in order; a point that is not finite breaks the line. [units of the axes]</param>
public sealed record LineSeries(string Name, ImmutableArray<PlotPoint> Points)
{
    /// <summary>Gets colour, dash and width; null to take the next of the palette.</summary>
    public LineStyle? Style { get; init; }

    /// <summary>Gets the symbol; null to take the next in turn. A line of many points carries only a few.</summary>
    public MarkerShape? Marker { get; init; }

    /// <summary>Gets whether to draw symbols only.</summary>
    public bool HasNoLine { get; init; }

    /// <summary>Gets the lower edge of an uncertainty band, point by point; empty for none. [units of the axes]</summary>
    public ImmutableArray<PlotPoint> Lower { get; init; } = [];

    /// <summary>Gets the upper edge of an uncertainty band, point by point; empty for none. [units of the axes]</summary>
    public ImmutableArray<PlotPoint> Upper { get; init; } = [];
}

/// <summary>A chart of one or more lines over common axes.</summary>
/// <param name="Series">The lines.</param>
/// <param name="Horizontal">The horizontal axis.</param>
/// <param name="Vertical">The vertical axis.</param>
public sealed record LineFigure(ImmutableArray<LineSeries> Series, AxisSpec Horizontal, AxisSpec Vertical) : Figure
{
    /// <summary>Gets the shaded stretches.</summary>
    public ImmutableArray<AxisWindow> Windows { get; init; } = [];

    /// <summary>Gets the straight lines.</summary>
    public ImmutableArray<ReferenceLine> ReferenceLines { get; init; } = [];

    /// <summary>Gets the named points.</summary>
    public ImmutableArray<MapMarker> Markers { get; init; } = [];

    /// <summary>Gets the height of the plot itself. [px]</summary>
    public int PlotHeightPixels { get; init; } = 560;

    internal override FigurePainter Arrange() => new LinePainter(this);
}
