using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Coverage of the cells of a lattice by a set of mounted sensors: in how many stride phases any of them detects a point-like
/// probe in a cell, and the best detection margin over all sensors and phases.
/// </summary>
/// <remarks>A sensor and phase that cannot change the result of a tile, by <see cref="TileBounds"/>, is left out over it. Results
/// are the same bytes with and without that, and on any number of threads.</remarks>
public sealed class CoverageField
{
    /// <summary>The margin of a cell from which no sensor gets any echo at any phase. [dB]</summary>
    public const float SilentDecibels = -300;

    private const float DecibelsPerOctave = 6.02059991f;
    private const int TilesAtATime = 16;

    private readonly TileTrack[] _tracks;
    private readonly bool _cull;
    private readonly int _width;

    /// <summary>Prepares the tracks for a lattice.</summary>
    /// <param name="lattice">The cells.</param>
    /// <param name="tracks">The mounted sensors, all with the same number of stride phases, at most 255.</param>
    /// <exception cref="ArgumentException">There is no track, or the numbers of phases differ or are above 255.</exception>
    public CoverageField(FieldLattice lattice, ImmutableArray<FieldTrack> tracks)
        : this(lattice, tracks, cull: true, width: 0)
    {
    }

    /// <summary>Prepares the tracks, with a choice of the width of vectors (0 for the widest) and of culling.</summary>
    internal CoverageField(FieldLattice lattice, ImmutableArray<FieldTrack> tracks, bool cull, int width)
    {
        ArgumentNullException.ThrowIfNull(lattice);
        if (tracks.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A coverage field needs at least one track.", nameof(tracks));
        }

        Phases = tracks[0].Phases.Length;
        if (Phases > byte.MaxValue || tracks.Any(track => track.Phases.Length != Phases))
        {
            throw new ArgumentException(
                $"All tracks must have the same number of phases, at most 255; they have {string.Join(", ", tracks.Select(track => track.Phases.Length))}.",
                nameof(tracks));
        }

        Lattice = lattice;
        _tracks = [.. tracks.Select(track => new TileTrack(track, lattice))];
        _cull = cull;
        _width = WidthOr(width);
    }

    /// <summary>Gets the cells.</summary>
    public FieldLattice Lattice { get; }

    /// <summary>Gets the number of stride phases.</summary>
    public int Phases { get; }

    /// <summary>Computes the coverage.</summary>
    /// <param name="detectedPhases">Receives for each cell the number of phases in which any sensor detects the probe.</param>
    /// <param name="bestMarginDecibels">Receives for each cell the largest level over the threshold of any sensor and phase;
    /// <see cref="SilentDecibels"/> where there is no echo at all. [dB]</param>
    /// <param name="threads">Number of threads, at least 1; 0 for one on each processor.</param>
    /// <returns>How many evaluations of a cell by a sensor at a phase were made; without leaving any out they are the product of
    /// the three numbers, whole tiles counted.</returns>
    /// <exception cref="ArgumentException">A memory is shorter than the number of cells.</exception>
    public long Evaluate(Memory<byte> detectedPhases, Memory<float> bestMarginDecibels, int threads = 0)
    {
        if (detectedPhases.Length < Lattice.Cells || bestMarginDecibels.Length < Lattice.Cells)
        {
            throw new ArgumentException($"Results need room for {Lattice.Cells} cells.", nameof(detectedPhases));
        }

        long evaluations = 0;
        TileQueue.Run(
            Lattice.Tiles,
            TilesAtATime,
            threads,
            () => new TileState(_tracks, Phases),
            (first, end, state) =>
            {
                Span<byte> counts = detectedPhases.Span;
                Span<float> margins = bestMarginDecibels.Span;
                for (int tile = first; tile < end; tile++)
                {
                    state.Evaluations += _width switch
                    {
                        16 => Cover<Wide16, Vector512<float>>(tile, state, counts, margins),
                        8 => Cover<Wide8, Vector256<float>>(tile, state, counts, margins),
                        _ => Cover<Wide1, float>(tile, state, counts, margins),
                    };
                }
            },
            state => evaluations += state.Evaluations);
        return evaluations;
    }

    /// <summary>The width to use: as asked, or the widest that the processor is fast with.</summary>
    internal static int WidthOr(int width) => width != 0 ? width : Wide16.IsFast ? 16 : Wide8.IsFast ? 8 : 1;

    private long Cover<T, V>(int tile, TileState state, Span<byte> detectedPhases, Span<float> bestMarginDecibels)
        where T : IWide<V>
        where V : struct
    {
        state.Clear();
        Vec3 centre = Lattice.TileCentreMetres(tile);
        long evaluations = 0;
        int first = 0;
        if (_cull)
        {
            // The strongest by its bound first: what it reaches in every cell, the others must exceed in some to matter.
            (first, int phase) = Strongest<T, V>(centre, state);
            if (state.Upper[first][phase] > 0)
            {
                state.Chosen[0] = phase;
                evaluations += EvaluateTrack<T, V>(state, centre, first, 1);
                state.Upper[first][phase] = 0;
            }
        }
        else
        {
            Bound<T, V>(centre, state);
        }

        for (int n = 0; n < _tracks.Length; n++)
        {
            int s = (first + n) % _tracks.Length;
            evaluations += EvaluateTrack<T, V>(state, centre, s, _cull ? Choose<T, V>(s, state) : ChooseAll(state));
        }

        Write<T, V>(tile, state, detectedPhases, bestMarginDecibels);
        return evaluations;
    }

