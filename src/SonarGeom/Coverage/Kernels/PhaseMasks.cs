using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Where one mounting detects the probe, and at which stride phases: one bit for each cell and phase of a lattice. Blocks of
/// 512 cells in which it never does are left out. Immutable.
/// </summary>
public sealed class PhaseMasks
{
    /// <summary>Tiles in a block: as many as there are 64-bit sets in the widest vector.</summary>
    internal const int BlockTiles = 8;

    /// <summary>Phases are padded with empty ones to a multiple of this.</summary>
    internal const int PhaseStep = 4;

    private PhaseMasks(int phases, int[] places, ulong[] bits, long evaluations)
    {
        Phases = phases;
        Places = places;
        Bits = bits;
        Evaluations = evaluations;
    }

    /// <summary>Gets the number of stride phases.</summary>
    public int Phases { get; }

    /// <summary>Gets the number of evaluations of a cell at a phase that were made; whole tiles that are surely detected or surely
    /// not need none.</summary>
    public long Evaluations { get; }

    /// <summary>For each block, where its bits start, or −1 when there are none.</summary>
    internal int[] Places { get; }

    /// <summary>For each block that is there and each phase, the bit sets of its eight tiles.</summary>
    internal ulong[] Bits { get; }

    /// <summary>Finds the masks of one mounting.</summary>
    /// <param name="lattice">The cells.</param>
    /// <param name="track">The mounted sensor through the stride.</param>
    public static PhaseMasks Of(FieldLattice lattice, FieldTrack track)
    {
        ArgumentNullException.ThrowIfNull(lattice);
        ArgumentNullException.ThrowIfNull(track);
        return Of(lattice, track, lattice.CellsInside(), new Memory(), cull: true, width: 0);
    }

    /// <summary>Returns in how many phases each cell is detected.</summary>
    /// <param name="lattice">The lattice of the masks.</param>
    public byte[] DetectedPhases(FieldLattice lattice)
    {
        ArgumentNullException.ThrowIfNull(lattice);
        var detected = new byte[lattice.Cells];
        var masks = new ulong[Phases];
        Span<byte> counts = stackalloc byte[FieldLattice.TileCells];
        for (int tile = 0; tile < lattice.Tiles; tile++)
        {
            int place = Places[tile / BlockTiles];
            for (int p = 0; p < Phases; p++)
            {
                masks[p] = place < 0 ? 0 : Bits[place + (p * BlockTiles) + (tile % BlockTiles)];
            }

            BitCounts.Count(masks, counts);
            lattice.Scatter<byte>(tile, counts, detected);
        }

        return detected;
    }

    /// <summary>Finds the masks of the cells that count, with a choice of culling and of the width of vectors.</summary>
    internal static PhaseMasks Of(FieldLattice lattice, FieldTrack track, ulong[] counted, Memory memory, bool cull, int width) => CoverageField.WidthOr(width) switch
    {
        16 => Of<Wide16, Vector512<float>>(lattice, track, counted, memory, cull),
        8 => Of<Wide8, Vector256<float>>(lattice, track, counted, memory, cull),
        _ => Of<Wide1, float>(lattice, track, counted, memory, cull),
    };

    /// <summary>The phases in a block, padded.</summary>
    internal static int Padded(int phases) => (phases + PhaseStep - 1) / PhaseStep * PhaseStep;

    private static PhaseMasks Of<T, V>(FieldLattice lattice, FieldTrack track, ulong[] counted, Memory memory, bool cull)
        where T : IWide<V>
        where V : struct
    {
        int phases = track.Phases.Length;
        var prepared = new TileTrack(track, lattice);
        TileState state = memory.StateFor(prepared);
        int blockLength = Padded(phases) * BlockTiles;
        var places = new int[(lattice.Tiles + BlockTiles - 1) / BlockTiles];
        int used = 0;
        for (int block = 0; block < places.Length; block++)
        {
            Span<ulong> target = memory.Room(used, blockLength);
            target.Clear();
            ulong any = 0;
            int end = Math.Min((block + 1) * BlockTiles, lattice.Tiles);
            for (int tile = block * BlockTiles; tile < end; tile++)
            {
                ulong inside = counted[tile];
                if (inside == 0 || !Find<T, V>(lattice, prepared, tile, state, cull))
                {
                    continue;
                }

                for (int p = 0; p < phases; p++)
                {
                    ulong mask = state.Masks[p] & inside;
                    target[(p * BlockTiles) + (tile % BlockTiles)] = mask;
                    any |= mask;
                }
            }

            places[block] = any == 0 ? -1 : used;
            used += any == 0 ? 0 : blockLength;
        }

        return new PhaseMasks(phases, places, memory.Room(0, used).ToArray(), state.Evaluations);
    }

    /// <summary>Finds the masks of a tile; returns whether any cell is in them.</summary>
    private static bool Find<T, V>(FieldLattice lattice, TileTrack track, int tile, TileState state, bool cull)
        where T : IWide<V>
        where V : struct
    {
        Vec3 centre = lattice.TileCentreMetres(tile);
        ref float upper = ref MemoryMarshal.GetArrayDataReference(state.Upper[0]);
        ref float lower = ref MemoryMarshal.GetArrayDataReference(state.Lower[0]);
        TileBounds.Evaluate<T, V>(track, lattice, centre, state.Constants[0], state.Upper[0], state.Lower[0]);
        V one = T.Broadcast(1f);
        int count = 0;
        int sure = 0;
        for (int i = 0; i < track.Stride; i += T.Count)
        {
            ulong may = T.AtLeast(T.Load(ref upper, i), one);
            ulong must = T.AtLeast(T.Load(ref lower, i), one);
            for (int p = i; p < Math.Min(i + T.Count, track.Phases); p++)
            {
                bool isSure = cull && ((must >> (p - i)) & 1) != 0;
                bool isOpen = !cull || (!isSure && ((may >> (p - i)) & 1) != 0);
                state.Masks[p] = isSure ? ulong.MaxValue : 0;
                state.Chosen[count] = p;
                count += isOpen ? 1 : 0;
                sure += isSure ? 1 : 0;
            }
        }

        if (count > 0)
        {
            TileFigures.Prepare<T, V>(track, lattice, centre, state.Constants[0]);
            TileKernel.Evaluate<T, V>(track, lattice, state.Constants[0], state.Chosen.AsSpan(0, count), state);
            state.Evaluations += (long)count * FieldLattice.TileCells;
        }

        return count + sure > 0;
    }

    /// <summary>The memory of one thread, used again from mounting to mounting.</summary>
    internal sealed class Memory
    {
        private TileState? _state;
        private int _stride;
        private ulong[] _bits = new ulong[4096];

        internal TileState StateFor(TileTrack track)
        {
            if (_state is null || _stride != track.Stride || _state.Masks.Length != track.Phases)
            {
                _state = new TileState([track], track.Phases);
                _stride = track.Stride;
            }

            _state.Evaluations = 0;
            return _state;
        }

        internal Span<ulong> Room(int start, int length)
        {
            if (start + length > _bits.Length)
            {
                Array.Resize(ref _bits, Math.Max(start + length, 2 * _bits.Length));
            }

            return _bits.AsSpan(start, length);
        }
    }
}
