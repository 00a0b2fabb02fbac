using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Fills a region with strokes, cut exactly at its edge (even-odd rule), so that no format needs a clip.</summary>
internal static class Hatching
{
    private static readonly HatchPattern[] InTurn =
    [
        HatchPattern.Rising, HatchPattern.Falling, HatchPattern.Dots, HatchPattern.Lattice, HatchPattern.Level,
        HatchPattern.Upright, HatchPattern.Grid, HatchPattern.RisingDense, HatchPattern.FallingDense,
    ];

    public static HatchPattern At(int index) => InTurn[index % InTurn.Length];

    /// <summary>Draws the strokes with a pale rim, so that they show on light and on dark ground.</summary>
    public static void Draw(DrawingSurface surface, Outline region, HatchPattern pattern, Colour colour, bool hasRim = true)
    {
        if (pattern == HatchPattern.None || region.IsEmpty)
        {
            return;
        }

        var rim = new Stroke(Colour.White.WithAlpha(190), 4);
        if (pattern == HatchPattern.Dots)
        {
            Outline dots = Dots(region, 12);
            if (hasRim)
            {
                surface.Draw(Squares(dots, 3.2), rim with { Width = 2 });
            }

            surface.Fill(Squares(dots, 3.2), colour);
            return;
        }

        var strokes = new Outline();
        foreach ((double dx, double dy, double spacing) in Directions(pattern))
        {
            AddStrokes(strokes, region, dx, dy, spacing);
        }

        if (hasRim)
        {
            surface.Draw(strokes, rim);
        }

        surface.Draw(strokes, new(colour, 1.8));
    }

    /// <summary>Adds to an outline the strokes of one direction inside a region.</summary>
    /// <param name="strokes">Gets the strokes.</param>
    /// <param name="region">The region.</param>
    /// <param name="dx">Stroke direction, unit vector.</param>
    /// <param name="dy">Stroke direction, unit vector.</param>
    /// <param name="spacing">Distance between strokes; they lie at multiples of it, whatever the region.</param>
    public static void AddStrokes(Outline strokes, Outline region, double dx, double dy, double spacing)
    {
        // Each edge of the region puts its crossings into the strokes it spans; a pair of crossings bounds a stroke.
        double nx = -dy;
        double ny = dx;
        var crossings = new SortedDictionary<int, List<double>>();
        for (int p = 0; p < region.PartCount; p++)
        {
            (int start, int end, _) = region.Part(p);
            for (int i = start; i < end; i++)
            {
                (double x1, double y1) = region.Point(i);
                (double x2, double y2) = region.Point(i + 1 < end ? i + 1 : start);
                double n1 = ((x1 * nx) + (y1 * ny)) / spacing;
                double n2 = ((x2 * nx) + (y2 * ny)) / spacing;
                if (n1 == n2)
                {
                    continue;
                }

                double s1 = (x1 * dx) + (y1 * dy);
                double s2 = (x2 * dx) + (y2 * dy);
                int first = (int)Math.Ceiling(Math.Min(n1, n2));
                int last = (int)Math.Ceiling(Math.Max(n1, n2)) - 1;
                for (int k = first; k <= last; k++)
                {
                    if (!crossings.TryGetValue(k, out List<double>? list))
                    {
                        crossings.Add(k, list = []);
                    }

                    list.Add(s1 + ((s2 - s1) * (k - n1) / (n2 - n1)));
                }
            }
        }

        foreach ((int k, List<double> list) in crossings)
        {
            list.Sort();
            double ox = k * spacing * nx;
            double oy = k * spacing * ny;
            for (int i = 0; i + 1 < list.Count; i += 2)
            {
                if (list[i + 1] - list[i] > 0.3)
                {
                    strokes.AddLine(
                        ox + (list[i] * dx), oy + (list[i] * dy), ox + (list[i + 1] * dx), oy + (list[i + 1] * dy));
                }
            }
        }
    }

    private static (double Dx, double Dy, double Spacing)[] Directions(HatchPattern pattern)
    {
        double h = Math.Sqrt(0.5);
        return pattern switch
        {
            HatchPattern.Rising => [(h, -h, 11)],
            HatchPattern.Falling => [(h, h, 11)],
            HatchPattern.Level => [(1, 0, 10)],
            HatchPattern.Upright => [(0, 1, 10)],
            HatchPattern.Lattice => [(h, -h, 13), (h, h, 13)],
            HatchPattern.Grid => [(1, 0, 12), (0, 1, 12)],
            HatchPattern.RisingDense => [(h, -h, 6)],
            HatchPattern.FallingDense => [(h, h, 6)],
            _ => [],
        };
    }

    private static Outline Dots(Outline region, double spacing)
    {
        // Rows of dots are the middles of short pieces of level strokes, every other row moved by half a pitch.
        var rows = new Outline();
        AddStrokes(rows, region, 1, 0, 0.75 * spacing);
        var dots = new Outline();
        for (int p = 0; p < rows.PartCount; p++)
        {
            (int start, _, _) = rows.Part(p);
            (double x1, double y) = rows.Point(start);
            (double x2, _) = rows.Point(start + 1);
            double shift = ((long)Math.Round(y / (0.75 * spacing)) & 1) == 0 ? 0 : 0.5 * spacing;
            for (double k = Math.Ceiling((x1 + 1.6 - shift) / spacing); (k * spacing) + shift <= x2 - 1.6; k++)
            {
                dots.MoveTo((k * spacing) + shift, y);
            }
        }

        return dots;
    }

    private static Outline Squares(Outline dots, double side)
    {
        var squares = new Outline();
        for (int i = 0; i < dots.PointCount; i++)
        {
            (double x, double y) = dots.Point(i);
            squares.AddRectangle(Box.FromSize(x - (0.5 * side), y - (0.5 * side), side, side));
        }

        return squares;
    }
}
