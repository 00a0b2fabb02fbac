using System.Collections.Immutable;
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

    /// <summary>Gets how many evaluations of a cell by a sensor at a phase the last call of <see cref="Evaluate"/> made; without
    /// culling it is the product of the three numbers, whole tiles counted.</summary>
    public long Evaluations { get; private set; }

    /// <summary>Computes the coverage.</summary>
    /// <param name="detectedPhases">Receives for each cell the number of phases in which any sensor detects the probe.</param>
    /// <param name="bestMarginDecibels">Receives for each cell the largest level over the threshold of any sensor and phase;
    /// <see cref="SilentDecibels"/> where there is no echo at all. [dB]</param>
    /// <param name="threads">Number of threads, at least 1; 0 for one on each processor.</param>
    /// <exception cref="ArgumentException">A memory is shorter than the number of cells.</exception>
    public void Evaluate(Memory<byte> detectedPhases, Memory<float> bestMarginDecibels, int threads = 0)
    {
        if (detectedPhases.Length < Lattice.Cells || bestMarginDecibels.Length < Lattice.Cells)
        {
            throw new ArgumentException($"Results need room for {Lattice.Cells} cells.", nameof(detectedPhases));
        }

        long evaluations = 0;
        TileQueue.Run(Lattice.Tiles, TilesAtATime, threads, next =>
        {
            var state = new TileState(_tracks, Phases);
            long done = 0;
            while (next(out int first, out int end))
            {
                for (int tile = first; tile < end; tile++)
                {
                    done += _width switch
                    {
                        16 => Cover<Wide16, Vector512<float>>(tile, state),
                        8 => Cover<Wide8, Vector256<float>>(tile, state),
                        _ => Cover<Wide1, float>(tile, state),
                    };
                    Write(tile, state, detectedPhases.Span, bestMarginDecibels.Span);
                }
            }

            Interlocked.Add(ref evaluations, done);
        });
        Evaluations = evaluations;
    }

    /// <summary>The width to use: as asked, or the widest that the processor is fast with.</summary>
    internal static int WidthOr(int width) => width != 0 ? width : Wide16.IsFast ? 16 : Wide8.IsFast ? 8 : 1;

    private long Cover<T, V>(int tile, TileState state)
        where T : IWide<V>
        where V : struct
    {
        state.Clear();
        Vec3 centre = Lattice.TileCentreMetres(tile);
        int strongest = 0;
        int phase = 0;
        float most = -1;
        for (int s = 0; s < _tracks.Length; s++)
        {
            float[] upper = state.Upper[s];
            TileBounds.Evaluate<T, V>(_tracks[s], Lattice, centre, state.Constants[s], upper, state.Lower[s]);
            for (int p = 0; p < upper.Length; p++)
            {
                if (upper[p] > most)
                {
                    (most, strongest, phase) = (upper[p], s, p);
                }
            }
        }

        // The strongest by its bound first: what it reaches in every cell, the others must exceed in some to matter.
        long evaluations = 0;
        if (most > 0 && _cull)
        {
            evaluations += EvaluateTrack<T, V>(state, centre, strongest, [phase]);
            state.Upper[strongest][phase] = 0;
        }

        for (int n = 0; n < _tracks.Length; n++)
        {
            int s = (strongest + n) % _tracks.Length;
            evaluations += EvaluateTrack<T, V>(state, centre, s, Choose<T, V>(s, state));
        }

        return evaluations;
    }

    /// <summary>Lists the phases of a track that can raise the best amplitude of a cell, or detect one that is not yet detected.</summary>
    private ReadOnlySpan<int> Choose<T, V>(int s, TileState state)
        where T : IWide<V>
        where V : struct
    {
        int[] chosen = state.Chosen;
        int count = 0;
        if (!_cull)
        {
            for (int p = 0; p < Phases; p++)
            {
                chosen[count++] = p;
            }

            return chosen.AsSpan(0, count);
        }

        float reached = SmallestBest<T, V>(state);
        float[] upper = state.Upper[s];
        for (int p = 0; p < Phases; p++)
        {
            float bound = upper[p];
            bool matters = bound > reached || (bound >= 1 && state.Masks[p] != ulong.MaxValue);
            chosen[count] = p;
            count += matters ? 1 : 0;
        }

        return chosen.AsSpan(0, count);
    }

    private long EvaluateTrack<T, V>(TileState state, Vec3 centre, int s, ReadOnlySpan<int> phases)
        where T : IWide<V>
        where V : struct
    {
        if (phases.Length > 0)
        {
            if (!state.IsPrepared[s])
            {
                TileFigures.Prepare<T, V>(_tracks[s], Lattice, centre, state.Constants[s]);
                state.IsPrepared[s] = true;
            }

            TileKernel.Evaluate<T, V>(_tracks[s], Lattice, state.Constants[s], phases, state);
        }

        return (long)phases.Length * FieldLattice.TileCells;
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

    private void Write(int tile, TileState state, Span<byte> detectedPhases, Span<float> bestMarginDecibels)
    {
        Span<float> best = state.Best;
        for (int i = 0; i < best.Length; i += Vector256<float>.Count)
        {
            Vector256<float> amplitude = Vector256.Create<float>(best.Slice(i, Vector256<float>.Count));
            Vector256<float> level = Vector256.Log2(amplitude) * DecibelsPerOctave;
            Vector256.Max(level, Vector256.Create(SilentDecibels)).CopyTo(best[i..]);
        }

        Lattice.Scatter(tile, best, bestMarginDecibels);
        Span<byte> counts = stackalloc byte[FieldLattice.TileCells];
        BitCounts.Count(state.Masks, counts);
        Lattice.Scatter<byte>(tile, counts, detectedPhases);
    }
}
