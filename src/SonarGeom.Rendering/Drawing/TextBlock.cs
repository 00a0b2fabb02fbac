namespace SonarGeom.Rendering.Drawing;

/// <summary>A paragraph broken into lines that fit a width.</summary>
internal sealed class TextBlock
{
    private TextBlock(List<string> lines, TextStyle style)
    {
        Lines = lines;
        Style = style;
    }

    public IReadOnlyList<string> Lines { get; }

    public TextStyle Style { get; }

    public double Height => Lines.Count * Style.LineHeight;

    public double Width => Lines.Count == 0 ? 0 : Lines.Max(Style.Measure);

    /// <summary>Breaks a paragraph at spaces; a word longer than the width is broken inside.</summary>
    public static TextBlock Wrap(string text, TextStyle style, double width)
    {
        var lines = new List<string>();
        string line = string.Empty;
        foreach (string word in text.Split([' ', '\n', '\r', '\t'], StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (style.Measure(longer) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = word;
            while (style.Measure(line) > width && line.Length > 1)
            {
                int keep = line.Length - 1;
                while (keep > 1 && style.Measure(line[..keep]) > width)
                {
                    keep--;
                }

                if (char.IsHighSurrogate(line[keep - 1]) && keep > 1)
                {
                    keep--;
                }

                lines.Add(line[..keep]);
                line = line[keep..];
            }
        }

        if (line.Length > 0)
        {
            lines.Add(line);
        }

        return new(lines, style);
    }

    public void Paint(
        DrawingSurface surface, double x, double top, Colours.Colour colour, TextAnchor anchor = TextAnchor.Start)
    {
        double y = top + (0.5 * (Style.LineHeight - Style.Size)) + Style.Ascent;
        foreach (string line in Lines)
        {
            surface.Text(line, x, y, Style, colour, anchor);
            y += Style.LineHeight;
        }
    }
}
