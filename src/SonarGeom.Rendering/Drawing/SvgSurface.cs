using System.Globalization;
using System.Text;
using SkiaSharp;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Writes a vector picture. Letters are drawn as outlines, so that they look the same everywhere.</summary>
/// <remarks>
/// Each line of text also stands as plain words in the <c>data-text</c> attribute of its group, and the picture as a whole has
/// a title and a description. A heat raster is one embedded picture with one pixel per cell.
/// </remarks>
internal sealed class SvgSurface(double width, double height, string title, string description) : DrawingSurface
{
    private readonly StringBuilder _body = new();
    private readonly SortedDictionary<string, string> _glyphs = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Box> _clips = new(StringComparer.Ordinal);

    /// <summary>Returns the finished document.</summary>
    public string Finish()
    {
        var text = new StringBuilder(_body.Length + 65536);
        text.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
        Number(text, width);
        text.Append("\" height=\"");
        Number(text, height);
        text.Append("\" viewBox=\"0 0 ");
        Number(text, width);
        text.Append(' ');
        Number(text, height);
        text.Append("\" role=\"img\" aria-label=\"").Append(Escape(title)).Append("\">\n<title>").Append(Escape(title))
            .Append("</title>\n<desc>").Append(Escape(description)).Append("</desc>\n<defs>\n");
        foreach ((string id, string data) in _glyphs)
        {
            text.Append("<path id=\"").Append(id).Append("\" d=\"").Append(data).Append("\"/>\n");
        }

        foreach ((string id, Box box) in _clips)
        {
            text.Append("<clipPath id=\"").Append(id).Append("\"><rect");
            Rectangle(text, box);
            text.Append("/></clipPath>\n");
        }

        text.Append("</defs>\n<rect");
        Rectangle(text, new(0, 0, width, height));
        text.Append(" fill=\"#ffffff\"/>\n").Append(_body).Append("</svg>\n");
        return text.ToString();
    }

    public override void Fill(Outline outline, Colour colour)
    {
        if (!outline.IsEmpty)
        {
            Path(outline);
            FillAttributes(colour);
            _body.Append(" fill-rule=\"evenodd\"/>\n");
        }
    }

    public override void Draw(Outline outline, Stroke stroke)
    {
        if (!outline.IsEmpty)
        {
            Path(outline);
            StrokeAttributes(stroke);
            _body.Append("/>\n");
        }
    }

    public override void FillCircle(double x, double y, double radius, Colour colour)
    {
        Circle(x, y, radius);
        FillAttributes(colour);
        _body.Append("/>\n");
    }

    public override void DrawCircle(double x, double y, double radius, Stroke stroke)
    {
        Circle(x, y, radius);
        StrokeAttributes(stroke);
        _body.Append("/>\n");
    }

    public override void DrawImage(RasterImage image, Box box)
    {
        using SKImage picture = SkiaSurface.ToSkia(image);
        using SKPixmap pixels = picture.PeekPixels()
            ?? throw new InvalidOperationException("A picture in memory has no pixels.");
        using SKData data = pixels.Encode(PngOptions.Small)
            ?? throw new InvalidOperationException("A picture in memory could not be packed.");
        _body.Append("<image");
        Rectangle(_body, box);
        _body.Append(" preserveAspectRatio=\"none\" style=\"image-rendering:pixelated\" href=\"data:image/png;base64,")
            .Append(Convert.ToBase64String(data.AsSpan())).Append("\"/>\n");
    }

    public override void PushClip(Box box)
    {
        // The name tells the content, so that several pictures can stand in one page.
        var id = new StringBuilder("clip");
        foreach (double edge in (ReadOnlySpan<double>)[box.Left, box.Top, box.Right, box.Bottom])
        {
            id.Append('-').Append((long)Math.Round(edge * 100));
        }

        _clips[id.ToString()] = box;
        _body.Append("<g clip-path=\"url(#").Append(id).Append(")\">\n");
    }

    public override void PopClip() => _body.Append("</g>\n");

    public override void BeginGroup(string name) =>
        _body.Append("<g data-part=\"").Append(Escape(name)).Append("\">\n");

    public override void EndGroup() => _body.Append("</g>\n");

    protected override void OnBeginPlacement(double x, double y, double scale)
    {
        _body.Append("<g transform=\"translate(");
        Number(_body, x);
        _body.Append(' ');
        Number(_body, y);
        _body.Append(") scale(").Append(scale.ToString("0.########", CultureInfo.InvariantCulture)).Append(")\">\n");
    }

    protected override void OnEndPlacement() => _body.Append("</g>\n");

