using System.Globalization;

namespace SonarGeom.Rendering.Colours;

/// <summary>A display colour: red, green, blue in the sRGB colour space, and opacity, 0 to 255 each.</summary>
/// <param name="Red">Red, gamma-encoded sRGB. [0 to 255]</param>
/// <param name="Green">Green, gamma-encoded sRGB. [0 to 255]</param>
/// <param name="Blue">Blue, gamma-encoded sRGB. [0 to 255]</param>
/// <param name="Alpha">Opacity, 255 is opaque. [0 to 255]</param>
public readonly record struct Colour(byte Red, byte Green, byte Blue, byte Alpha = 255)
{
    /// <summary>Gets opaque white, the paper.</summary>
    public static Colour White => new(255, 255, 255);

    /// <summary>Gets the ink used for text and axes, nearly black.</summary>
    public static Colour Ink => new(0x1a, 0x1a, 0x1a);

    /// <summary>Gets the grey of secondary lines.</summary>
    public static Colour Grey => new(0x6b, 0x6b, 0x6b);

    /// <summary>Gets the light grey of grid lines.</summary>
    public static Colour GridGrey => new(0xd4, 0xd4, 0xd4);

    /// <summary>Gets the relative luminance of the opaque colour, 0 for black and 1 for white. [unitless]</summary>
    /// <remarks>Source: IEC 61966-2-1 (sRGB) primaries and transfer function.</remarks>
    public double RelativeLuminance =>
        (0.2126 * SrgbTransfer.ToLinear(Red)) + (0.7152 * SrgbTransfer.ToLinear(Green)) + (0.0722 * SrgbTransfer.ToLinear(Blue));

    /// <summary>Returns an opaque colour from six hexadecimal digits.</summary>
    /// <param name="hexadecimal">Red, green, blue, two digits each, with or without a leading #.</param>
    /// <exception cref="FormatException">The text is not six hexadecimal digits.</exception>
    public static Colour FromHex(string hexadecimal)
    {
        ArgumentNullException.ThrowIfNull(hexadecimal);
        ReadOnlySpan<char> digits = hexadecimal.AsSpan().TrimStart('#');
        if (digits.Length != 6
            || !uint.TryParse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out uint value))
        {
            throw new FormatException($"Colour is \"{hexadecimal}\"; it must be six hexadecimal digits.");
        }

        return new((byte)(value >> 16), (byte)(value >> 8), (byte)value);
    }

    /// <summary>Returns the same colour with another opacity.</summary>
    /// <param name="alpha">Opacity, 255 is opaque. [0 to 255]</param>
    public Colour WithAlpha(byte alpha) => this with { Alpha = alpha };

    /// <summary>Returns the contrast ratio against another opaque colour, from 1 (none) to 21 (black on white).</summary>
    /// <param name="other">The other colour.</param>
    /// <remarks>Source: Web Content Accessibility Guidelines 2.2, definition of contrast ratio.</remarks>
    public double ContrastRatio(Colour other)
    {
        double a = RelativeLuminance + 0.05;
        double b = other.RelativeLuminance + 0.05;
        return Math.Max(a, b) / Math.Min(a, b);
    }

    /// <summary>Returns the colour as # and six hexadecimal digits; opacity is not written.</summary>
    public override string ToString() => $"#{Red:x2}{Green:x2}{Blue:x2}";
}
