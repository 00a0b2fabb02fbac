using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Evaluates a track at chosen phases in all cells of a tile: four boxes in flight together.</summary>
/// <remarks>
/// With g the vector from a face to the tile's centre and u a cell's offset from there, <c>4r² = 4|g|² + 8·g·u + 4|u|²</c>, whose
/// middle term is a sum of a part of the box and a part of the cell in the box. One step of Newton's method on the estimate
/// y₀ of 1/√(4r²) gives <c>1/r = y₀·(3 − 4r²·y₀²)</c> without a constant factor. Where absorption changes little across a tile
/// its exponential is a cubic about the tile's centre: <c>|x| ≤ 0.09</c> leaves an error below 0.09⁴/24 = 2.8·10⁻⁶ of the value.
/// Where a threshold falls with range and has no knee in the tile the fourth power of such a cubic serves up to 0.36, with four
/// times the error: 10⁻⁴ dB.
/// </remarks>
internal static class TileKernel
{
    /// <summary>Adds phases of a track to a tile: raises the best amplitude of each cell, and sets the bits of cells detected.</summary>
    /// <param name="track">The track.</param>
    /// <param name="lattice">The lattice.</param>
    /// <param name="constants">The figures from <see cref="TileBounds"/> and <see cref="TileFigures"/>.</param>
    /// <param name="phases">The phases to evaluate; their order may be changed.</param>
    /// <param name="state">Receives the result.</param>
    internal static void Evaluate<T, V>(TileTrack track, FieldLattice lattice, float[] constants, Span<int> phases, TileState state)
        where T : IWide<V>
        where V : struct
    {
        // Phases that need distances cell by cell go to the end of the list.
        int fast = phases.Length;
        bool isSpecial = track.BeamCoefficients.Length == 0;
        for (int i = 0; i < fast;)
        {
            if (isSpecial || constants[TileConstant.At(TileConstant.IsSpecial, phases[i])] > 0)
            {
                fast--;
                (phases[i], phases[fast]) = (phases[fast], phases[i]);
            }
            else
            {
                i++;
            }
        }

        for (int lane = 0; lane < FieldLattice.BoxCells; lane += T.Count)
        {
            if (fast > 0 && track.IsShortExponent)
            {
                EvaluateFast<T, V, ShortExponent>(track, lattice, constants, phases[..fast], state, lane);
            }
            else if (fast > 0)
            {
                EvaluateFast<T, V, LongExponent>(track, lattice, constants, phases[..fast], state, lane);
            }

            if (fast < phases.Length)
            {
                EvaluateGeneral<T, V>(track, lattice, constants, phases[fast..], state, lane);
            }
        }
    }

