using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>A small picture of one colour per cell, first row at the top. Not premultiplied.</summary>
internal sealed class RasterImage(int width, int height)
{
    public int Width => width;

    public int Height => height;

    /// <summary>Gets red, green, blue, opacity in turn.</summary>
    public byte[] Rgba { get; } = new byte[4 * width * height];

    public void Set(int column, int row, Colour colour)
    {
        int at = 4 * ((row * width) + column);
        Rgba[at] = colour.Red;
        Rgba[at + 1] = colour.Green;
        Rgba[at + 2] = colour.Blue;
        Rgba[at + 3] = colour.Alpha;
    }
}
