using System.Text;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>What a figure is drawn on. Every output format gets exactly the same calls. Pixels, y down.</summary>
internal abstract class DrawingSurface
{
    private readonly List<PlacedText> _texts = [];
    private readonly Stack<(double X, double Y, double Scale)> _placements = new();

    /// <summary>Gets every line of text set so far and the box it fills.</summary>
    public IReadOnlyList<PlacedText> Texts => _texts;

    public abstract void Fill(Outline outline, Colour colour);

    public abstract void Draw(Outline outline, Stroke stroke);

    public abstract void FillCircle(double x, double y, double radius, Colour colour);

    public abstract void DrawCircle(double x, double y, double radius, Stroke stroke);

    /// <summary>Draws a picture into a box, one sharp-edged rectangle per cell.</summary>
    public abstract void DrawImage(RasterImage image, Box box);

    public abstract void PushClip(Box box);

    public abstract void PopClip();

    /// <summary>Draws what follows smaller or larger, with its origin at a given point.</summary>
    public void BeginPlacement(double x, double y, double scale)
    {
        _placements.Push((x, y, scale));
        OnBeginPlacement(x, y, scale);
    }

    public void EndPlacement()
    {
        _placements.Pop();
        OnEndPlacement();
    }

    /// <summary>Starts a named group of marks.</summary>
    public virtual void BeginGroup(string name)
    {
    }

    public virtual void EndGroup()
    {
    }

    /// <summary>Sets one line of text.</summary>
    /// <param name="text">The line.</param>
    /// <param name="x">The anchor point.</param>
    /// <param name="y">The base line.</param>
    /// <param name="style">Face and size.</param>
    /// <param name="colour">Ink.</param>
    /// <param name="anchor">Where the anchor point lies on the line.</param>
    /// <param name="isUpward">Whether the line runs up the page instead of to the right.</param>
    /// <param name="halo">Width of a white rim around the letters.</param>
    public void Text(
        string text,
        double x,
        double y,
        TextStyle style,
        Colour colour,
        TextAnchor anchor = TextAnchor.Start,
        bool isUpward = false,
        double halo = 0)
    {
        if (text.Length == 0)
        {
            return;
        }

        text = Printable(text);
        double length = style.Measure(text);
        double before = anchor switch
        {
            TextAnchor.Middle => 0.5 * length,
            TextAnchor.End => length,
            _ => 0,
        };
        Box box = isUpward
            ? new(x - style.Ascent, y - length + before, x + style.Descent, y + before)
            : new(x - before, y - style.Ascent, x - before + length, y + style.Descent);
        foreach ((double placeX, double placeY, double scale) in _placements)
        {
            box = new(
                placeX + (scale * box.Left), placeY + (scale * box.Top), placeX + (scale * box.Right), placeY + (scale * box.Bottom));
        }

        _texts.Add(new(text, box));
        if (isUpward)
        {
            SetText(text, x, y + before, style, colour, true, halo);
        }
        else
        {
            SetText(text, x - before, y, style, colour, false, halo);
        }
    }

    protected abstract void OnBeginPlacement(double x, double y, double scale);

    protected abstract void OnEndPlacement();

    /// <summary>Sets a line that starts at the given point and runs to the right, or up the page.</summary>
    protected abstract void SetText(
        string text, double x, double y, TextStyle style, Colour colour, bool isUpward, double halo);

    /// <summary>Returns the text with every character that no document may hold replaced.</summary>
    protected static string Printable(string text)
    {
        foreach (char c in text)
        {
            if (char.IsControl(c) || char.IsSurrogate(c) || c >= 0xFFFE)
            {
                return string.Concat(text.EnumerateRunes().Select(
                    r => Rune.IsControl(r) || r.Value is 0xFFFE or 0xFFFF ? "\uFFFD" : r.ToString()));
            }
        }

        return text;
    }

    /// <summary>A line of text and the box it fills.</summary>
    internal readonly record struct PlacedText(string Text, Box Box);
}
