namespace SonarGeom.Rendering.Figures;

/// <summary>A point in a plot, in the units of its two axes.</summary>
/// <param name="X">Along the horizontal axis. [unit of that axis]</param>
/// <param name="Y">Along the vertical axis. [unit of that axis]</param>
public readonly record struct PlotPoint(double X, double Y);
