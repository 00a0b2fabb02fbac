using System.Collections.Immutable;

namespace SonarGeom.Rendering.Colours;

/// <summary>Seven colours that stay apart with normal and with red-, green- or blue-blind vision.</summary>
/// <remarks>
/// One colour was chosen inside each of seven named hue ranges such that the least OKLab distance between any two, in
/// normal vision and in each of the three simulated deficiencies (<see cref="ColourVision"/>), is as large as a search found
/// (0.14), each with a contrast of at least 2.9 on white. A figure never tells things apart by colour alone: dashes,
/// markers or hatching go with each colour.
/// </remarks>
public static class CategoricalPalette
{
    /// <summary>Gets the colours in the order of use: blue, orange, teal, magenta, dark red, olive, indigo.</summary>
    public static ImmutableArray<Colour> Colours { get; } =
    [
        Colour.FromHex("1449e8"),
        Colour.FromHex("eb6601"),
        Colour.FromHex("4da694"),
        Colour.FromHex("a83187"),
        Colour.FromHex("580c18"),
        Colour.FromHex("615511"),
        Colour.FromHex("2f146d"),
    ];

    /// <summary>Returns the colour of the n-th thing; after the seventh the colours come again.</summary>
    /// <param name="index">Which thing, from 0.</param>
    public static Colour At(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        return Colours[index % Colours.Length];
    }
}
