using System.Collections.Immutable;
using System.Runtime.Intrinsics;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Coverage.Kernels;

public class CoverageFieldTests
{
    private static readonly FieldLattice Street = new(new Vec3(0.1, -1.9, 0.05), new Vec3(0.11, 0.1, 0.09), 41, 39, 23);

    public static TheoryData<string> Echoes => ["constant threshold", "falling threshold", "tables", "much absorption", "very narrow"];

    /// <summary>Every cell against double precision: two sensors at six phases, 37,000 cells.</summary>
    [Theory]
    [MemberData(nameof(Echoes))]
    public void Coverage_matches_double_precision(string kind)
    {
        FieldEcho echo = Echo(kind);
        ImmutableArray<FieldTrack> tracks = FieldScenes.Tracks(11, echo, 2, 6);
        (byte[] counts, float[] margins, _) = Run(Street, tracks);
        double beamError = echo.Transmit.MaximumAmplitudeError + echo.Receive.MaximumAmplitudeError + 1e-5;
        int different = 0;
        for (int cell = 0; cell < Street.Cells; cell++)
        {
            Vec3 at = Street.CellCentreMetres(cell);
            int detected = 0;
            double best = CoverageField.SilentDecibels;
            double near = double.PositiveInfinity;
            for (int p = 0; p < 6; p++)
            {
                double most = tracks.Max(track => LevelField.MarginDecibels(echo, track.Phases[p], at));
                detected += most >= 0 ? 1 : 0;
                best = Math.Max(best, most);
                near = Math.Min(near, tracks.Min(track => track.Phases[p].TransmitterMetres.DistanceTo(at)));
            }

            // The threshold itself decides a cell that is within the error of it.
            different += counts[cell] != detected ? 1 : 0;
            if (best > -40)
            {
                // The beams' error stands against the amplitude of the margin; a cell at a face moves by 10⁻⁶ m of rounding.
                double amplitude = Math.Pow(10, (best - Strongest(echo)) / 40);
                double allowed = 0.001 + (40e-6 / near) + (8.7 * beamError / amplitude);
                Assert.True(Math.Abs(margins[cell] - best) <= allowed, $"{kind}, cell {cell} at {at}: {margins[cell]} against {best}, allowed {allowed}");
            }
        }

        Assert.InRange(different, 0, Street.Cells / 2000);
        Assert.InRange(counts.Count(count => count > 0), 100, Street.Cells);
    }

    /// <summary>Bounds leave out most evaluations, and not one byte of the result changes; nor on many threads.</summary>
    [Theory]
    [MemberData(nameof(Echoes))]
    public void Leaving_out_what_cannot_matter_changes_nothing(string kind)
    {
        for (int seed = 0; seed < 4; seed++)
        {
            ImmutableArray<FieldTrack> tracks = FieldScenes.Tracks(seed, Echo(kind), 1 + (seed % 4), seed == 0 ? 16 : 5 * seed);
            FieldLattice lattice = Lattice(seed);
            foreach (int width in new[] { 16, 8, 1 })
            {
                (byte[] counts, float[] margins, long culled) = Run(lattice, tracks, cull: true, width: width);
                (byte[] allCounts, float[] allMargins, long all) = Run(lattice, tracks, cull: false, width: width);
                Assert.True(culled <= all, $"seed {seed}: {culled} evaluations of {all}");
                Assert.Equal(allCounts, counts);
                Assert.Equal(allMargins, margins);
                (byte[] threadCounts, float[] threadMargins, long onThreads) = Run(lattice, tracks, cull: true, width: width, threads: 3);
                Assert.Equal(culled, onThreads);
                Assert.Equal(counts, threadCounts);
                Assert.Equal(margins, threadMargins);
            }
        }
    }

    [Fact]
    public void Four_sensors_at_sixteen_phases_need_less_than_half_of_the_evaluations()
    {
        ImmutableArray<FieldTrack> tracks = FieldScenes.Tracks(3, FieldScenes.Pistons(), 4, 16);
        (_, _, long culled) = Run(Street, tracks);
        Assert.InRange(culled, 1, Run(Street, tracks, cull: false).Evaluations / 2);
    }

    /// <summary>Upper and lower bounds hold for every cell as computed: a million evaluations over the five echoes.</summary>
    [Theory]
    [MemberData(nameof(Echoes))]
    public void No_cell_is_outside_the_bounds_of_its_tile(string kind)
    {
        FieldEcho echo = Echo(kind);
        FieldLattice lattice = Street;
        var state = new TileState([new TileTrack(FieldScenes.Track(new Random(0), echo, 16), lattice)], 16);
        long cells = 0;
        for (int seed = 0; cells < 200_000; seed++)
        {
            var track = new TileTrack(FieldScenes.Track(new Random(seed), echo, 16), lattice);
            for (int tile = seed % 17; tile < lattice.Tiles; tile += 17)
            {
                TileBounds.Evaluate<Wide8, Vector256<float>>(
                    track, lattice, lattice.TileCentreMetres(tile), state.Constants[0], state.Upper[0], state.Lower[0]);
                TileFigures.Prepare<Wide8, Vector256<float>>(track, lattice, lattice.TileCentreMetres(tile), state.Constants[0]);
                for (int phase = 0; phase < 16; phase++)
                {
                    state.Clear();
                    TileKernel.Evaluate<Wide8, Vector256<float>>(track, lattice, state.Constants[0], [phase], state);
                    float most = state.Best.Max();
                    float least = state.Best.Min();
                    Assert.True(
                        state.Upper[0][phase] >= most && state.Lower[0][phase] <= least,
                        $"{kind}, seed {seed}, tile {tile}, phase {phase}: {least} to {most}, bounds {state.Lower[0][phase]} to {state.Upper[0][phase]}");
                    cells += FieldLattice.TileCells;
                }
            }
        }
    }

