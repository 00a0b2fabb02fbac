using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;
using SonarGeom.Coverage.Kernels;

namespace SonarGeom.Studies;

/// <summary>
/// Scores many layouts made of the same candidate mountings: how many cells of a lattice at least one sensor of a layout detects
/// in a required number of stride phases.
/// </summary>
/// <remarks>
/// What a mounting detects does not depend on the others: it is found once, as one bit for each cell and phase, and a layout is
/// the union of its mountings' bits. A thousand layouts cost little more than one. Sensors are taken to work one at a time; a
/// phase counts when any of them detects.
/// </remarks>
public sealed class LayoutSweep
{
    private const int LargestPhases = 31;

    private readonly PhaseMasks[] _masks;
    private readonly FieldLattice _lattice;
    private readonly ulong[] _counted;
    private readonly int _phases;

    /// <summary>Finds what each candidate mounting detects.</summary>
    /// <param name="lattice">The cells.</param>
    /// <param name="mountings">The candidate mountings, all with the same number of stride phases, at most 31.</param>
    /// <param name="requiredPhases">The number of phases in which a cell must be detected, from 1 to the number of phases.</param>
    /// <param name="threads">Number of threads, 0 for one on each processor; results do not depend on it.</param>
    /// <param name="counted">For each cell whether it counts; default for all.</param>
    /// <exception cref="ArgumentException">There is no mounting, the numbers of phases differ or are above 31, or
    /// <paramref name="counted"/> is not as long as there are cells.</exception>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="requiredPhases"/> is outside its range.</exception>
    public LayoutSweep(
        FieldLattice lattice, ImmutableArray<FieldTrack> mountings, int requiredPhases, int threads = 0, ImmutableArray<bool> counted = default)
    {
        ArgumentNullException.ThrowIfNull(lattice);
        if (mountings.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A sweep needs at least one mounting.", nameof(mountings));
        }

        _phases = mountings[0].Phases.Length;
        if (_phases > LargestPhases || mountings.Any(mounting => mounting.Phases.Length != _phases))
        {
            throw new ArgumentException($"All mountings must have the same number of phases, at most {LargestPhases}.", nameof(mountings));
        }

        if (requiredPhases < 1 || requiredPhases > _phases)
        {
            throw new ArgumentOutOfRangeException(nameof(requiredPhases), $"requiredPhases is {requiredPhases}; it must be from 1 to {_phases}.");
        }

        if (!counted.IsDefault && counted.Length != lattice.Cells)
        {
            throw new ArgumentException($"counted is {counted.Length} long; the lattice has {lattice.Cells} cells.", nameof(counted));
        }

        _lattice = lattice;
        _counted = counted.IsDefault ? lattice.CellsInside() : lattice.CellsWhere(counted.AsSpan());
        RequiredPhases = requiredPhases;
        _masks = new PhaseMasks[mountings.Length];
        Each(
            mountings.Length,
            4,
            threads,
            () => new PhaseMasks.Memory(),
            (i, memory) => _masks[i] = PhaseMasks.Of(lattice, mountings[i], _counted, memory, cull: true, width: 0));
    }

    private LayoutSweep(FieldLattice lattice, ulong[] counted, PhaseMasks[] masks, int phases, int requiredPhases)
    {
        _lattice = lattice;
        _counted = counted;
        _masks = masks;
        _phases = phases;
        RequiredPhases = requiredPhases;
    }

    /// <summary>Gets the number of candidate mountings.</summary>
    public int Mountings => _masks.Length;

    /// <summary>Gets the number of phases in which a cell must be detected.</summary>
    public int RequiredPhases { get; }

    /// <summary>Gets the number of cells that count.</summary>
    public int CountedCells => _counted.Sum(BitOperations.PopCount);

    /// <summary>Gets what each mounting detects.</summary>
    public IReadOnlyList<PhaseMasks> Masks => _masks;

    /// <summary>Returns the sweep with one more candidate mounting at the end; what the others detect is kept.</summary>
    /// <param name="mounting">The mounting, with as many stride phases as the others.</param>
    /// <exception cref="ArgumentException">The number of phases differs.</exception>
    public LayoutSweep With(FieldTrack mounting)
    {
        ArgumentNullException.ThrowIfNull(mounting);
        return mounting.Phases.Length == _phases
            ? new LayoutSweep(
                _lattice, _counted, [.. _masks, PhaseMasks.Of(_lattice, mounting, _counted, new PhaseMasks.Memory(), cull: true, width: 0)], _phases, RequiredPhases)
            : throw new ArgumentException($"The mounting has {mounting.Phases.Length} phases; it must have {_phases}.", nameof(mounting));
    }

    /// <summary>Returns the number of cells that a layout detects in the required number of phases.</summary>
    /// <param name="layout">The numbers of its mountings; may be empty.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is not that of a mounting.</exception>
    public int CoveredCells(ReadOnlySpan<int> layout)
    {
        foreach (int mounting in layout)
        {
            if ((uint)mounting >= (uint)_masks.Length)
            {
                throw new ArgumentOutOfRangeException(nameof(layout), $"The layout names mounting {mounting}; there are {_masks.Length}.");
            }
        }

        Span<int> places = stackalloc int[Math.Min(layout.Length, 64)];
        places = layout.Length <= 64 ? places : new int[layout.Length];
        ulong[][] bits = new ulong[layout.Length][];
        int covered = 0;
        int blocks = _masks[0].Places.Length;
        for (int block = 0; block < blocks; block++)
        {
            int present = 0;
            foreach (int mounting in layout)
            {
                PhaseMasks masks = _masks[mounting];
                int place = masks.Places[block];
                places[present] = place;
                bits[present] = masks.Bits;
                present += place >= 0 ? 1 : 0;
            }

            covered += present > 0 ? CoveredInBlock(bits.AsSpan(0, present), places) : 0;
        }

        return covered;
    }

