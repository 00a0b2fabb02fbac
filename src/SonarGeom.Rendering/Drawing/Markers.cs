using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws the symbols of points.</summary>
internal static class Markers
{
    private static readonly MarkerShape[] InTurn =
    [
        MarkerShape.Circle, MarkerShape.Square, MarkerShape.Triangle, MarkerShape.Diamond,
        MarkerShape.TriangleDown, MarkerShape.Cross, MarkerShape.Ring,
    ];

    public static MarkerShape At(int index) => InTurn[(index + (2 * (index / InTurn.Length))) % InTurn.Length];

    /// <summary>Draws a symbol of a given radius with a white rim, so that it stands out on any ground.</summary>
    public static void Draw(DrawingSurface surface, MarkerShape shape, double x, double y, double radius, Colour colour)
    {
        const double rim = 1.5;
        switch (shape)
        {
            case MarkerShape.None:
                return;
            case MarkerShape.Circle:
                surface.FillCircle(x, y, radius + rim, Colour.White);
                surface.FillCircle(x, y, radius, colour);
                return;
            case MarkerShape.Ring:
                surface.FillCircle(x, y, radius + rim, Colour.White);
                surface.DrawCircle(x, y, radius - 1, new(colour, 2.5));
                return;
            case MarkerShape.Cross:
            case MarkerShape.Plus:
                Outline strokes = shape == MarkerShape.Cross
                    ? new Outline().AddLine(x - radius, y - radius, x + radius, y + radius)
                        .AddLine(x - radius, y + radius, x + radius, y - radius)
                    : new Outline().AddLine(x - radius, y, x + radius, y).AddLine(x, y - radius, x, y + radius);
                surface.Draw(strokes, new(Colour.White, 3 + (2 * rim)));
                surface.Draw(strokes, new(colour, 3));
                return;
            default:
                surface.Draw(Polygon(shape, x, y, radius), new(Colour.White, 2 * rim));
                surface.Fill(Polygon(shape, x, y, radius), colour);
                return;
        }
    }

    private static Outline Polygon(MarkerShape shape, double x, double y, double r)
    {
        (double Dx, double Dy)[] corners = shape switch
        {
            MarkerShape.Square => [(-0.88, -0.88), (0.88, -0.88), (0.88, 0.88), (-0.88, 0.88)],
            MarkerShape.Diamond => [(0, -1.2), (1.2, 0), (0, 1.2), (-1.2, 0)],
            MarkerShape.TriangleDown => [(0, 1.2), (-1.1, -0.8), (1.1, -0.8)],
            _ => [(0, -1.2), (1.1, 0.8), (-1.1, 0.8)],
        };
        var outline = new Outline();
        for (int i = 0; i < corners.Length; i++)
        {
            double px = x + (r * corners[i].Dx);
            double py = y + (r * corners[i].Dy);
            if (i == 0)
            {
                outline.MoveTo(px, py);
            }
            else
            {
                outline.LineTo(px, py);
            }
        }

        outline.Close();
        return outline;
    }
}
