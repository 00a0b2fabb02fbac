using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws a shaded stretch of an axis.</summary>
internal static class WindowPainter
{
    public static void Paint(DrawingSurface surface, AxisWindow window, Box box)
    {
        var region = Outline.Rectangle(box);
        if (window.Hatch == HatchPattern.None)
        {
            surface.Fill(region, window.Colour.WithAlpha(38));
        }
        else
        {
            Hatching.Draw(surface, region, window.Hatch, window.Colour.WithAlpha(120), hasRim: false);
        }

        Outline edges = window.IsUpright
            ? new Outline().AddLine(box.Left, box.Top, box.Left, box.Bottom).AddLine(box.Right, box.Top, box.Right, box.Bottom)
            : new Outline().AddLine(box.Left, box.Top, box.Right, box.Top).AddLine(box.Left, box.Bottom, box.Right, box.Bottom);
        surface.Draw(edges, new(window.Colour, 1.2));
    }
}
