using System.Collections.Concurrent;
using System.Reflection;
using System.Text;
using SkiaSharp;

namespace SonarGeom.Rendering.Drawing;

/// <summary>One of the two embedded typefaces, with the measures of its glyphs in font units.</summary>
/// <remarks>
/// Text is measured and set from linear advances without hinting and kerning, so that a line is equally long in every
/// output format. No font of the machine is ever used: a character that the embedded face lacks is drawn as a box.
/// </remarks>
internal sealed class FontFace
{
    private static readonly Lazy<FontFace> RegularFace = new(() => new FontFace("DejaVuSans.ttf", 'r'));
    private static readonly Lazy<FontFace> BoldFace = new(() => new FontFace("DejaVuSans-Bold.ttf", 'b'));

    private readonly ConcurrentDictionary<int, GlyphShape> _glyphs = new();
    private readonly SKFont _unitFont;
    private readonly Lock _gate = new();

    private FontFace(string resource, char key)
    {
        using Stream stream = Assembly.GetExecutingAssembly()
            .GetManifestResourceStream($"SonarGeom.Rendering.Fonts.{resource}")
            ?? throw new InvalidOperationException($"The embedded font {resource} is missing.");
        using var data = SKData.Create(stream);
        Typeface = SKTypeface.FromData(data)
            ?? throw new InvalidOperationException($"The embedded font {resource} cannot be read.");
        Key = key;
        UnitsPerEm = Typeface.UnitsPerEm;
        _unitFont = Prepare(UnitsPerEm);
    }

    public SKTypeface Typeface { get; }

    /// <summary>Gets the letter by which glyphs of this face are named in a drawing.</summary>
    public char Key { get; }

    public int UnitsPerEm { get; }

    public static FontFace Of(bool isBold) => (isBold ? BoldFace : RegularFace).Value;

    /// <summary>Returns the length of a line of text for type size 1.</summary>
    public double Measure(string text)
    {
        double units = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            units += Glyph(rune.Value).AdvanceUnits;
        }

        return units / UnitsPerEm;
    }

    /// <summary>Returns the advance and the outline of a character.</summary>
    public GlyphShape Glyph(int codePoint)
    {
        if (!_glyphs.TryGetValue(codePoint, out GlyphShape? shape))
        {
            lock (_gate)
            {
                shape = Load(codePoint);
            }

            shape = _glyphs.GetOrAdd(codePoint, shape);
        }

        return shape;
    }

    /// <summary>Returns the face at a type size, set for linear metrics.</summary>
    public SKFont Prepare(double size) => new(Typeface, (float)size)
    {
        Subpixel = true,
        LinearMetrics = true,
        Hinting = SKFontHinting.None,
        Edging = SKFontEdging.Antialias,
        BaselineSnap = false,
    };

    private GlyphShape Load(int codePoint)
    {
        ushort glyph = _unitFont.GetGlyph(codePoint);
        Span<float> width = stackalloc float[1];
        _unitFont.GetGlyphWidths(char.ConvertFromUtf32(codePoint), width, default, null!);
        return new(this, glyph, (int)Math.Round(width[0]));
    }

    /// <summary>A character's advance and, when asked for, its outline as vector path data in font units, y down.</summary>
    internal sealed class GlyphShape(FontFace face, ushort glyph, int advanceUnits)
    {
        private string? _pathData;

        public int AdvanceUnits => advanceUnits;

        public string PathData => _pathData ??= Trace();

        private string Trace()
        {
            lock (face._gate)
            {
                using SKPath? path = face._unitFont.GetGlyphPath(glyph);
                return path is null || path.IsEmpty ? string.Empty : GlyphPath.Write(path);
            }
        }
    }
}