    protected override void SetText(
        string text, double x, double y, TextStyle style, Colour colour, bool isUpward, double halo)
    {
        FontFace face = FontFace.Of(style.IsBold);
        double scale = style.Size / face.UnitsPerEm;
        var run = new StringBuilder();
        int at = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            FontFace.GlyphShape glyph = face.Glyph(rune.Value);
            if (glyph.PathData.Length > 0)
            {
                string id = string.Create(CultureInfo.InvariantCulture, $"g{face.Key}{rune.Value:x}");
                _glyphs[id] = glyph.PathData;
                run.Append("<use href=\"#").Append(id).Append("\" x=\"").Append(at).Append("\"/>");
            }

            at += glyph.AdvanceUnits;
        }

        if (halo > 0)
        {
            BeginText(x, y, scale, isUpward);
            _body.Append(" fill=\"#ffffff\" stroke=\"#ffffff\" stroke-linejoin=\"round\" stroke-width=\"");
            Number(_body, 2 * halo / scale);
            _body.Append("\">").Append(run).Append("</g>\n");
        }

        BeginText(x, y, scale, isUpward);
        FillAttributes(colour);
        _body.Append(" data-text=\"").Append(Escape(text)).Append("\">").Append(run).Append("</g>\n");
    }

    private static void Number(StringBuilder text, double value)
    {
        // Two decimals of a pixel; trailing zeros and a negative zero are dropped.
        long hundredths = (long)Math.Round(value * 100);
        if (hundredths < 0)
        {
            text.Append('-');
            hundredths = -hundredths;
        }

        text.Append(hundredths / 100);
        long rest = hundredths % 100;
        if (rest != 0)
        {
            text.Append('.').Append((char)('0' + (rest / 10)));
            if (rest % 10 != 0)
            {
                text.Append((char)('0' + (rest % 10)));
            }
        }
    }

    private static void Rectangle(StringBuilder text, Box box)
    {
        text.Append(" x=\"");
        Number(text, box.Left);
        text.Append("\" y=\"");
        Number(text, box.Top);
        text.Append("\" width=\"");
        Number(text, box.Width);
        text.Append("\" height=\"");
        Number(text, box.Height);
        text.Append('"');
    }

    private static string Escape(string text) => Printable(text)
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("\"", "&quot;", StringComparison.Ordinal);

    private void BeginText(double x, double y, double scale, bool isUpward)
    {
        _body.Append("<g transform=\"translate(");
        Number(_body, x);
        _body.Append(' ');
        Number(_body, y);
        _body.Append(isUpward ? ") rotate(-90) scale(" : ") scale(")
            .Append(scale.ToString("0.########", CultureInfo.InvariantCulture)).Append(")\"");
    }

    private void Circle(double x, double y, double radius)
    {
        _body.Append("<circle cx=\"");
        Number(_body, x);
        _body.Append("\" cy=\"");
        Number(_body, y);
        _body.Append("\" r=\"");
        Number(_body, radius);
        _body.Append('"');
    }

    private void Path(Outline outline)
    {
        _body.Append("<path d=\"");
        for (int part = 0; part < outline.PartCount; part++)
        {
            (int start, int end, bool closed) = outline.Part(part);
            for (int i = start; i < end; i++)
            {
                (double x, double y) = outline.Point(i);
                _body.Append(i == start ? 'M' : 'L');
                Number(_body, x);
                _body.Append(' ');
                Number(_body, y);
            }

            if (closed)
            {
                _body.Append('Z');
            }
        }

        _body.Append('"');
    }

    private void FillAttributes(Colour colour)
    {
        _body.Append(" fill=\"").Append(colour).Append('"');
        Opacity(" fill-opacity=\"", colour);
    }

    private void StrokeAttributes(Stroke stroke)
    {
        _body.Append(" fill=\"none\" stroke=\"").Append(stroke.Colour).Append("\" stroke-width=\"");
        Number(_body, stroke.Width);
        _body.Append("\" stroke-linejoin=\"round\"");
        Opacity(" stroke-opacity=\"", stroke.Colour);
        if (stroke.Dash.Length > 0)
        {
            _body.Append(" stroke-dasharray=\"");
            for (int i = 0; i < stroke.Dash.Length; i++)
            {
                if (i > 0)
                {
                    _body.Append(' ');
                }

                Number(_body, stroke.Dash[i]);
            }

            _body.Append('"');
        }
    }

    private void Opacity(string name, Colour colour)
    {
        if (colour.Alpha != 255)
        {
            _body.Append(name);
            Number(_body, colour.Alpha / 255.0);
            _body.Append('"');
        }
    }
}
