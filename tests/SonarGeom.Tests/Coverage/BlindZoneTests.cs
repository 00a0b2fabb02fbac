using System.Collections.Immutable;
using CsCheck;
using SonarGeom.Coverage;
using SonarGeom.Echoes;

namespace SonarGeom.Tests.Coverage;

public class BlindZoneTests
{
    [Fact]
    public void A_rectangle_has_its_own_extents_area_and_circle()
    {
        ApproachMap map = CoverageBench.Drawn(
            0.05,
            [
                "..........",
                ".#####....",
                ".#####....",
                ".#####....",
                "..........",
            ]);
        BlindZone zone = Assert.Single(BlindZoneFinder.Find(map));
        Assert.Equal("head-right-1", zone.Name);
        Assert.Equal((HazardSide.Right, HeightBand.Head), (zone.Side, zone.Band));
        Assert.Equal(-0.20, zone.RightYMetres, 1e-12);
        Assert.Equal(0.05, zone.LeftYMetres, 1e-12);
        Assert.Equal(0.05, zone.LowZMetres, 1e-12);
        Assert.Equal(0.20, zone.HighZMetres, 1e-12);
        Assert.Equal(15 * 0.0025, zone.AreaSquareMetres, 1e-12);
        Assert.Equal(0.15, zone.InscribedDiameterMetres, 1e-12);
        Assert.Equal(0.125, zone.InscribedZMetres, 1e-12);
        Assert.Equal(4 * Math.PI * 0.15 * 0.15 / 4, zone.DangerSquareMetres, 1e-12);
        Assert.Equal((LimitingCause.OutOfBeam, 1.0, 1.0), (zone.Cause, zone.CauseFraction, zone.NeverHeardFraction));
        Assert.Equal(15, zone.Cells.Length);
    }

    // A circle in a square of even width sits on a corner of cells: not to be told one cell too small.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(7)]
    public void The_circle_in_a_square_is_as_wide_as_the_square(int cells)
    {
        string row = "." + new string('#', cells) + ".";
        string clear = new('.', cells + 2);
        BlindZone zone = Assert.Single(BlindZoneFinder.Find(CoverageBench.Drawn(0.04, [clear, .. Enumerable.Repeat(row, cells), clear])));
        Assert.Equal(0.04 * cells, zone.InscribedDiameterMetres, 1e-12);
        Assert.Equal(0, zone.InscribedYMetres, 1e-12);
        Assert.Equal(0.04 * ((cells / 2.0) + 1), zone.InscribedZMetres, 1e-12);
    }

