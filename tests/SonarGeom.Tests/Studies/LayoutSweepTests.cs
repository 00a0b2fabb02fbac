using System.Collections.Immutable;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage.Kernels;

namespace SonarGeom.Tests.Studies;

public class LayoutSweepTests
{
    private static readonly FieldLattice Lattice = new(new Vec3(0.2, -1.4, 0.1), new Vec3(0.1, 0.14, 0.12), 33, 21, 15);

    [Theory]
    [InlineData(16, 12)]
    [InlineData(16, 1)]
    [InlineData(16, 16)]
    [InlineData(7, 6)]
    [InlineData(31, 17)]
    public void Scores_are_those_of_the_layouts_computed_one_by_one(int phases, int required)
    {
        ImmutableArray<FieldTrack> mountings = FieldScenes.Tracks(21, FieldScenes.Pistons(), 9, phases);
        var sweep = new LayoutSweep(Lattice, mountings, required);
        ImmutableArray<ImmutableArray<int>> layouts = [[0, 1, 2, 3], [8, 5], [7], [2, 4, 6, 8, 0], [3, 3]];
        ImmutableArray<int> scores = sweep.CoveredCells(layouts);
        for (int i = 0; i < layouts.Length; i++)
        {
            var field = new CoverageField(Lattice, [.. layouts[i].Select(mounting => mountings[mounting])]);
            var detected = new byte[Lattice.Cells];
            field.Evaluate(detected, new float[Lattice.Cells], 1);
            Assert.Equal(detected.Count(count => count >= required), scores[i]);
            Assert.Equal(scores[i], sweep.CoveredCells(layouts[i].AsSpan()));
        }

        Assert.Contains(scores, score => score > 0);
    }

    [Fact]
    public void The_masks_of_a_mounting_are_its_coverage_with_and_without_bounds()
    {
        for (int seed = 0; seed < 4; seed++)
        {
            FieldTrack track = FieldScenes.Track(new Random(seed), seed % 2 == 0 ? FieldScenes.Pistons() : FieldScenes.Pistons(FieldScenes.Falling), 16);
            PhaseMasks masks = PhaseMasks.Of(Lattice, track);
            PhaseMasks all = PhaseMasks.Of(Lattice, track, Lattice.CellsInside(), new PhaseMasks.Memory(), cull: false, width: 0);
            Assert.Equal(all.Places, masks.Places);
            Assert.Equal(all.Bits, masks.Bits);
            Assert.True(masks.Evaluations < 0.7 * all.Evaluations, $"seed {seed}: {masks.Evaluations} of {all.Evaluations}");
            var detected = new byte[Lattice.Cells];
            new CoverageField(Lattice, [track]).Evaluate(detected, new float[Lattice.Cells], 1);
            Assert.Equal(detected, masks.DetectedPhases(Lattice));
        }
    }

    [Fact]
    public void One_more_mounting_and_one_step_of_a_search_agree_with_the_layouts()
    {
        ImmutableArray<FieldTrack> mountings = FieldScenes.Tracks(4, FieldScenes.Pistons(), 6, 16);
        var whole = new LayoutSweep(Lattice, mountings, 14, threads: 1);
        LayoutSweep grown = new LayoutSweep(Lattice, mountings[..5], 14, threads: 3).With(mountings[5]);
        Assert.Equal(whole.CoveredCells([1, 5]), grown.CoveredCells([1, 5]));
        ImmutableArray<int> step = whole.CoveredCellsWithOneMore([1], threads: 2);
        for (int i = 0; i < step.Length; i++)
        {
            Assert.Equal(whole.CoveredCells([1, i]), step[i]);
            Assert.True(step[i] >= whole.CoveredCells([1]));
        }

        Assert.Equal(0, whole.CoveredCells([]));
    }

    [Fact]
    public void Only_the_cells_that_count_are_counted()
    {
        ImmutableArray<FieldTrack> mountings = FieldScenes.Tracks(21, FieldScenes.Pistons(), 2, 16);
        ImmutableArray<bool> counted = [.. Enumerable.Range(0, Lattice.Cells).Select(cell => cell % 3 != 1)];
        var detected = new byte[Lattice.Cells];
        new CoverageField(Lattice, mountings).Evaluate(detected, new float[Lattice.Cells], 1);
        var sweep = new LayoutSweep(Lattice, mountings, 12, threads: 1, counted);
        Assert.Equal(counted.Count(value => value), sweep.CountedCells);
        Assert.Equal(Enumerable.Range(0, Lattice.Cells).Count(cell => counted[cell] && detected[cell] >= 12), sweep.CoveredCells([0, 1]));
        Assert.Throws<ArgumentException>(() => new LayoutSweep(Lattice, mountings, 12, threads: 1, [true]));
    }

    [Fact]
    public void Wrong_numbers_are_refused()
    {
        ImmutableArray<FieldTrack> mountings = FieldScenes.Tracks(4, FieldScenes.Pistons(), 2, 4);
        Assert.Throws<ArgumentOutOfRangeException>(() => new LayoutSweep(Lattice, mountings, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new LayoutSweep(Lattice, mountings, 5));
        Assert.Throws<ArgumentException>(() => new LayoutSweep(Lattice, [], 1));
        Assert.Throws<ArgumentException>(() => new LayoutSweep(Lattice, FieldScenes.Tracks(4, FieldScenes.Pistons(), 1, 32), 1));
        var sweep = new LayoutSweep(Lattice, mountings, 2);
        Assert.Throws<ArgumentOutOfRangeException>(() => sweep.CoveredCells([2]));
        Assert.Throws<ArgumentOutOfRangeException>(() => sweep.CoveredCells([[0], [-1]]));
    }
}
