using System.Collections.Immutable;
using SonarGeom.Rendering.Drawing;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Figures;

/// <summary>One row of a strip map.</summary>
/// <param name="Label">Its name.</param>
/// <param name="Values">One value per cell, NaN for none.</param>
public sealed record StripRow(string Label, ImmutableArray<double> Values)
{
    /// <summary>Gets a second line under the name; empty for none.</summary>
    public string Detail { get; init; } = string.Empty;

    /// <summary>Gets the index of each cell's category, −1 for none; empty for no categories.</summary>
    public ImmutableArray<int> Cells { get; init; } = [];
}

/// <summary>Maps along one axis only, one row each, such as upright poles over the lateral offset.</summary>
/// <param name="Across">The cells.</param>
/// <param name="Rows">The rows, top to bottom.</param>
/// <param name="Horizontal">The axis.</param>
/// <param name="Colours">What the colours mean.</param>
public sealed record StripFigure(
    GridAxis Across, ImmutableArray<StripRow> Rows, AxisSpec Horizontal, ColourMapping Colours) : Figure
{
    /// <summary>Gets the categories that rows refer to.</summary>
    public ImmutableArray<CellCategory> Categories { get; init; } = [];

    /// <summary>Gets the upright lines, such as the edges of the silhouette.</summary>
    public ImmutableArray<ReferenceLine> ReferenceLines { get; init; } = [];

    /// <summary>Gets words at the left and the right end under the axis.</summary>
    public (string Left, string Right) SideNames { get; init; } = (string.Empty, string.Empty);

    internal override FigurePainter Arrange() => new StripPainter(this);
}
