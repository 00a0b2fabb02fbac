using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Figures;

/// <summary>A kind of stretch, such as "heard" or "dead zone".</summary>
/// <param name="Name">Its name in the legend.</param>
/// <param name="Colour">Fill colour; pale colours suit hatching.</param>
/// <param name="Hatch">Strokes on it.</param>
public sealed record TimelineKind(string Name, Colour Colour, HatchPattern Hatch);

/// <summary>A stretch of a row.</summary>
/// <param name="From">One end. [unit of the axis]</param>
/// <param name="To">The other end. [unit of the axis]</param>
/// <param name="Kind">Index of its kind.</param>
public sealed record TimelineInterval(double From, double To, int Kind)
{
    /// <summary>Gets text inside the stretch, left out where it does not fit; empty for none.</summary>
    public string Label { get; init; } = string.Empty;
}

/// <summary>A named instant of a row.</summary>
/// <param name="At">Where. [unit of the axis]</param>
/// <param name="Label">Its name in the legend; events with the same name share one entry.</param>
/// <param name="Shape">Its symbol.</param>
public sealed record TimelineEvent(double At, string Label, MarkerShape Shape)
{
    /// <summary>Gets the colour of the symbol.</summary>
    public Colour Colour { get; init; } = Colour.Ink;
}

/// <summary>One row of stretches and events.</summary>
/// <param name="Label">Its name.</param>
/// <param name="Intervals">Its stretches; later ones lie on top.</param>
public sealed record TimelineRow(string Label, ImmutableArray<TimelineInterval> Intervals)
{
    /// <summary>Gets a second line under the name; empty for none.</summary>
    public string Detail { get; init; } = string.Empty;

    /// <summary>Gets its events.</summary>
    public ImmutableArray<TimelineEvent> Events { get; init; } = [];
}

/// <summary>Rows of stretches over a common axis of time or distance, such as what each sensor hears on an approach.</summary>
/// <param name="Rows">The rows, top to bottom.</param>
/// <param name="Kinds">The kinds of stretches.</param>
/// <param name="Horizontal">The axis.</param>
public sealed record TimelineFigure(
    ImmutableArray<TimelineRow> Rows, ImmutableArray<TimelineKind> Kinds, AxisSpec Horizontal) : Figure
{
    /// <summary>Gets the upright lines.</summary>
    public ImmutableArray<ReferenceLine> ReferenceLines { get; init; } = [];

    /// <summary>Gets the shaded stretches across all rows; only upright ones.</summary>
    public ImmutableArray<AxisWindow> Windows { get; init; } = [];

    internal override FigurePainter Arrange() => new TimelinePainter(this);
}
