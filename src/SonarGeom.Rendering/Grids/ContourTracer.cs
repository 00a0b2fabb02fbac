using System.Collections.Immutable;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Grids;

/// <summary>Finds the lines on which a grid takes a given value.</summary>
/// <remarks>
/// Marching squares over the cell centres: a crossing between two neighbouring centres is placed by linear interpolation
/// (halfway where one of them is infinite); where a square has two crossings to choose from, the mean of its four corners
/// decides, which keeps left and right alike. A square with a missing corner has no line.
/// </remarks>
public static class ContourTracer
{
    private const int None = -1;

    /// <summary>Returns the contour lines of a level.</summary>
    /// <param name="grid">The grid.</param>
    /// <param name="level">The value to follow, finite. [unit of the values]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="level"/> is not finite.</exception>
    public static ImmutableArray<ContourLine> Trace(ValueGrid grid, double level)
    {
        ArgumentNullException.ThrowIfNull(grid);
        if (!double.IsFinite(level))
        {
            throw new ArgumentOutOfRangeException(nameof(level), $"Contour level is {level}; it must be finite.");
        }

        // An edge between two centres is crossed at most once and belongs to at most two squares, so that each crossing
        // has at most two neighbours along the line.
        int nx = grid.Across.Count;
        int ny = grid.Up.Count;
        int[] neighbours = new int[4 * nx * ny];
        Array.Fill(neighbours, None);
        for (int row = 0; row + 1 < ny; row++)
        {
            for (int column = 0; column + 1 < nx; column++)
            {
                AddSquare(grid, level, column, row, neighbours);
            }
        }

        var lines = ImmutableArray.CreateBuilder<ContourLine>();
        for (int edge = 0; edge < 2 * nx * ny; edge++)
        {
            bool isEnd = neighbours[2 * edge] != None && neighbours[(2 * edge) + 1] == None;
            if (isEnd)
            {
                lines.Add(Follow(grid, level, edge, neighbours));
            }
        }

        for (int edge = 0; edge < 2 * nx * ny; edge++)
        {
            if (neighbours[2 * edge] != None)
            {
                lines.Add(Follow(grid, level, edge, neighbours));
            }
        }

        return lines.ToImmutable();
    }

    private static void AddSquare(ValueGrid grid, double level, int column, int row, int[] neighbours)
    {
        double a = grid.At(column, row);
        double b = grid.At(column + 1, row);
        double c = grid.At(column + 1, row + 1);
        double d = grid.At(column, row + 1);
        if (double.IsNaN(a) || double.IsNaN(b) || double.IsNaN(c) || double.IsNaN(d))
        {
            return;
        }

        int pattern = (a >= level ? 1 : 0) | (b >= level ? 2 : 0) | (c >= level ? 4 : 0) | (d >= level ? 8 : 0);
        int n = grid.Across.Count;
        int bottom = 2 * ((row * n) + column);
        int left = bottom + 1;
        int right = bottom + 3;
        int top = bottom + (2 * n);
        switch (pattern)
        {
            case 1 or 14:
                Join(neighbours, left, bottom);
                break;
            case 2 or 13:
                Join(neighbours, bottom, right);
                break;
            case 4 or 11:
                Join(neighbours, right, top);
                break;
            case 8 or 7:
                Join(neighbours, top, left);
                break;
            case 3 or 12:
                Join(neighbours, left, right);
                break;
            case 6 or 9:
                Join(neighbours, bottom, top);
                break;
            case 5 or 10:
                // The sum is taken in pairs across the diagonals, so that a mirrored square gives the same bits.
                double mean = 0.25 * ((a + c) + (b + d));
                bool isMiddleInside = mean >= level;
                if (isMiddleInside == (pattern == 5))
                {
                    Join(neighbours, left, top);
                    Join(neighbours, bottom, right);
                }
                else
                {
                    Join(neighbours, left, bottom);
                    Join(neighbours, right, top);
                }

                break;
            default:
                break;
        }
    }

    private static void Join(int[] neighbours, int first, int second)
    {
        neighbours[(2 * first) + (neighbours[2 * first] == None ? 0 : 1)] = second;
        neighbours[(2 * second) + (neighbours[2 * second] == None ? 0 : 1)] = first;
    }

    private static ContourLine Follow(ValueGrid grid, double level, int start, int[] neighbours)
    {
        var points = ImmutableArray.CreateBuilder<PlotPoint>();
        bool isClosed = false;
        int previous = None;
        int edge = start;
        while (true)
        {
            points.Add(Crossing(grid, level, edge));
            int first = neighbours[2 * edge];
            int second = neighbours[(2 * edge) + 1];
            neighbours[2 * edge] = None;
            neighbours[(2 * edge) + 1] = None;
            int next = first != None && first != previous ? first : second;
            if (next == None || next == previous)
            {
                break;
            }

            if (next == start)
            {
                isClosed = true;
                break;
            }

            previous = edge;
            edge = next;
        }

        return new(points.ToImmutable(), isClosed);
    }

    private static PlotPoint Crossing(ValueGrid grid, double level, int edge)
    {
        int cell = edge / 2;
        int column = cell % grid.Across.Count;
        int row = cell / grid.Across.Count;
        double from = grid.At(column, row);
        bool isUpright = (edge & 1) != 0;
        double to = isUpright ? grid.At(column, row + 1) : grid.At(column + 1, row);
        double share = (level - from) / (to - from);
        if (!double.IsFinite(share) || double.IsInfinity(from) || double.IsInfinity(to))
        {
            share = 0.5;
        }

        return isUpright
            ? new(grid.Across.Centre(column), grid.Up.Centre(row + share))
            : new(grid.Across.Centre(column + share), grid.Up.Centre(row));
    }
}
