using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Figures;

/// <summary>A named value marked on the colour bar.</summary>
/// <param name="Value">Where. [unit of the scale]</param>
/// <param name="Label">Its name, such as "time needed".</param>
public sealed record ScaleMark(double Value, string Label);

/// <summary>Which colour stands for which value, and how the colour bar names it.</summary>
public sealed record ColourMapping
{
    private ColourMapping(ColourScale scale, double low, double high, string label, string unit)
    {
        if (!double.IsFinite(low) || !double.IsFinite(high) || !(low < high))
        {
            throw new ArgumentOutOfRangeException(
                nameof(high), $"The colour scale reaches from {low} to {high}; both must be finite and the first one less.");
        }

        Scale = scale;
        Low = low;
        High = high;
        Label = label;
        Unit = unit;
    }

    /// <summary>Gets the colours.</summary>
    public ColourScale Scale { get; }

    /// <summary>Gets the value at the low end of the bar. [unit of the scale]</summary>
    public double Low { get; }

    /// <summary>Gets the value at the high end of the bar. [unit of the scale]</summary>
    public double High { get; }

    /// <summary>Gets what the colour measures.</summary>
    public string Label { get; }

    /// <summary>Gets its unit; empty for a bare number.</summary>
    public string Unit { get; }

    /// <summary>Gets the inner boundaries of the classes, rising; empty for a continuous scale. [unit of the scale]</summary>
    public ImmutableArray<double> ClassEdges { get; init; } = [];

    /// <summary>Gets the named values on the bar.</summary>
    public ImmutableArray<ScaleMark> Marks { get; init; } = [];

    /// <summary>Gets the name of cells without a value in the legend.</summary>
    public string NoValueLabel { get; init; } = "no value";

    /// <summary>Returns a mapping for amounts.</summary>
    /// <param name="low">Value of the first colour. [unit of the scale]</param>
    /// <param name="high">Value of the last colour. [unit of the scale]</param>
    /// <param name="label">What the colour measures.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="isPaleHigh">Whether much is pale and little is dark.</param>
    /// <exception cref="ArgumentOutOfRangeException">The range is empty or not finite.</exception>
    public static ColourMapping Sequential(double low, double high, string label, string unit, bool isPaleHigh = false) =>
        new(isPaleHigh ? ColourScale.SequentialReversed : ColourScale.Sequential, low, high, label, unit);

    /// <summary>Returns a mapping for differences, zero in the neutral middle.</summary>
    /// <param name="limit">Value of the last colour; its negative has the first one. [unit of the scale]</param>
    /// <param name="label">What the colour measures.</param>
    /// <param name="unit">Its unit.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="limit"/> is not above 0 and finite.</exception>
    public static ColourMapping Difference(double limit, string label, string unit) =>
        new(ColourScale.Diverging, -limit, limit, label, unit) { Marks = [new(0, "no change")] };

    /// <summary>Returns the colour of a value; beyond the ends that of the nearer end.</summary>
    /// <param name="value">A value that is not NaN. [unit of the scale]</param>
    public Colour At(double value)
    {
        if (ClassEdges.Length == 0)
        {
            return Scale.At((value - Low) / (High - Low));
        }

        int index = 0;
        while (index < ClassEdges.Length && value >= ClassEdges[index])
        {
            index++;
        }

        return OfClass(index);
    }

    /// <summary>Gets the label with its unit in brackets.</summary>
    internal string Text => Unit.Length == 0 ? Label : $"{Label} ({Unit})";

    /// <summary>Returns the colour of the n-th class.</summary>
    internal Colour OfClass(int index) => Scale.At(ClassEdges.Length == 0 ? 0.5 : (double)index / ClassEdges.Length);
}
