using System.Collections.Immutable;

namespace SonarGeom.Rendering.Figures;

/// <summary>What an axis measures and how far it reaches.</summary>
/// <param name="Label">What is measured, such as "Height above ground".</param>
/// <param name="Unit">Its unit, such as "m"; empty for a bare number.</param>
public sealed record AxisSpec(string Label, string Unit)
{
    /// <summary>Gets the least value shown; null to take it from the data. [the axis's unit]</summary>
    public double? From { get; init; }

    /// <summary>Gets the greatest value shown; null to take it from the data. [the axis's unit]</summary>
    public double? To { get; init; }

    /// <summary>Gets whether values grow to the left (horizontal axis) or downwards (vertical axis).</summary>
    public bool IsReversed { get; init; }

    /// <summary>Gets the tick values to use; empty for round numbers. [the axis's unit]</summary>
    public ImmutableArray<double> Ticks { get; init; } = [];

    /// <summary>Gets what is written at <see cref="Ticks"/>, one for each; empty for the values themselves.</summary>
    public ImmutableArray<string> TickLabels { get; init; } = [];

    /// <summary>Gets the label with its unit in brackets.</summary>
    internal string Text => Unit.Length == 0 ? Label : $"{Label} ({Unit})";
}
