using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>How a line is stroked. Dash lengths are in pixels, on and off in turn; empty for a full line.</summary>
internal readonly record struct Stroke(Colour Colour, double Width, double[] Dash)
{
    public Stroke(Colour colour, double width)
        : this(colour, width, [])
    {
    }
}

/// <summary>Which of the two embedded faces and how large. [px]</summary>
internal readonly record struct TextStyle(bool IsBold, double Size)
{
    public double Ascent => 0.76 * Size;

    public double Descent => 0.24 * Size;

    public double LineHeight => 1.3 * Size;

    public double Measure(string text) => FontFace.Of(IsBold).Measure(text) * Size;
}

/// <summary>Where the given point lies on a line of text.</summary>
internal enum TextAnchor
{
    Start,
    Middle,
    End,
}

/// <summary>The type sizes of all figures. [px at the figure's own width]</summary>
internal static class Typography
{
    public static TextStyle Title => new(true, 32);

    public static TextStyle Finding => new(false, 23);

    public static TextStyle Caption => new(true, 22);

    public static TextStyle AxisLabel => new(false, 21);

    public static TextStyle Tick => new(false, 19);

    public static TextStyle Label => new(false, 19);

    public static TextStyle StrongLabel => new(true, 19);

    public static TextStyle Footnote => new(false, 17);
}