    /// <summary>Returns the number of cells that each of many layouts detects in the required number of phases.</summary>
    /// <param name="layouts">For each layout the numbers of its mountings.</param>
    /// <param name="threads">Number of threads, 0 for one on each processor; results do not depend on it.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is not that of a mounting.</exception>
    public ImmutableArray<int> CoveredCells(ImmutableArray<ImmutableArray<int>> layouts, int threads = 0)
    {
        var scores = new int[layouts.Length];
        foreach (ImmutableArray<int> layout in layouts)
        {
            if (layout.Any(mounting => (uint)mounting >= (uint)_masks.Length))
            {
                throw new ArgumentOutOfRangeException(nameof(layouts), $"A layout names a mounting that is not there; there are {_masks.Length}.");
            }
        }

        Each(layouts.Length, 8, threads, () => 0, (i, _) => scores[i] = CoveredCells(layouts[i].AsSpan()));
        return ImmutableCollectionsMarshal.AsImmutableArray(scores);
    }

    /// <summary>Returns the number of cells that a layout would detect with each mounting added to it: one step of a search.</summary>
    /// <param name="layout">The numbers of its mountings; may be empty.</param>
    /// <param name="threads">Number of threads, 0 for one on each processor; results do not depend on it.</param>
    public ImmutableArray<int> CoveredCellsWithOneMore(ImmutableArray<int> layout, int threads = 0) =>
        CoveredCells([.. Enumerable.Range(0, _masks.Length).Select(mounting => layout.Add(mounting))], threads);

    /// <summary>Counts the cells of eight tiles that are detected often enough.</summary>
    private int CoveredInBlock(ReadOnlySpan<ulong[]> bits, ReadOnlySpan<int> places)
    {
        // Binary counters standing on end, started so that the required number carries out of the fifth.
        int start = 32 - RequiredPhases;
        Vector512<ulong> c0 = Plane(start, 0);
        Vector512<ulong> c1 = Plane(start, 1);
        Vector512<ulong> c2 = Plane(start, 2);
        Vector512<ulong> c3 = Plane(start, 3);
        Vector512<ulong> c4 = Plane(start, 4);
        Vector512<ulong> reached = Vector512<ulong>.Zero;
        int rows = PhaseMasks.Padded(_phases) * PhaseMasks.BlockTiles;
        for (int row = 0; row < rows; row += PhaseMasks.PhaseStep * PhaseMasks.BlockTiles)
        {
            Vector512<ulong> x = Vector512<ulong>.Zero;
            Vector512<ulong> y = x;
            Vector512<ulong> z = x;
            Vector512<ulong> w = x;
            for (int i = 0; i < bits.Length; i++)
            {
                ref ulong at = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(bits[i]), places[i] + row);
                x |= Vector512.LoadUnsafe(ref at);
                y |= Vector512.LoadUnsafe(ref at, PhaseMasks.BlockTiles);
                z |= Vector512.LoadUnsafe(ref at, 2 * PhaseMasks.BlockTiles);
                w |= Vector512.LoadUnsafe(ref at, 3 * PhaseMasks.BlockTiles);
            }

            // Four phases at once: three full adders, then the carries.
            Vector512<ulong> twos = Majority(x, y, c0);
            c0 = x ^ y ^ c0;
            Vector512<ulong> moreTwos = Majority(z, w, c0);
            c0 = z ^ w ^ c0;
            Vector512<ulong> fours = Majority(twos, moreTwos, c1);
            c1 = twos ^ moreTwos ^ c1;
            Vector512<ulong> eights = c2 & fours;
            c2 ^= fours;
            Vector512<ulong> sixteens = c3 & eights;
            c3 ^= eights;
            reached |= c4 & sixteens;
            c4 ^= sixteens;
        }

        int covered = 0;
        for (int i = 0; i < Vector512<ulong>.Count; i++)
        {
            covered += BitOperations.PopCount(reached.GetElement(i));
        }

        return covered;
    }

    private static void Each<TMemory>(int count, int atATime, int threads, Func<TMemory> begin, Action<int, TMemory> work) => TileQueue.Run(
        count,
        atATime,
        threads,
        begin,
        (first, end, memory) =>
        {
            for (int i = first; i < end; i++)
            {
                work(i, memory);
            }
        },
        _ => { });

    private static Vector512<ulong> Plane(int number, int bit) =>
        (number & (1 << bit)) != 0 ? Vector512<ulong>.AllBitsSet : Vector512<ulong>.Zero;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<ulong> Majority(Vector512<ulong> a, Vector512<ulong> b, Vector512<ulong> c) =>
        Avx512F.IsSupported ? Avx512F.TernaryLogic(a, b, c, 0xE8) : (a & b) | (c & (a | b));
}
