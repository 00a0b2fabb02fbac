using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Evaluates a track at chosen phases in all cells of a tile: four boxes in flight together.</summary>
/// <remarks>
/// With g the vector from a face to the tile's centre and u a cell's offset from there, <c>4r² = 4|g|² + 8·g·u + 4|u|²</c>, whose
/// middle term is a sum of a part of the box and a part of the cell in the box. One step of Newton's method on the estimate
/// y₀ of 1/√(4r²) gives <c>1/r = y₀·(3 − 4r²·y₀²)</c> without a constant factor. Where absorption changes little across a tile
/// its exponential is a series of three terms about the tile's centre: <c>|x| ≤ 0.09</c> leaves an error below
/// 0.09⁴/24 = 2.8·10⁻⁶ of the value.
/// </remarks>
internal static class TileKernel
{
    /// <summary>Adds phases of a track to a tile: raises the best amplitude of each cell, and sets the bits of cells detected.</summary>
    /// <param name="track">The track.</param>
    /// <param name="lattice">The lattice.</param>
    /// <param name="constants">The figures from <see cref="TileBounds"/>.</param>
    /// <param name="phases">The phases to evaluate.</param>
    /// <param name="state">Receives the result.</param>
    internal static void Evaluate<T, V>(TileTrack track, FieldLattice lattice, float[] constants, ReadOnlySpan<int> phases, TileState state)
        where T : IWide<V>
        where V : struct
    {
        int stride = track.Stride;
        ref float best = ref MemoryMarshal.GetArrayDataReference(state.Best);
        ref float offsets = ref MemoryMarshal.GetArrayDataReference(lattice.LaneOffsets);
        ref float squares = ref MemoryMarshal.GetArrayDataReference(lattice.FourSquaredOffsets);
        ref ulong masks = ref MemoryMarshal.GetArrayDataReference(state.Masks);
        float quarterAbsorption = -0.25f * track.Absorption;
        float[] transmit = track.Transmit.Coefficients;
        float[] receive = track.Receive.Coefficients;
        bool isSpecial = !track.IsShortExponent || transmit.Length == 0 || receive.Length == 0;
        for (int lane = 0; lane < FieldLattice.BoxCells; lane += T.Count)
        {
            V ux = T.Load(ref offsets, lane);
            V uy = T.Load(ref offsets, FieldLattice.BoxCells + lane);
            V uz = T.Load(ref offsets, (2 * FieldLattice.BoxCells) + lane);
            V best0 = T.Load(ref best, lane);
            V best1 = T.Load(ref best, FieldLattice.BoxCells + lane);
            V best2 = T.Load(ref best, (2 * FieldLattice.BoxCells) + lane);
            V best3 = T.Load(ref best, (3 * FieldLattice.BoxCells) + lane);
            foreach (int phase in phases)
            {
                ref float c = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(constants), phase);
                ref float axis = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(track.Rows), phase + (TileTrack.RowAxis * stride));
                V step = One<T, V>(ref axis, stride, TileTrack.RowAxialStep - TileTrack.RowAxis);
                V m0;
                V m1;
                V m2;
                V m3;
                if (isSpecial || Unsafe.Add(ref c, TileConstant.IsNear * stride) > 0)
                {
                    m0 = General<T, V>(track, lattice, ref c, ref axis, lane, 0);
                    m1 = General<T, V>(track, lattice, ref c, ref axis, lane, 1);
                    m2 = General<T, V>(track, lattice, ref c, ref axis, lane, 2);
                    m3 = General<T, V>(track, lattice, ref c, ref axis, lane, 3);
                }
                else
                {
                    V transmitter = Along<T, V>(ux, uy, uz, ref c, stride, TileConstant.EightTransmitter);
                    V receiver = Along<T, V>(ux, uy, uz, ref c, stride, TileConstant.EightReceiver);
                    V along = Along<T, V>(ux, uy, uz, ref axis, stride, 0);
                    Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, lane), ref c, stride, 0, out V t0, out V r0, out V spread0, out V path0);
                    Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 16 + lane), ref c, stride, 1, out V t1, out V r1, out V spread1, out V path1);
                    Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 32 + lane), ref c, stride, 2, out V t2, out V r2, out V spread2, out V path2);
                    Front<T, V>(transmitter, receiver, along, step, T.Load(ref squares, 48 + lane), ref c, stride, 3, out V t3, out V r3, out V spread3, out V path3);
                    if (!(Unsafe.Add(ref c, TileConstant.InFront * stride) > 0))
                    {
                        spread0 = WhereInFront<T, V>(along, step, ref c, stride, 0, spread0);
                        spread1 = WhereInFront<T, V>(along, step, ref c, stride, 1, spread1);
                        spread2 = WhereInFront<T, V>(along, step, ref c, stride, 2, spread2);
                        spread3 = WhereInFront<T, V>(along, step, ref c, stride, 3, spread3);
                    }

                    Beams<T, V>(transmit, ref t0, ref t1, ref t2, ref t3);
                    Beams<T, V>(receive, ref r0, ref r1, ref r2, ref r3);
                    m0 = Back<T, V>(t0, r0, spread0, path0, ref c, stride, quarterAbsorption);
                    m1 = Back<T, V>(t1, r1, spread1, path1, ref c, stride, quarterAbsorption);
                    m2 = Back<T, V>(t2, r2, spread2, path2, ref c, stride, quarterAbsorption);
                    m3 = Back<T, V>(t3, r3, spread3, path3, ref c, stride, quarterAbsorption);
                }

                best0 = T.Max(best0, m0);
                best1 = T.Max(best1, m1);
                best2 = T.Max(best2, m2);
                best3 = T.Max(best3, m3);
                V one = T.Broadcast(1f);
                ulong bits = T.AtLeast(m0, one) | (T.AtLeast(m1, one) << 16) | (T.AtLeast(m2, one) << 32) | (T.AtLeast(m3, one) << 48);
                Unsafe.Add(ref masks, phase) |= bits << lane;
            }

            T.Store(best0, ref best, lane);
            T.Store(best1, ref best, FieldLattice.BoxCells + lane);
            T.Store(best2, ref best, (2 * FieldLattice.BoxCells) + lane);
            T.Store(best3, ref best, (3 * FieldLattice.BoxCells) + lane);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V One<T, V>(ref float figures, int stride, int row)
        where T : IWide<V>
        where V : struct => T.Broadcast(Unsafe.Add(ref figures, row * stride));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Along<T, V>(V ux, V uy, V uz, ref float figures, int stride, int row)
        where T : IWide<V>
        where V : struct => T.MultiplyAdd(
            ux,
            One<T, V>(ref figures, stride, row),
            T.MultiplyAdd(uy, One<T, V>(ref figures, stride, row + 1), T.Multiply(uz, One<T, V>(ref figures, stride, row + 2))));

    /// <summary>Cosines off both axes, one over the product of the distances, and four times the path.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Front<T, V>(
        V transmitter, V receiver, V along, V step, V squares, ref float c, int stride, int box, out V cosineT, out V cosineR, out V spread, out V path)
        where T : IWide<V>
        where V : struct
    {
        V three = T.Broadcast(3f);
        V wt = T.Add(T.Add(transmitter, squares), One<T, V>(ref c, stride, TileConstant.TransmitterBoxes + box));
        V wr = T.Add(T.Add(receiver, squares), One<T, V>(ref c, stride, TileConstant.ReceiverBoxes + box));
        V pt = T.Add(along, One<T, V>(ref c, stride, TileConstant.AxialBoxes + box));
        V pr = T.Add(pt, step);
        V yt = T.ReciprocalRootEstimate(wt);
        V yr = T.ReciprocalRootEstimate(wr);
        yt = T.Multiply(yt, T.MultiplySubtractFrom(T.Multiply(wt, yt), yt, three));
        yr = T.Multiply(yr, T.MultiplySubtractFrom(T.Multiply(wr, yr), yr, three));
        cosineT = T.Multiply(pt, yt);
        cosineR = T.Multiply(pr, yr);
        spread = T.Multiply(yt, yr);
        path = T.MultiplyAdd(wt, yt, T.Multiply(wr, yr));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V WhereInFront<T, V>(V along, V step, ref float c, int stride, int box, V value)
        where T : IWide<V>
        where V : struct
    {
        V pt = T.Add(along, One<T, V>(ref c, stride, TileConstant.AxialBoxes + box));
        return T.WherePositive(T.Min(pt, T.Add(pt, step)), value);
    }

    /// <summary>Replaces four rows of cosines by the beam's signed amplitudes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Beams<T, V>(float[] coefficients, ref V a0, ref V a1, ref V a2, ref V a3)
        where T : IWide<V>
        where V : struct
    {
        V u0 = T.Multiply(a0, a0);
        V u1 = T.Multiply(a1, a1);
        V u2 = T.Multiply(a2, a2);
        V u3 = T.Multiply(a3, a3);
        V b0 = T.Broadcast(coefficients[^1]);
        V b1 = b0;
        V b2 = b0;
        V b3 = b0;
        for (int i = coefficients.Length - 2; i >= 0; i--)
        {
            V coefficient = T.Broadcast(coefficients[i]);
            b0 = T.MultiplyAdd(b0, u0, coefficient);
            b1 = T.MultiplyAdd(b1, u1, coefficient);
            b2 = T.MultiplyAdd(b2, u2, coefficient);
            b3 = T.MultiplyAdd(b3, u3, coefficient);
        }

        a0 = b0;
        a1 = b1;
        a2 = b2;
        a3 = b3;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Back<T, V>(V transmit, V receive, V spread, V path, ref float c, int stride, float quarterAbsorption)
        where T : IWide<V>
        where V : struct
    {
        V x = T.MultiplyAdd(path, T.Broadcast(quarterAbsorption), One<T, V>(ref c, stride, TileConstant.CentreAbsorption));
        V factor = One<T, V>(ref c, stride, TileConstant.Factor);
        V e = T.MultiplyAdd(x, One<T, V>(ref c, stride, TileConstant.Factor + 2), One<T, V>(ref c, stride, TileConstant.Factor + 1));
        e = T.MultiplyAdd(T.MultiplyAdd(e, x, factor), x, factor);
        return T.Multiply(T.Multiply(T.Abs(T.Multiply(transmit, receive)), spread), e);
    }

    /// <summary>The amplitude over the threshold in one box without any of the shortcuts: distances cell by cell, any beam, any threshold.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static V General<T, V>(TileTrack track, FieldLattice lattice, ref float c, ref float axis, int lane, int box)
        where T : IWide<V>
        where V : struct
    {
        int stride = track.Stride;
        ref float lanes = ref MemoryMarshal.GetArrayDataReference(lattice.LaneOffsets);
        float[] boxes = lattice.BoxOffsets;
        V eighth = T.Broadcast(0.125f);
        V ux = T.Add(T.Load(ref lanes, lane), T.Broadcast(boxes[box]));
        V uy = T.Add(T.Load(ref lanes, 16 + lane), T.Broadcast(boxes[4 + box]));
        V uz = T.Add(T.Load(ref lanes, 32 + lane), T.Broadcast(boxes[8 + box]));
        V tx = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightTransmitter), eighth, ux);
        V ty = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightTransmitter + 1), eighth, uy);
        V tz = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightTransmitter + 2), eighth, uz);
        V rx = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightReceiver), eighth, ux);
        V ry = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightReceiver + 1), eighth, uy);
        V rz = T.MultiplyAdd(One<T, V>(ref c, stride, TileConstant.EightReceiver + 2), eighth, uz);
        V amplitude = PointKernel.Unattenuated<T, V>(
            track.Transmit,
            track.Receive,
            tx, ty, tz, rx, ry, rz,
            One<T, V>(ref axis, stride, 0),
            One<T, V>(ref axis, stride, 1),
            One<T, V>(ref axis, stride, 2),
            out V path);
        V x = T.MultiplySubtractFrom(path, T.Broadcast(track.Absorption), T.Broadcast(track.Exponent));
        for (int k = 0; k < track.KneePaths.Length; k++)
        {
            V beyond = T.Max(T.Subtract(path, T.Broadcast(track.KneePaths[k])), T.Broadcast(0f));
            x = T.MultiplySubtractFrom(beyond, T.Broadcast(track.KneeSlopes[k]), x);
        }

        V value = T.Multiply(amplitude, KernelMath.Exp<T, V>(x));
        return T.WhereAtLeast(path, T.Broadcast(track.NearestPath), T.WhereAtLeast(T.Broadcast(track.FarthestPath), path, value));
    }
}
