using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Figures;

/// <summary>A kind of cell shown by hatching on top of the colours, such as a cause.</summary>
/// <param name="Name">Its name in the legend.</param>
/// <param name="Hatch">Its strokes.</param>
public sealed record CellCategory(string Name, HatchPattern Hatch)
{
    /// <summary>Gets the colour of the strokes.</summary>
    public Colour Colour { get; init; } = Colour.Ink;
}

/// <summary>A category for each cell of a map.</summary>
/// <param name="Cells">For each cell, in the order of the grid's values, the index of its category; −1 for none.</param>
/// <param name="Categories">The categories.</param>
public sealed record CategoryLayer(ImmutableArray<int> Cells, ImmutableArray<CellCategory> Categories);

/// <summary>A value whose contour line is drawn.</summary>
/// <param name="Level">The value. [unit of the map's values]</param>
/// <param name="Label">Text on the line; empty for none.</param>
/// <param name="Style">How the line is drawn; it gets a white rim.</param>
public sealed record ContourLevel(double Level, string Label, LineStyle Style)
{
    /// <summary>Gets the name in the legend; empty to use the label.</summary>
    public string LegendName { get; init; } = string.Empty;
}

/// <summary>Polylines laid over a map, such as a silhouette or the edge of a beam.</summary>
/// <param name="Name">Name in the legend; things with the same name and style share one entry; empty for no entry.</param>
/// <param name="Lines">The polylines. [units of the axes]</param>
/// <param name="IsClosed">Whether the last point of each joins its first.</param>
/// <param name="Style">How the lines are drawn.</param>
public sealed record MapOutline(string Name, ImmutableArray<ImmutableArray<PlotPoint>> Lines, bool IsClosed, LineStyle Style)
{
    /// <summary>Gets whether the lines get a white rim, so that they show on dark ground.</summary>
    public bool HasRim { get; init; } = true;
}

/// <summary>A hatched region laid over a map, such as the band that a long cane covers.</summary>
/// <param name="Name">Name in the legend; empty for no entry.</param>
/// <param name="Polygons">Closed polygons; where two overlap the even-odd rule holds. [units of the axes]</param>
/// <param name="Hatch">Its strokes.</param>
/// <param name="Colour">Colour of strokes and edge.</param>
public sealed record MapRegion(
    string Name, ImmutableArray<ImmutableArray<PlotPoint>> Polygons, HatchPattern Hatch, Colour Colour);

/// <summary>A band between two values of the vertical axis, named beside the map.</summary>
/// <param name="Name">Its name, such as "head".</param>
/// <param name="From">Lower edge. [unit of the vertical axis]</param>
/// <param name="To">Upper edge. [unit of the vertical axis]</param>
public sealed record MapBand(string Name, double From, double To)
{
    /// <summary>Gets a second line under the name, such as a share; empty for none.</summary>
    public string Detail { get; init; } = string.Empty;
}

/// <summary>A named point on a map, such as a sensor.</summary>
/// <param name="Label">Text beside the point; empty for none.</param>
/// <param name="At">Where. [units of the axes]</param>
/// <param name="Shape">Its symbol.</param>
public sealed record MapMarker(string Label, PlotPoint At, MarkerShape Shape = MarkerShape.Circle)
{
    /// <summary>Gets the colour of the symbol.</summary>
    public Colour Colour { get; init; } = Colour.Ink;

    /// <summary>Gets the name in the legend; markers with the same name share one entry; empty for no entry.</summary>
    public string LegendName { get; init; } = string.Empty;
}

/// <summary>A straight line across a map at a value of one axis.</summary>
/// <param name="Label">Text at its end; empty for none.</param>
/// <param name="Value">Where. [unit of the axis it crosses]</param>
/// <param name="IsUpright">Whether it stands at a value of the horizontal axis.</param>
/// <param name="Style">How it is drawn.</param>
public sealed record ReferenceLine(string Label, double Value, bool IsUpright, LineStyle Style);