    private void Bound<T, V>(Vec3 centre, TileState state)
        where T : IWide<V>
        where V : struct
    {
        for (int s = 0; s < _tracks.Length; s++)
        {
            TileBounds.Evaluate<T, V>(_tracks[s], Lattice, centre, state.Constants[s], state.Upper[s], state.Lower[s]);
        }
    }

    /// <summary>Bounds all tracks and returns the track and phase of the largest upper bound.</summary>
    private (int Track, int Phase) Strongest<T, V>(Vec3 centre, TileState state)
        where T : IWide<V>
        where V : struct
    {
        Bound<T, V>(centre, state);
        int track = 0;
        float most = -1;
        for (int s = 0; s < _tracks.Length; s++)
        {
            ref float upper = ref MemoryMarshal.GetArrayDataReference(state.Upper[s]);
            V largest = T.Load(ref upper, 0);
            for (int i = T.Count; i < _tracks[s].Stride; i += T.Count)
            {
                largest = T.Max(largest, T.Load(ref upper, i));
            }

            float value = T.Largest(largest);
            (most, track) = value > most ? (value, s) : (most, track);
        }

        ref float bounds = ref MemoryMarshal.GetArrayDataReference(state.Upper[track]);
        V level = T.Broadcast(most);
        int phase = 0;
        ulong at;
        while ((at = T.AtLeast(T.Load(ref bounds, phase), level)) == 0)
        {
            phase += T.Count;
        }

        return (track, phase + BitOperations.TrailingZeroCount(at));
    }

    private int ChooseAll(TileState state)
    {
        for (int p = 0; p < Phases; p++)
        {
            state.Chosen[p] = p;
        }

        return Phases;
    }

    /// <summary>Lists the phases of a track that can raise the best amplitude of a cell, or detect one that is not yet detected.</summary>
    private int Choose<T, V>(int s, TileState state)
        where T : IWide<V>
        where V : struct
    {
        int[] chosen = state.Chosen;
        int count = 0;
        V reached = T.Broadcast(SmallestBest<T, V>(state));
        V one = T.Broadcast(1f);
        ref float upper = ref MemoryMarshal.GetArrayDataReference(state.Upper[s]);
        ulong row = (1UL << T.Count) - 1;
        for (int i = 0; i < _tracks[s].Stride; i += T.Count)
        {
            V bounds = T.Load(ref upper, i);
            ulong raises = ~T.AtLeast(reached, bounds) & row;
            ulong detects = T.AtLeast(bounds, one) & ~raises;
            ulong either = raises | detects;
            while (either != 0)
            {
                int bit = BitOperations.TrailingZeroCount(either);
                either &= either - 1;
                bool matters = ((raises >> bit) & 1) != 0 || state.Masks[i + bit] != ulong.MaxValue;
                chosen[count] = i + bit;
                count += matters ? 1 : 0;
            }
        }

        return count;
    }

    private long EvaluateTrack<T, V>(TileState state, Vec3 centre, int s, int count)
        where T : IWide<V>
        where V : struct
    {
        if (count > 0)
        {
            if (!state.IsPrepared[s])
            {
                TileFigures.Prepare<T, V>(_tracks[s], Lattice, centre, state.Constants[s]);
                state.IsPrepared[s] = true;
            }

            TileKernel.Evaluate<T, V>(_tracks[s], Lattice, state.Constants[s], state.Chosen.AsSpan(0, count), state);
        }

        return (long)count * FieldLattice.TileCells;
    }

    private static float SmallestBest<T, V>(TileState state)
        where T : IWide<V>
        where V : struct
    {
        ref float best = ref MemoryMarshal.GetArrayDataReference(state.Best);
        V smallest = T.Load(ref best, 0);
        for (int i = T.Count; i < FieldLattice.TileCells; i += T.Count)
        {
            smallest = T.Min(smallest, T.Load(ref best, i));
        }

        return T.Smallest(smallest);
    }

    private void Write<T, V>(int tile, TileState state, Span<byte> detectedPhases, Span<float> bestMarginDecibels)
        where T : IWide<V>
        where V : struct
    {
        Span<float> best = state.Best;
        ref float at = ref MemoryMarshal.GetReference(best);
        for (int i = 0; i < FieldLattice.TileCells; i += T.Count)
        {
            V level = T.Multiply(T.Log2(T.Load(ref at, i)), T.Broadcast(DecibelsPerOctave));
            T.Store(T.Max(level, T.Broadcast(SilentDecibels)), ref at, i);
        }

        Lattice.Scatter(tile, best, bestMarginDecibels);
        Span<byte> counts = stackalloc byte[FieldLattice.TileCells];
        BitCounts.Count(state.Masks, counts);
        Lattice.Scatter<byte>(tile, counts, detectedPhases);
    }
}
