using System.Collections.Immutable;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Figures;

/// <summary>A level in a direction.</summary>
/// <param name="Direction">Angle from the boresight, positive to the left.</param>
/// <param name="LevelDecibels">Level against the boresight; below the floor or −∞ is drawn at the centre. [dB]</param>
public readonly record struct PolarPoint(Angle Direction, double LevelDecibels);

/// <summary>One curve of a polar plot.</summary>
/// <param name="Name">Its name in the legend.</param>
/// <param name="Points">Its points in order; a NaN level breaks the curve.</param>
public sealed record PolarSeries(string Name, ImmutableArray<PolarPoint> Points)
{
    /// <summary>Gets colour, dash and width; null to take the next of the palette.</summary>
    public LineStyle? Style { get; init; }
}

/// <summary>A direction at which a curve has a given level, marked on the plot.</summary>
/// <param name="Label">What it is, such as "−3 dB at 15.2°".</param>
/// <param name="Direction">Angle from the boresight, positive to the left.</param>
/// <param name="LevelDecibels">The level there. [dB]</param>
public sealed record PolarMark(string Label, Angle Direction, double LevelDecibels);

/// <summary>A polar plot of levels, boresight up and the left side to the left.</summary>
/// <param name="Series">The curves.</param>
public sealed record PolarFigure(ImmutableArray<PolarSeries> Series) : Figure
{
    private readonly double _floorDecibels = -40;
    private readonly double _ringStepDecibels = 10;

    /// <summary>Gets the level at the centre, below 0. [dB]</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not below 0 and finite.</exception>
    public double FloorDecibels
    {
        get => _floorDecibels;
        init => _floorDecibels = value < 0 && double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), $"The floor is {value} dB; it must be below 0.");
    }

    /// <summary>Gets the level between two rings, above 0. [dB]</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not above 0 and finite.</exception>
    public double RingStepDecibels
    {
        get => _ringStepDecibels;
        init => _ringStepDecibels = value > 0 && double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), $"The ring step is {value} dB; it must be above 0.");
    }

    /// <summary>Gets the marked directions.</summary>
    public ImmutableArray<PolarMark> Marks { get; init; } = [];

    /// <summary>Gets whether the whole circle is drawn instead of the front half.</summary>
    public bool IsFullCircle { get; init; }

    internal override FigurePainter Arrange() => new PolarPainter(this);
}
