using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Figures;

/// <summary>How the bars of a row lie.</summary>
public enum BarArrangement
{
    /// <summary>One after the other: parts of a whole.</summary>
    Stacked,

    /// <summary>One under the other: things compared.</summary>
    SideBySide,
}

/// <summary>A thing that every row has a bar for.</summary>
/// <param name="Name">Its name in the legend.</param>
/// <param name="Colour">Fill colour; pale colours suit hatching.</param>
/// <param name="Hatch">Strokes on it.</param>
public sealed record BarPart(string Name, Colour Colour, HatchPattern Hatch);

/// <summary>One row of bars.</summary>
/// <param name="Label">Its name.</param>
/// <param name="Values">One value per part, 0 or more; NaN for no bar. [unit of the axis]</param>
public sealed record BarRow(string Label, ImmutableArray<double> Values)
{
    /// <summary>Gets a second line under the name; empty for none.</summary>
    public string Detail { get; init; } = string.Empty;
}

/// <summary>Level bars, such as the share of each height band warned in time.</summary>
/// <param name="Parts">What the bars of a row are.</param>
/// <param name="Rows">The rows, top to bottom.</param>
/// <param name="Horizontal">The axis of the values.</param>
public sealed record BarFigure(ImmutableArray<BarPart> Parts, ImmutableArray<BarRow> Rows, AxisSpec Horizontal) : Figure
{
    /// <summary>Gets how the bars of a row lie.</summary>
    public BarArrangement Arrangement { get; init; } = BarArrangement.Stacked;

    /// <summary>Gets how many decimals the values at the bars have; −1 for no values.</summary>
    public int Decimals { get; init; }

    /// <summary>Gets the upright lines, such as a requirement.</summary>
    public ImmutableArray<ReferenceLine> ReferenceLines { get; init; } = [];

    internal override FigurePainter Arrange() => new BarPainter(this);
}
