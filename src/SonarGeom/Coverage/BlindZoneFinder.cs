using System.Collections.Immutable;
using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>Finds the connected blind parts of an approach map, worst first.</summary>
public static class BlindZoneFinder
{
    // Danger weighs where a hit hurts and where the long cane cannot help: assumption of this tool, printed in the report.
    // Head 4: no cane cover, injuries need care; chest and waist 2: no cane cover above the hand; knee 1; foot 0.5: cane.
    private static readonly double[] BandWeights = [0.5, 1, 2, 2, 4];

    /// <summary>Returns the weight of a height band in the danger figure. [unitless]</summary>
    /// <param name="band">The band.</param>
    public static double WeightOf(HeightBand band) => BandWeights[(int)band];

    /// <summary>Returns the blind zones of a map, worst first.</summary>
    /// <param name="map">The map.</param>
    /// <param name="leastAreaSquareMetres">Smaller zones are left out. [m²]</param>
    /// <remarks>
    /// Cells touch by an edge and belong to one band, so that every zone has one band. Danger = weight of the band × area of
    /// the largest circle that fits: the biggest thing that comes through unseen.
    /// </remarks>
    public static ImmutableArray<BlindZone> Find(ApproachMap map, double leastAreaSquareMetres = 0.001)
    {
        ArgumentNullException.ThrowIfNull(map);
        int[] labels = Label(map, out int count);
        var members = new List<int>[count];
        for (int i = 0; i < labels.Length; i++)
        {
            if (labels[i] >= 0)
            {
                (members[labels[i]] ??= []).Add(i);
            }
        }

        Circle[] widest = Widest(map.Grid, labels, count);
        var zones = members
            .Where(m => m.Count * map.Grid.CellAreaSquareMetres >= leastAreaSquareMetres)
            .Select(m => Describe(map, m, widest[labels[m[0]]]))
            .OrderByDescending(z => z.DangerSquareMetres).ThenByDescending(z => z.HighZMetres).ThenBy(z => z.RightYMetres)
            .ToList();
        return Named(zones);
    }

    private static ImmutableArray<BlindZone> Named(List<BlindZone> zones)
    {
        var counts = new Dictionary<(HeightBand, HazardSide), int>();
        var named = ImmutableArray.CreateBuilder<BlindZone>(zones.Count);
        foreach (BlindZone zone in zones)
        {
            int n = counts[(zone.Band, zone.Side)] = counts.GetValueOrDefault((zone.Band, zone.Side)) + 1;
            named.Add(zone with { Name = $"{zone.Band}-{zone.Side}-{n}".ToLowerInvariant() });
        }

        return named.MoveToImmutable();
    }

    private static int[] Label(ApproachMap map, out int count)
    {
        CoverageGrid grid = map.Grid;
        var labels = new int[grid.Count];
        Array.Fill(labels, -1);
        var stack = new Stack<int>();
        count = 0;
        for (int start = 0; start < labels.Length; start++)
        {
            if (labels[start] >= 0 || !IsBlind(map, start))
            {
                continue;
            }

            int label = count++;
            labels[start] = label;
            stack.Push(start);
            while (stack.TryPop(out int i))
            {
                int row = i / grid.Columns, column = i % grid.Columns;
                Span<int> neighbours =
                [
                    column > 0 ? i - 1 : -1,
                    column < grid.Columns - 1 ? i + 1 : -1,
                    row > 0 ? i - grid.Columns : -1,
                    row < grid.Rows - 1 ? i + grid.Columns : -1,
                ];
                foreach (int j in neighbours)
                {
                    if (j >= 0 && labels[j] < 0 && map.RowBands[j / grid.Columns] == map.RowBands[row] && IsBlind(map, j))
                    {
                        labels[j] = label;
                        stack.Push(j);
                    }
                }
            }
        }

        return labels;
    }

    private static bool IsBlind(ApproachMap map, int i) => map.InSilhouette[i] && !map.IsWarnedInTime(i);