    [Fact]
    public void The_mirror_image_has_the_mirrored_coverage()
    {
        var lattice = new FieldLattice(new Vec3(0.2, -1.5, 0.1), new Vec3(0.1, 0.1, 0.1), 30, 31, 18);
        ImmutableArray<FieldTrack> tracks = FieldScenes.Tracks(5, FieldScenes.Pistons(), 3, 16);
        (byte[] counts, float[] margins, _) = Run(lattice, tracks);
        (byte[] mirroredCounts, float[] mirroredMargins, _) = Run(lattice, FieldScenes.Mirrored(tracks));
        int different = 0;
        for (int cell = 0; cell < lattice.Cells; cell++)
        {
            int i = cell % 30;
            int j = cell / 30 % 31;
            int k = cell / (30 * 31);
            int other = (((k * 31) + (30 - j)) * 30) + i;

            // A tile starts at the other side of the mirror image: its sums round differently.
            Assert.True(Math.Abs(margins[cell] - mirroredMargins[other]) < 1e-3, $"cell {cell}: {margins[cell]} and {mirroredMargins[other]}");
            different += counts[cell] != mirroredCounts[other] ? 1 : 0;
        }

        Assert.InRange(different, 0, 5);
    }

    [Fact]
    public void A_slice_is_a_layer_of_the_lattice()
    {
        ImmutableArray<FieldTrack> tracks = FieldScenes.Tracks(2, FieldScenes.Pistons(), 2, 16);
        (byte[] counts, float[] margins, _) = Run(Street, tracks);
        int layer = 12;
        var slice = new FieldLattice(Street.CellCentreMetres(layer * 41 * 39), Street.StepMetres, 41, 39, 1);
        (byte[] sliceCounts, float[] sliceMargins, _) = Run(slice, tracks);
        int different = 0;
        for (int i = 0; i < slice.Cells; i++)
        {
            Assert.True(Math.Abs(sliceMargins[i] - margins[(layer * 41 * 39) + i]) < 2e-3 || sliceMargins[i] < -60, $"cell {i}");
            different += sliceCounts[i] != counts[(layer * 41 * 39) + i] ? 1 : 0;
        }

        Assert.InRange(different, 0, 5);
    }

    [Fact]
    public void Tracks_of_different_phases_and_short_results_are_refused()
    {
        FieldEcho echo = FieldScenes.Pistons();
        ImmutableArray<FieldTrack> uneven = [.. FieldScenes.Tracks(1, echo, 1, 16), .. FieldScenes.Tracks(1, echo, 1, 8)];
        Assert.Throws<ArgumentException>(() => new CoverageField(Street, uneven));
        Assert.Throws<ArgumentException>(() => new CoverageField(Street, []));
        var field = new CoverageField(Street, FieldScenes.Tracks(1, echo, 1, 4));
        Assert.Throws<ArgumentException>(() => field.Evaluate(new byte[3], new float[Street.Cells]));
    }

    private static double Strongest(FieldEcho echo) => echo.LevelAtOneMetreDecibels - echo.Threshold.Points.Min(point => point.LevelDecibels) + 20;

    private static FieldEcho Echo(string kind)
    {
        FieldBeam[] beams = [.. FieldScenes.Beams()];
        return kind switch
        {
            "falling threshold" => FieldScenes.Pistons(FieldScenes.Falling),
            "tables" => new FieldEcho(beams[^1], beams[^2], 95, 1.3, FieldThreshold.Constant(65)),
            "much absorption" => new FieldEcho(beams[1], beams[3], 110, 9, FieldThreshold.Constant(60)),
            "very narrow" => new FieldEcho(beams[2], beams[2], 105, 1.3, FieldThreshold.Constant(60)),
            _ => FieldScenes.Pistons(),
        };
    }

    private static FieldLattice Lattice(int seed) => (seed % 4) switch
    {
        0 => new FieldLattice(new Vec3(0.1, -1.9, 0.05), new Vec3(0.21, 0.15, 0.19), 20, 25, 11),
        1 => new FieldLattice(new Vec3(-0.3, -0.5, 0.6), new Vec3(0.02, 0.02, 0.02), 31, 30, 17),
        2 => new FieldLattice(new Vec3(0.3, -2, 1.1), new Vec3(0.05, 0.05, 0.05), 60, 80, 1),
        _ => new FieldLattice(new Vec3(0.3, 0.1, 0.1), new Vec3(0.05, 0.05, 0.05), 61, 1, 37),
    };

    private static (byte[] Counts, float[] Margins, long Evaluations) Run(
        FieldLattice lattice, ImmutableArray<FieldTrack> tracks, bool cull = true, int width = 0, int threads = 1)
    {
        var field = new CoverageField(lattice, tracks, cull, width);
        var counts = new byte[lattice.Cells];
        var margins = new float[lattice.Cells];
        long evaluations = field.Evaluate(counts, margins, threads);
        return (counts, margins, evaluations);
    }
}
