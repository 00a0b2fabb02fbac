using System.Text;
using SkiaSharp;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Writes a glyph outline as path data with whole font units.</summary>
internal static class GlyphPath
{
    public static string Write(SKPath path)
    {
        var text = new StringBuilder();
        using SKPath.RawIterator iterator = path.CreateRawIterator();
        Span<SKPoint> points = stackalloc SKPoint[4];
        SKPathVerb verb;
        while ((verb = iterator.Next(points)) != SKPathVerb.Done)
        {
            switch (verb)
            {
                case SKPathVerb.Move:
                    Append(text, 'M', points[..1]);
                    break;
                case SKPathVerb.Line:
                    Append(text, 'L', points[1..2]);
                    break;
                case SKPathVerb.Quad:
                    Append(text, 'Q', points[1..3]);
                    break;
                case SKPathVerb.Cubic:
                    Append(text, 'C', points[1..4]);
                    break;
                case SKPathVerb.Close:
                    text.Append('Z');
                    break;
                default:
                    throw new InvalidOperationException("A TrueType outline has only lines and quadratic curves.");
            }
        }

        return text.ToString();
    }

    private static void Append(StringBuilder text, char letter, ReadOnlySpan<SKPoint> points)
    {
        text.Append(letter);
        for (int i = 0; i < points.Length; i++)
        {
            if (i > 0)
            {
                text.Append(' ');
            }

            text.Append((int)MathF.Round(points[i].X)).Append(' ').Append((int)MathF.Round(points[i].Y));
        }
    }
}
