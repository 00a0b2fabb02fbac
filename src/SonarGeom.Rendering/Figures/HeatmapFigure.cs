using System.Collections.Immutable;
using SonarGeom.Rendering.Drawing;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Figures;

/// <summary>One map: a grid of values with what is drawn over it.</summary>
/// <param name="Grid">The values, exactly as drawn.</param>
public sealed record HeatmapPanel(ValueGrid Grid)
{
    /// <summary>Gets the heading over the map; empty for none.</summary>
    public string Caption { get; init; } = string.Empty;

    /// <summary>Gets the category of each cell, shown by hatching; null for none.</summary>
    public CategoryLayer? Categories { get; init; }

    /// <summary>Gets the contour lines.</summary>
    public ImmutableArray<ContourLevel> Contours { get; init; } = [];

    /// <summary>Gets the hatched regions.</summary>
    public ImmutableArray<MapRegion> Regions { get; init; } = [];

    /// <summary>Gets the polylines.</summary>
    public ImmutableArray<MapOutline> Outlines { get; init; } = [];

    /// <summary>Gets the bands along the vertical axis.</summary>
    public ImmutableArray<MapBand> Bands { get; init; } = [];

    /// <summary>Gets the straight lines.</summary>
    public ImmutableArray<ReferenceLine> ReferenceLines { get; init; } = [];

    /// <summary>Gets the points.</summary>
    public ImmutableArray<MapMarker> Markers { get; init; } = [];
}

/// <summary>One or more maps that share axes and one colour bar.</summary>
/// <param name="Panels">The maps, at least one, left to right and top to bottom.</param>
/// <param name="Horizontal">The horizontal axis of all maps.</param>
/// <param name="Vertical">The vertical axis of all maps.</param>
/// <param name="Colours">What the colours mean.</param>
public sealed record HeatmapFigure(
    ImmutableArray<HeatmapPanel> Panels, AxisSpec Horizontal, AxisSpec Vertical, ColourMapping Colours) : Figure
{
    /// <summary>Gets whether one unit is equally long on both axes.</summary>
    public bool HasEqualAspect { get; init; } = true;

    /// <summary>Gets how many maps stand side by side; 0 to choose.</summary>
    public int Columns { get; init; }

    /// <summary>Gets words at the left and the right end under the horizontal axis, such as "right side" and "left side".</summary>
    public (string Left, string Right) SideNames { get; init; } = (string.Empty, string.Empty);

    internal override FigurePainter Arrange() => new HeatmapPainter(this);
}