    private static void EvaluateFast<T, V, TExponent>(
        TileTrack track, FieldLattice lattice, float[] constants, ReadOnlySpan<int> phases, TileState state, int lane)
        where T : IWide<V>
        where V : struct
        where TExponent : IExponent
    {
        ref float best = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(state.Best), lane);
        ref float offsets = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(lattice.LaneOffsets), lane);
        ref float squares = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(lattice.FourSquaredOffsets), lane);
        ref float figures = ref MemoryMarshal.GetArrayDataReference(constants);
        ref float rows = ref MemoryMarshal.GetArrayDataReference(track.Rows);
        ref float coefficients = ref MemoryMarshal.GetArrayDataReference(track.BeamCoefficients);
        ref ulong masks = ref MemoryMarshal.GetArrayDataReference(state.Masks);
        int pairs = track.BeamCoefficients.Length;
        V best0 = T.Load(ref best, 0);
        V best1 = T.Load(ref best, 16);
        V best2 = T.Load(ref best, 32);
        V best3 = T.Load(ref best, 48);
        foreach (int phase in phases)
        {
            ref float c = ref Unsafe.Add(ref figures, TileConstant.At(0, phase));
            ref float axis = ref Unsafe.Add(ref rows, TileTrack.At(TileTrack.RowAxis, phase));
            V step = One<T, V>(ref axis, TileTrack.RowAxialStep - TileTrack.RowAxis);
            V transmitter = Along<T, V>(ref offsets, ref c, TileConstant.EightTransmitter);
            V receiver = Along<T, V>(ref offsets, ref c, TileConstant.EightReceiver);
            V along = Along<T, V>(ref offsets, ref axis, 0);
            Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 0), ref c, 0, out V t0, out V r0, out V spread0, out V path0);
            Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 16), ref c, 1, out V t1, out V r1, out V spread1, out V path1);
            Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 32), ref c, 2, out V t2, out V r2, out V spread2, out V path2);
            Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 48), ref c, 3, out V t3, out V r3, out V spread3, out V path3);
            if (!(Unsafe.Add(ref c, TileConstant.InFront * TileTrack.Group) > 0))
            {
                spread0 = WhereInFront<T, V>(along, step, ref c, 0, spread0);
                spread1 = WhereInFront<T, V>(along, step, ref c, 1, spread1);
                spread2 = WhereInFront<T, V>(along, step, ref c, 2, spread2);
                spread3 = WhereInFront<T, V>(along, step, ref c, 3, spread3);
            }

            V a0 = T.Broadcast(coefficients);
            V a1 = a0;
            V a2 = a0;
            V a3 = a0;
            V b0 = T.Broadcast(Unsafe.Add(ref coefficients, 1));
            V b1 = b0;
            V b2 = b0;
            V b3 = b0;
            for (nint i = 2; i < pairs; i += 2)
            {
                V forward = T.Broadcast(Unsafe.Add(ref coefficients, i));
                V backward = T.Broadcast(Unsafe.Add(ref coefficients, i + 1));
                a0 = T.MultiplyAdd(a0, t0, forward);
                a1 = T.MultiplyAdd(a1, t1, forward);
                a2 = T.MultiplyAdd(a2, t2, forward);
                a3 = T.MultiplyAdd(a3, t3, forward);
                b0 = T.MultiplyAdd(b0, r0, backward);
                b1 = T.MultiplyAdd(b1, r1, backward);
                b2 = T.MultiplyAdd(b2, r2, backward);
                b3 = T.MultiplyAdd(b3, r3, backward);
            }

            V one = T.Broadcast(1f);
            V m0 = Back<T, V, TExponent>(a0, b0, spread0, path0, ref c);
            V m1 = Back<T, V, TExponent>(a1, b1, spread1, path1, ref c);
            V m2 = Back<T, V, TExponent>(a2, b2, spread2, path2, ref c);
            V m3 = Back<T, V, TExponent>(a3, b3, spread3, path3, ref c);
            best0 = T.Max(best0, m0);
            best1 = T.Max(best1, m1);
            best2 = T.Max(best2, m2);
            best3 = T.Max(best3, m3);
            ulong bits = T.AtLeast(m0, one) | (T.AtLeast(m1, one) << 16) | (T.AtLeast(m2, one) << 32) | (T.AtLeast(m3, one) << 48);
            Unsafe.Add(ref masks, phase) |= bits << lane;
        }

        T.Store(best0, ref best, 0);
        T.Store(best1, ref best, 16);
        T.Store(best2, ref best, 32);
        T.Store(best3, ref best, 48);
    }

    private static void EvaluateGeneral<T, V>(
        TileTrack track, FieldLattice lattice, float[] constants, ReadOnlySpan<int> phases, TileState state, int lane)
        where T : IWide<V>
        where V : struct
    {
        ref float best = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(state.Best), lane);
        foreach (int phase in phases)
        {
            ref float c = ref constants[TileConstant.At(0, phase)];
            ref float axis = ref track.Rows[TileTrack.At(TileTrack.RowAxis, phase)];
            for (int box = 0; box < FieldLattice.TileBoxes; box++)
            {
                V amplitude = General<T, V>(track, lattice, ref c, ref axis, lane, box);
                int at = box * FieldLattice.BoxCells;
                T.Store(T.Max(T.Load(ref best, at), amplitude), ref best, at);
                state.Masks[phase] |= T.AtLeast(amplitude, T.Broadcast(1f)) << (at + lane);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V One<T, V>(ref float figures, int row)
        where T : IWide<V>
        where V : struct => T.Broadcast(Unsafe.Add(ref figures, row * TileTrack.Group));

    /// <summary>The scalar product of the offsets of a box's cells and a vector.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Along<T, V>(ref float offsets, ref float figures, int row)
        where T : IWide<V>
        where V : struct => T.MultiplyAdd(
            T.Load(ref offsets, 0),
            One<T, V>(ref figures, row),
            T.MultiplyAdd(T.Load(ref offsets, 16), One<T, V>(ref figures, row + 1), T.Multiply(T.Load(ref offsets, 32), One<T, V>(ref figures, row + 2))));

    /// <summary>Squared cosines off both axes, one over the product of the distances, and four times the path.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Front<T, V>(
        V transmitter, V receiver, V along, V step, V squares, ref float c, int box, out V squareT, out V squareR, out V spread, out V path)
        where T : IWide<V>
        where V : struct
    {
        V three = T.Broadcast(3f);
        V wt = T.Add(T.Add(transmitter, squares), One<T, V>(ref c, TileConstant.TransmitterBoxes + box));
        V wr = T.Add(T.Add(receiver, squares), One<T, V>(ref c, TileConstant.ReceiverBoxes + box));
        V pt = T.Add(along, One<T, V>(ref c, TileConstant.AxialBoxes + box));
        V pr = T.Add(pt, step);
        V yt = T.ReciprocalRootEstimate(wt);
        V yr = T.ReciprocalRootEstimate(wr);
        yt = T.Multiply(yt, T.MultiplySubtractFrom(T.Multiply(wt, yt), yt, three));
        yr = T.Multiply(yr, T.MultiplySubtractFrom(T.Multiply(wr, yr), yr, three));
        V cosineT = T.Multiply(pt, yt);
        V cosineR = T.Multiply(pr, yr);
        squareT = T.Multiply(cosineT, cosineT);
        squareR = T.Multiply(cosineR, cosineR);
        spread = T.Multiply(yt, yr);
        path = T.MultiplyAdd(wt, yt, T.Multiply(wr, yr));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V WhereInFront<T, V>(V along, V step, ref float c, int box, V value)
        where T : IWide<V>
        where V : struct
    {
        V pt = T.Add(along, One<T, V>(ref c, TileConstant.AxialBoxes + box));
        return T.WherePositive(T.Min(pt, T.Add(pt, step)), value);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Back<T, V, TExponent>(V transmit, V receive, V spread, V path, ref float c)
        where T : IWide<V>
        where V : struct
        where TExponent : IExponent
    {
        V x = T.MultiplyAdd(path, One<T, V>(ref c, TileConstant.Slope), One<T, V>(ref c, TileConstant.Centre));
        V factor = One<T, V>(ref c, TileConstant.Factor);
        V e = T.MultiplyAdd(x, One<T, V>(ref c, TileConstant.Factor + 2), One<T, V>(ref c, TileConstant.Factor + 1));
        e = T.MultiplyAdd(T.MultiplyAdd(e, x, factor), x, factor);
        if (TExponent.IsLong)
        {
            e = T.Multiply(e, e);
            e = T.Multiply(e, e);
        }

        return T.Multiply(T.Multiply(T.Abs(T.Multiply(transmit, receive)), spread), e);
    }

    /// <summary>The amplitude over the threshold in one box without any of the shortcuts: distances cell by cell, any beam, any threshold.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static V General<T, V>(TileTrack track, FieldLattice lattice, ref float c, ref float axis, int lane, int box)
        where T : IWide<V>
        where V : struct
    {
        ref float lanes = ref MemoryMarshal.GetArrayDataReference(lattice.LaneOffsets);
        float[] boxes = lattice.BoxOffsets;
        V eighth = T.Broadcast(0.125f);
        V ux = T.Add(T.Load(ref lanes, lane), T.Broadcast(boxes[box]));
        V uy = T.Add(T.Load(ref lanes, 16 + lane), T.Broadcast(boxes[4 + box]));
        V uz = T.Add(T.Load(ref lanes, 32 + lane), T.Broadcast(boxes[8 + box]));
        V tx = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightTransmitter), eighth, ux);
        V ty = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightTransmitter + 1), eighth, uy);
        V tz = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightTransmitter + 2), eighth, uz);
        V rx = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightReceiver), eighth, ux);
        V ry = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightReceiver + 1), eighth, uy);
        V rz = T.MultiplyAdd(One<T, V>(ref c, TileConstant.EightReceiver + 2), eighth, uz);
        V amplitude = PointKernel.Unattenuated<T, V>(
            track.Transmit,
            track.Receive,
            tx, ty, tz, rx, ry, rz,
            One<T, V>(ref axis, 0),
            One<T, V>(ref axis, 1),
            One<T, V>(ref axis, 2),
            out V path);
        V x = T.MultiplySubtractFrom(path, T.Broadcast(track.Absorption), T.Broadcast(track.Exponent));
        for (int k = 0; k < track.KneePaths.Length; k++)
        {
            V beyond = T.Max(T.Subtract(path, T.Broadcast(track.KneePaths[k])), T.Broadcast(0f));
            x = T.MultiplySubtractFrom(beyond, T.Broadcast(track.KneeSlopes[k]), x);
        }

        V value = T.Multiply(amplitude, KernelMath.Exp<T, V>(x));
        return T.WhereAtLeast(path, T.Broadcast(track.NearestPath), T.WhereAtLeast(One<T, V>(ref axis, TileTrack.RowFarthestPath - TileTrack.RowAxis), path, value));
    }

    private interface IExponent
    {
        static abstract bool IsLong { get; }
    }

    private readonly struct ShortExponent : IExponent
    {
        public static bool IsLong => false;
    }

    private readonly struct LongExponent : IExponent
    {
        public static bool IsLong => true;
    }
}
