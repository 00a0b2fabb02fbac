using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <content>Cuts by all threads of a crew together.</content>
internal unsafe partial struct BinnedSplit
{
    private const int MostPieces = 32;
    private const int LeastPiece = 512;
    private const int TableBytes = Axes * MostBins * (32 + sizeof(int));

    /// <summary>Finds the cheapest cut with all threads of a crew: the same cut, bit for bit.</summary>
    /// <param name="boxes">The boxes.</param>
    /// <param name="count">The number of boxes.</param>
    /// <param name="partCost">What a part costs however few boxes it has, measured in boxes.</param>
    /// <param name="crew">The threads.</param>
    /// <param name="tables">Room for the bins of all pieces. They are needed again when the boxes are moved.</param>
    /// <param name="split">The cut.</param>
    /// <remarks>
    /// Least, greatest and number come out the same however the boxes are shared out; pieces only have to be joined in order.
    /// </remarks>
    public static void Find(
        Vector256<float>* boxes, int count, float partCost, WorkCrew crew, NativeMemoryBlock tables, out BinnedSplit split)
    {
        int size = PieceSize(count);
        int pieces = ((count - 1) / size) + 1;
        var extents = new Extent[pieces];
        crew.ForEach(count, size, (first, end) =>
        {
            Extent part = Extent.None;
            part.Take(boxes + first, end - first);
            extents[first / size] = part;
        });
        Extent extent = extents[0];
        for (int piece = 1; piece < pieces; piece++)
        {
            extent.Take(extents[piece]);
        }

        Prepare(extent, count, out split);
        int bins = BinsFor(count);
        BinnedSplit prepared = split;
        crew.ForEach(count, size, (first, end) =>
            prepared.Fill(boxes + first, end - first, BoundsOf(tables, 1 + (first / size)), CountsOf(tables, 1 + (first / size)), bins));
        Vector256<float>* bounds = BoundsOf(tables, 0);
        int* counts = CountsOf(tables, 0);
        Clear(bounds, counts, bins);
        for (int piece = 1; piece <= pieces; piece++)
        {
            Vector256<float>* ownBounds = BoundsOf(tables, piece);
            int* ownCounts = CountsOf(tables, piece);
            for (int i = 0; i < Axes * bins; i++)
            {
                bounds[i] = BoxVector.Around(bounds[i], ownBounds[i]);
                counts[i] += ownCounts[i];
            }
        }

        split.Choose(bounds, counts, bins, partCost, extent);
    }

    /// <summary>Returns room for the bins of a cut that a crew looks for together.</summary>
    public static NativeMemoryBlock TablesForCrew() => new((MostPieces + 1L) * TableBytes);

    /// <summary>Moves the boxes of a cut that a crew has found, with all its threads, to the same places.</summary>
    public readonly void Divide(Vector256<float>* source, Vector256<float>* target, int count, WorkCrew crew, NativeMemoryBlock tables)
    {
        int size = PieceSize(count);
        int pieces = ((count - 1) / size) + 1;
        int bins = BinsFor(count);
        var nearBefore = new int[pieces];
        int near = 0;
        for (int piece = 0; piece < pieces; piece++)
        {
            nearBefore[piece] = near;
            int* counts = CountsOf(tables, piece + 1) + (Axis * bins);
            for (int i = 0; i < FirstBin; i++)
            {
                near += counts[i];
            }
        }

        BinnedSplit split = this;
        crew.ForEach(count, size, (first, end) =>
        {
            int before = nearBefore[first / size];
            split.Divide(source + first, end - first, target + before, target + count - 1 - (first - before));
        });
    }

    private static int PieceSize(int count) => Math.Max(LeastPiece, ((count - 1) / MostPieces) + 1);

    private static Vector256<float>* BoundsOf(NativeMemoryBlock tables, int piece) =>
        (Vector256<float>*)(tables.Pointer + (piece * TableBytes));

    private static int* CountsOf(NativeMemoryBlock tables, int piece) => (int*)(BoundsOf(tables, piece) + (Axes * MostBins));
}