    [Fact]
    public void A_zone_ends_where_its_band_ends_and_at_cells_that_only_touch_by_a_corner()
    {
        ApproachMap map = CoverageBench.Drawn(
            0.05,
            [
                "###...",
                "###...",
                "###...",
                "...###",
            ],
            row => row < 2 ? HeightBand.Chest : HeightBand.Head);
        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map);
        Assert.Equal(3, zones.Length);
        Assert.Equal(["head-right-1", "chest-right-1", "chest-left-1"], zones.Select(z => z.Name));
        Assert.Equal([0.10, 0.05, 0.05], zones.Select(z => Math.Round(z.InscribedDiameterMetres, 9)));
    }

    [Fact]
    public void Zones_are_ranked_by_band_and_circle_and_their_names_differ()
    {
        ApproachMap map = CoverageBench.Drawn(
            0.05,
            [
                "#.##..##.#",
                "..##..##..",
                "..........",
                "####..####",
                "####..####",
                "####..####",
                "####..####",
            ],
            row => row < 4 ? HeightBand.Foot : HeightBand.Head);
        ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map);

        // Weights: head 4 × (2 cells)², foot 0.5 × (4 cells)², head 4 × (1 cell)².
        Assert.Equal(
            ["head-right-1", "head-left-1", "foot-right-1", "foot-left-1", "head-right-2", "head-left-2"], zones.Select(z => z.Name));
        Assert.Equal(zones.Select(z => z.DangerSquareMetres).OrderDescending(), zones.Select(z => z.DangerSquareMetres));
    }

    [Fact]
    public void A_zone_across_the_middle_line_is_central_and_late_cells_are_told_from_silent_ones()
    {
        ApproachMap map = CoverageBench.Drawn(
            0.05,
            [
                "........",
                "..#~~~..",
                "........",
            ]);
        BlindZone zone = Assert.Single(BlindZoneFinder.Find(map));
        Assert.Equal(("head-centre-1", HazardSide.Centre), (zone.Name, zone.Side));
        Assert.Equal((LimitingCause.TooLate, 0.75, 0.25, 1.0), (zone.Cause, zone.CauseFraction, zone.NeverHeardFraction, zone.LongestWarningSeconds));
    }

    [Fact]
    public void What_lies_outside_the_silhouette_and_specks_do_not_count()
    {
        Assert.Empty(BlindZoneFinder.Find(CoverageBench.Drawn(0.05, ["   ", " . ", "   "])));
        ApproachMap speck = CoverageBench.Drawn(0.02, ["....", ".##.", "...."]);
        Assert.Empty(BlindZoneFinder.Find(speck));
        Assert.Single(BlindZoneFinder.Find(speck, 0.0005));
    }

    [Fact]
    public void The_circle_is_the_widest_of_all_that_are_centred_on_half_cells()
    {
        Gen.Int[0, 1_000_000].Sample(
            seed =>
            {
                ApproachMap map = Random(seed, columns: 14, rows: 11);
                foreach (BlindZone zone in BlindZoneFinder.Find(map, 0))
                {
                    Assert.Equal(WidestByTrial(map.Grid, [.. zone.Cells]), zone.InscribedDiameterMetres, 1e-9);
                }
            },
            iter: 60);
    }

    [Fact]
    public void Every_blind_cell_of_the_silhouette_lies_in_exactly_one_zone()
    {
        Gen.Int[0, 1_000_000].Sample(
            seed =>
            {
                ApproachMap map = Random(seed, columns: 20, rows: 16);
                ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(map, 0);
                int[] blind = [.. Enumerable.Range(0, map.Grid.Count).Where(i => map.InSilhouette[i] && !map.IsWarnedInTime(i))];
                Assert.Equal(blind, zones.SelectMany(z => z.Cells).Order());
                Assert.Equal(zones.Length, zones.Select(z => z.Name).Distinct().Count());
            },
            iter: 100);
    }

    [Fact]
    public void A_mirrored_map_has_mirrored_zones()
    {
        Gen.Int[0, 1_000_000].Sample(
            seed =>
            {
                string[] lines = Lines(new Random(seed), columns: 12, rows: 10);
                ImmutableArray<BlindZone> zones = BlindZoneFinder.Find(CoverageBench.Drawn(0.05, lines, Bands), 0);
                ImmutableArray<BlindZone> mirrored = BlindZoneFinder.Find(
                    CoverageBench.Drawn(0.05, [.. lines.Select(l => new string([.. l.Reverse()]))], Bands), 0);
                Assert.Equal(
                    zones.Select(z => Key(z, 1)).Order(StringComparer.Ordinal), mirrored.Select(z => Key(z, -1)).Order(StringComparer.Ordinal));
            },
            iter: 100);

        // Where two circles are equally large, either may be told: its place is left out.
        static string Key(BlindZone z, int side)
        {
            HazardSide named = side > 0 ? z.Side : z.Side switch { HazardSide.Left => HazardSide.Right, HazardSide.Right => HazardSide.Left, _ => HazardSide.Centre };
            double right = side > 0 ? z.RightYMetres : -z.LeftYMetres, left = side > 0 ? z.LeftYMetres : -z.RightYMetres;
            return FormattableString.Invariant(
                $"{z.Band} {named} {right + 0.0:0.000} {left + 0.0:0.000} {z.LowZMetres:0.000} {z.HighZMetres:0.000} {z.AreaSquareMetres:0.00000} {z.InscribedDiameterMetres:0.00000} {z.Cause} {z.DangerSquareMetres:0.000000}");
        }
    }

    private static HeightBand Bands(int row) => row < 5 ? HeightBand.Chest : HeightBand.Head;

    private static ApproachMap Random(int seed, int columns, int rows) =>
        CoverageBench.Drawn(0.05, Lines(new Random(seed), columns, rows), Bands);

    // Blots rather than salt and pepper, so that there are wide zones too.
    private static string[] Lines(Random random, int columns, int rows)
    {
        var lines = Enumerable.Range(0, rows).Select(_ => Enumerable.Repeat('.', columns).ToArray()).ToArray();
        for (int blot = random.Next(1, 12); blot > 0; blot--)
        {
            int x = random.Next(columns), y = random.Next(rows), size = random.Next(1, 6);
            char mark = "#~ "[random.Next(3)];
            for (int r = y; r < Math.Min(rows, y + size); r++)
            {
                Array.Fill(lines[r], mark, x, Math.Min(size + random.Next(2), columns - x));
            }
        }

        return [.. lines.Select(l => new string(l))];
    }

    // Every half cell as a centre, every cell outside the zone (and the world around the grid) as a square in the way.
    private static double WidestByTrial(CoverageGrid grid, HashSet<int> zone)
    {
        double cell = grid.CellMetres, widest = 0;
        for (int a = 0; a <= 2 * grid.Columns; a++)
        {
            for (int b = 0; b <= 2 * grid.Rows; b++)
            {
                double x = a / 2.0, z = b / 2.0, nearest = double.PositiveInfinity;
                for (int column = -1; column <= grid.Columns; column++)
                {
                    for (int row = -1; row <= grid.Rows; row++)
                    {
                        bool inside = column >= 0 && row >= 0 && column < grid.Columns && row < grid.Rows && zone.Contains(grid.Index(column, row));
                        if (!inside)
                        {
                            double dx = Math.Max(0, Math.Max(column - x, x - column - 1)), dz = Math.Max(0, Math.Max(row - z, z - row - 1));
                            nearest = Math.Min(nearest, Math.Sqrt((dx * dx) + (dz * dz)));
                        }
                    }
                }

                widest = Math.Max(widest, 2 * nearest * cell);
            }
        }

        return widest;
    }
}
