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

        double[] clearance = ClearanceCells(map.Grid, labels);
        var zones = members
            .Where(m => m.Count * map.Grid.CellAreaSquareMetres >= leastAreaSquareMetres)
            .Select(m => Describe(map, m, clearance))
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

    // Distance, in cells, from the centre of each labelled cell to the nearest centre outside its zone, less half a cell:
    // the exact Euclidean distance transform by two passes (columns, then the lower envelope along rows).
    private static double[] ClearanceCells(CoverageGrid grid, int[] labels)
    {
        var vertical = new int[labels.Length];
        for (int column = 0; column < grid.Columns; column++)
        {
            for (int row = 0; row < grid.Rows; row++)
            {
                int i = grid.Index(column, row);
                int up = 1;
                while (row + up < grid.Rows && labels[i + (up * grid.Columns)] == labels[i])
                {
                    up++;
                }

                int down = 1;
                while (row - down >= 0 && labels[i - (down * grid.Columns)] == labels[i])
                {
                    down++;
                }

                vertical[i] = Math.Min(up, down);
            }
        }

        var clearance = new double[labels.Length];
        for (int i = 0; i < labels.Length; i++)
        {
            if (labels[i] < 0)
            {
                continue;
            }

            int column = i % grid.Columns;
            double best = (double)vertical[i] * vertical[i];
            for (int side = -1; side <= 1; side += 2)
            {
                for (int step = 1; step * step < best; step++)
                {
                    int j = column + (side * step);
                    bool outside = j < 0 || j >= grid.Columns || labels[i + (side * step)] != labels[i];
                    double v = outside ? 0 : vertical[i + (side * step)];
                    best = Math.Min(best, (step * step) + (v * v));
                    if (outside)
                    {
                        break;
                    }
                }
            }

            clearance[i] = Math.Sqrt(best) - 0.5;
        }

        return clearance;
    }

    private static BlindZone Describe(ApproachMap map, List<int> cells, double[] clearance)
    {
        CoverageGrid grid = map.Grid;
        double cell = grid.CellMetres;
        int lowRow = cells.Min(i => i / grid.Columns), highRow = cells.Max(i => i / grid.Columns);
        int rightColumn = cells.Min(i => i % grid.Columns), leftColumn = cells.Max(i => i % grid.Columns);
        double centreY = cells.Average(i => grid.YMetres(i % grid.Columns));

        // Ties go to the cell nearest the middle line, so that a mirrored map names a mirrored zone.
        int widest = cells
            .OrderByDescending(i => Math.Round(clearance[i], 9))
            .ThenBy(i => Math.Abs(Math.Round(grid.YMetres(i % grid.Columns), 9)))
            .ThenByDescending(i => i / grid.Columns)
            .First();
        double diameter = 2 * clearance[widest] * cell;
        var cause = cells.GroupBy(i => map.Causes[i]).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).First();
        HeightBand band = map.RowBands[cells[0] / grid.Columns];
        double rightY = grid.YMetres(rightColumn) - (cell / 2), leftY = grid.YMetres(leftColumn) + (cell / 2);
        return new BlindZone(
            string.Empty, map.Probe.Name, band, SideOf(centreY, rightY, leftY),
            grid.ZMetres(lowRow) - (cell / 2), grid.ZMetres(highRow) + (cell / 2), rightY, leftY,
            cells.Count * grid.CellAreaSquareMetres, diameter,
            grid.YMetres(widest % grid.Columns), grid.ZMetres(widest / grid.Columns),
            cause.Key, (double)cause.Count() / cells.Count,
            (double)cells.Count(i => map.WarningSeconds[i] <= 0) / cells.Count,
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
}
