using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>The figures of a track over a tile that the evaluation of its cells starts from, for all phases at once.</summary>
internal static class TileFigures
{
    /// <summary>Fills in the rows of <see cref="TileConstant"/> that <see cref="TileBounds"/> has not filled in before.</summary>
    internal static void Prepare<T, V>(TileTrack track, FieldLattice lattice, Vec3 centre, float[] constants)
        where T : IWide<V>
        where V : struct
    {
        int stride = track.Stride;
        ref float rows = ref MemoryMarshal.GetArrayDataReference(track.Rows);
        ref float figures = ref MemoryMarshal.GetArrayDataReference(constants);
        V cx = T.Broadcast((float)centre.X);
        V cy = T.Broadcast((float)centre.Y);
        V cz = T.Broadcast((float)centre.Z);
        V eight = T.Broadcast(8f);
        V sixteenth = T.Broadcast(1f / 16);
        V half = T.Broadcast(0.5f);
        float quarter = track.IsShortExponent ? 1 : 0.25f;
        V root = T.Broadcast(quarter);
        V scale = T.Broadcast(-0.25f * quarter);
        for (int i = 0; i < stride; i += T.Count)
        {
            V tx = T.Multiply(eight, T.Subtract(cx, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowTransmitter)));
            V ty = T.Multiply(eight, T.Subtract(cy, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowTransmitter + 1)));
            V tz = T.Multiply(eight, T.Subtract(cz, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowTransmitter + 2)));
            V rx = T.Multiply(eight, T.Subtract(cx, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowReceiver)));
            V ry = T.Multiply(eight, T.Subtract(cy, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowReceiver + 1)));
            V rz = T.Multiply(eight, T.Subtract(cz, TileBounds.Row<T, V>(ref rows, i, TileTrack.RowReceiver + 2)));
            V ax = TileBounds.Row<T, V>(ref rows, i, TileTrack.RowAxis);
            V ay = TileBounds.Row<T, V>(ref rows, i, TileTrack.RowAxis + 1);
            V az = TileBounds.Row<T, V>(ref rows, i, TileTrack.RowAxis + 2);
            Put<T, V>(tx, ref figures, i, TileConstant.EightTransmitter);
            Put<T, V>(ty, ref figures, i, TileConstant.EightTransmitter + 1);
            Put<T, V>(tz, ref figures, i, TileConstant.EightTransmitter + 2);
            Put<T, V>(rx, ref figures, i, TileConstant.EightReceiver);
            Put<T, V>(ry, ref figures, i, TileConstant.EightReceiver + 1);
            Put<T, V>(rz, ref figures, i, TileConstant.EightReceiver + 2);
            V transmitter = T.Multiply(sixteenth, TileBounds.Dot<T, V>(tx, ty, tz, tx, ty, tz));
            V receiver = T.Multiply(sixteenth, TileBounds.Dot<T, V>(rx, ry, rz, rx, ry, rz));
            V axial = T.Multiply(T.Broadcast(0.125f), TileBounds.Dot<T, V>(tx, ty, tz, ax, ay, az));
            for (int box = 0; box < FieldLattice.TileBoxes; box++)
            {
                V ox = T.Broadcast(lattice.BoxOffsets[box]);
                V oy = T.Broadcast(lattice.BoxOffsets[FieldLattice.TileBoxes + box]);
                V oz = T.Broadcast(lattice.BoxOffsets[(2 * FieldLattice.TileBoxes) + box]);
                Put<T, V>(T.Add(transmitter, TileBounds.Dot<T, V>(tx, ty, tz, ox, oy, oz)), ref figures, i, TileConstant.TransmitterBoxes + box);
                Put<T, V>(T.Add(receiver, TileBounds.Dot<T, V>(rx, ry, rz, ox, oy, oz)), ref figures, i, TileConstant.ReceiverBoxes + box);
                Put<T, V>(T.Add(axial, TileBounds.Dot<T, V>(ax, ay, az, ox, oy, oz)), ref figures, i, TileConstant.AxialBoxes + box);
            }

            V slope = T.Multiply(scale, T.Load(ref figures, TileConstant.At(TileConstant.Decline, i)));
            V centrePath = T.Load(ref figures, TileConstant.At(TileConstant.CentrePath, i));
            V factor = KernelMath.Exp<T, V>(T.Multiply(root, T.Load(ref figures, TileConstant.At(TileConstant.CentreExponent, i))));
            Put<T, V>(factor, ref figures, i, TileConstant.Factor);
            Put<T, V>(T.Multiply(factor, half), ref figures, i, TileConstant.Factor + 1);
            Put<T, V>(T.Multiply(factor, T.Broadcast(1f / 6)), ref figures, i, TileConstant.Factor + 2);
            Put<T, V>(slope, ref figures, i, TileConstant.Slope);
            Put<T, V>(T.Multiply(T.Multiply(centrePath, slope), T.Broadcast(-4f)), ref figures, i, TileConstant.Centre);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Put<T, V>(V value, ref float figures, int i, int row)
        where T : IWide<V>
        where V : struct => T.Store(value, ref figures, TileConstant.At(row, i));
}
