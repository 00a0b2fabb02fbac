using System.Collections.Immutable;

namespace SonarGeom.Bodies;

/// <summary>Traces the edges of a silhouette: marching squares over the middles of its cells.</summary>
internal static class SilhouetteOutline
{
    private enum Way
    {
        Left,
        Right,
        Up,
        Down,
    }

    /// <summary>Returns the closed lines, lowest and rightmost first, the body to the left of the walker.</summary>
    internal static ImmutableArray<ImmutableArray<FrontalPoint>> Of(Silhouette s)
    {
        // A square lies between four cell middles; its lower right corner is cell (column, row), both from -1.
        Dictionary<(int Column, int Row, Way From), (Way To, FrontalPoint At)> steps = [];
        List<(int Column, int Row, Way From)> order = [];
        for (int row = -1; row < s.Rows; row++)
        {
            for (int column = -1; column < s.Columns; column++)
            {
                AddSteps(s, column, row, steps, order);
            }
        }

        var lines = ImmutableArray.CreateBuilder<ImmutableArray<FrontalPoint>>();
        HashSet<(int Column, int Row, Way From)> done = [];
        foreach ((int Column, int Row, Way From) start in order)
        {
            if (done.Contains(start))
            {
                continue;
            }

            var line = ImmutableArray.CreateBuilder<FrontalPoint>();
            (int Column, int Row, Way From) at = start;
            while (done.Add(at))
            {
                (Way to, FrontalPoint point) = steps[at];
                line.Add(point);
                at = to switch
                {
                    Way.Left => (at.Column + 1, at.Row, Way.Right),
                    Way.Right => (at.Column - 1, at.Row, Way.Left),
                    Way.Up => (at.Column, at.Row + 1, Way.Down),
                    _ => (at.Column, at.Row - 1, Way.Up),
                };
            }

            lines.Add(WithoutStraight(line));
        }

        return lines.ToImmutable();
    }

    // Columns rise to the left as seen by the wearer: "left" of a square is its side of greater Y.
    private static void AddSteps(
        Silhouette s,
        int column,
        int row,
        Dictionary<(int Column, int Row, Way From), (Way To, FrontalPoint At)> steps,
        List<(int Column, int Row, Way From)> order)
    {
        bool lowerRight = s.ForemostOfCellMetres(column, row) is not null;
        bool lowerLeft = s.ForemostOfCellMetres(column + 1, row) is not null;
        bool upperRight = s.ForemostOfCellMetres(column, row + 1) is not null;
        bool upperLeft = s.ForemostOfCellMetres(column + 1, row + 1) is not null;
        switch ((lowerRight ? 1 : 0) | (lowerLeft ? 2 : 0) | (upperLeft ? 4 : 0) | (upperRight ? 8 : 0))
        {
            case 1: Add(Way.Down, Way.Right); break;
            case 2: Add(Way.Left, Way.Down); break;
            case 3: Add(Way.Left, Way.Right); break;
            case 4: Add(Way.Up, Way.Left); break;
            case 5: Add(Way.Down, Way.Right); Add(Way.Up, Way.Left); break;
            case 6: Add(Way.Up, Way.Down); break;
            case 7: Add(Way.Up, Way.Right); break;
            case 8: Add(Way.Right, Way.Up); break;
            case 9: Add(Way.Down, Way.Up); break;
            case 10: Add(Way.Left, Way.Down); Add(Way.Right, Way.Up); break;
            case 11: Add(Way.Left, Way.Up); break;
            case 12: Add(Way.Right, Way.Left); break;
            case 13: Add(Way.Down, Way.Left); break;
            case 14: Add(Way.Right, Way.Down); break;
            default: break;
        }

        void Add(Way from, Way to)
        {
            double y = s.ColumnMetres(column);
            double z = s.RowMetres(row);
            double half = s.CellMetres / 2;
            FrontalPoint at = to switch
            {
                Way.Left => new FrontalPoint(y + s.CellMetres, z + half),
                Way.Right => new FrontalPoint(y, z + half),
                Way.Up => new FrontalPoint(y + half, z + s.CellMetres),
                _ => new FrontalPoint(y + half, z),
            };
            steps[(column, row, from)] = (to, at);
            order.Add((column, row, from));
        }
    }

    private static ImmutableArray<FrontalPoint> WithoutStraight(ImmutableArray<FrontalPoint>.Builder line)
    {
        var kept = ImmutableArray.CreateBuilder<FrontalPoint>();
        for (int i = 0; i < line.Count; i++)
        {
            FrontalPoint before = line[(i + line.Count - 1) % line.Count];
            FrontalPoint at = line[i];
            FrontalPoint after = line[(i + 1) % line.Count];
            double turn = ((at.YMetres - before.YMetres) * (after.ZMetres - at.ZMetres))
                - ((at.ZMetres - before.ZMetres) * (after.YMetres - at.YMetres));
            if (Math.Abs(turn) > 1e-12)
            {
                kept.Add(at);
            }
        }

        return kept.ToImmutable();
    }
}
