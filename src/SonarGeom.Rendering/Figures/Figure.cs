using System.Collections.Immutable;

namespace SonarGeom.Rendering.Figures;

/// <summary>An immutable description of one picture. <see cref="FigureWriter"/> turns it into PNG, SVG or PDF.</summary>
/// <remarks>
/// Figures know no physics: whoever computes a result fills one in. All formats come from one arrangement, so that they
/// show the same marks in the same places.
/// </remarks>
public abstract record Figure
{
    private const int Narrowest = 600;
    private const int Widest = 4000;

    private readonly int _widthPixels = 1200;

    private protected Figure()
    {
    }

    /// <summary>Gets the title: what is shown.</summary>
    public required string Title { get; init; }

    /// <summary>Gets the finding: what it says, in one sentence.</summary>
    public required string Finding { get; init; }

    /// <summary>Gets the assumptions and cautions under the picture, one paragraph each.</summary>
    public ImmutableArray<string> Footnotes { get; init; } = [];

    /// <summary>Gets the width of the picture, 600 to 4000; the height follows from the content. [px]</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is outside 600 to 4000.</exception>
    public int WidthPixels
    {
        get => _widthPixels;
        init => _widthPixels = value is >= Narrowest and <= Widest
            ? value
            : throw new ArgumentOutOfRangeException(
                nameof(value), $"Figure width is {value} px; it must be from {Narrowest} to {Widest}.");
    }

    /// <summary>Gets the picture in words: the finding and the footnotes, used where the picture cannot be seen.</summary>
    public string Description => string.Join(' ', ImmutableArray.Create(Finding).AddRange(Footnotes));

    /// <summary>Returns the arranged figure.</summary>
    internal abstract Drawing.FigurePainter Arrange();
}
