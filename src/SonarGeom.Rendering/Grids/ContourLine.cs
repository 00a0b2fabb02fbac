using System.Collections.Immutable;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Grids;

/// <summary>One connected line on which a grid takes a given value.</summary>
/// <param name="Points">The points in order; a closed line does not repeat its first point.</param>
/// <param name="IsClosed">Whether the last point joins the first.</param>
public sealed record ContourLine(ImmutableArray<PlotPoint> Points, bool IsClosed);