    // The widest circle of each zone with its centre at a corner, an edge's middle or the middle of a cell. Points are counted in
    // half cells; one that a cell of no zone or of another zone touches is a wall, and the distance to the nearest wall is exact:
    // first along columns, then the least over each row.
    private static Circle[] Widest(CoverageGrid grid, int[] labels, int count)
    {
        int width = (2 * grid.Columns) + 1, height = (2 * grid.Rows) + 1;
        int[] column = ColumnDistances(grid, labels, width, height);
        var widest = new Circle[count];
        Array.Fill(widest, new Circle(0, 0, 0));
        for (int i = 0; i < column.Length; i++)
        {
            if (column[i] == 0)
            {
                continue;
            }

            int x = i % width, z = i / width;
            int best = column[i] * column[i];
            for (int step = 1; step * step < best; step++)
            {
                best = Math.Min(best, (step * step) + Math.Min(Square(column[i - step]), Square(column[i + step])));
            }

            int label = labels[grid.Index(x / 2, z / 2)];
            var circle = new Circle(best, grid.FirstYMetres + (0.5 * (x - 1) * grid.CellMetres), grid.FirstZMetres + (0.5 * (z - 1) * grid.CellMetres));
            widest[label] = circle.IsPreferredTo(widest[label]) ? circle : widest[label];
        }

        return widest;

        static int Square(int a) => a * a;
    }

    private static int[] ColumnDistances(CoverageGrid grid, int[] labels, int width, int height)
    {
        var distance = new int[width * height];
        for (int i = width; i < distance.Length; i++)
        {
            distance[i] = IsWall(grid, labels, i % width, i / width) ? 0 : distance[i - width] + 1;
        }

        for (int i = distance.Length - width - 1; i >= 0; i--)
        {
            distance[i] = Math.Min(distance[i], distance[i + width] + 1);
        }

        return distance;
    }

    private static bool IsWall(CoverageGrid grid, int[] labels, int x, int z)
    {
        int firstColumn = (x - 1) / 2, lastColumn = x / 2, firstRow = (z - 1) / 2, lastRow = z / 2;
        if (x == 0 || z == 0 || lastColumn == grid.Columns || lastRow == grid.Rows)
        {
            return true;
        }

        int label = labels[grid.Index(firstColumn, firstRow)];
        return label < 0 || labels[grid.Index(lastColumn, firstRow)] != label
            || labels[grid.Index(firstColumn, lastRow)] != label || labels[grid.Index(lastColumn, lastRow)] != label;
    }

    private static BlindZone Describe(ApproachMap map, List<int> cells, Circle widest)
    {
        CoverageGrid grid = map.Grid;
        double cell = grid.CellMetres;
        int lowRow = cells.Min(i => i / grid.Columns), highRow = cells.Max(i => i / grid.Columns);
        int rightColumn = cells.Min(i => i % grid.Columns), leftColumn = cells.Max(i => i % grid.Columns);
        double centreY = cells.Average(i => grid.YMetres(i % grid.Columns));

        double diameter = Math.Sqrt(widest.SquaredHalfCells) * cell;
        var cause = cells.GroupBy(i => map.Causes[i]).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).First();
        HeightBand band = map.RowBands[cells[0] / grid.Columns];
        double rightY = grid.YMetres(rightColumn) - (cell / 2), leftY = grid.YMetres(leftColumn) + (cell / 2);
        return new BlindZone(
            string.Empty, map.Probe.Name, band, SideOf(centreY, rightY, leftY),
            grid.ZMetres(lowRow) - (cell / 2), grid.ZMetres(highRow) + (cell / 2), rightY, leftY,
            cells.Count * grid.CellAreaSquareMetres, diameter,
            widest.YMetres, widest.ZMetres,
            cause.Key, (double)cause.Count() / cells.Count,
            (double)cells.Count(i => map.HeldWarningSeconds[i] <= 0) / cells.Count,
            cells.Max(i => map.WarningSeconds[i]),
            WeightOf(band) * Math.PI * diameter * diameter / 4,
            [.. cells.Order()]);
    }

    // Centre: the zone's middle is within 60 mm of the middle line, or a quarter of its width reaches over it.
    private static HazardSide SideOf(double centreY, double rightY, double leftY)
    {
        double over = Math.Min(Math.Max(0, leftY), Math.Max(0, -rightY));
        return Math.Abs(centreY) < 0.06 || over > 0.25 * (leftY - rightY) ? HazardSide.Centre
            : centreY > 0 ? HazardSide.Left : HazardSide.Right;
    }

    // Ties go to the place nearest the middle line, so that a mirrored map names a mirrored zone, then to the highest.
    private readonly record struct Circle(int SquaredHalfCells, double YMetres, double ZMetres)
    {
        internal bool IsPreferredTo(Circle other) =>
            (SquaredHalfCells, -Math.Abs(Math.Round(YMetres, 9)), Math.Round(ZMetres, 9))
                .CompareTo((other.SquaredHalfCells, -Math.Abs(Math.Round(other.YMetres, 9)), Math.Round(other.ZMetres, 9))) > 0;
    }
}
