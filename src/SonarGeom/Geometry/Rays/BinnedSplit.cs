using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Finds where to cut a set of boxes in two so that the expected cost of a ray is least: the surface area heuristic over bins
/// of the boxes' centres (Wald 2007, "On fast construction of SAH-based bounding volume hierarchies").
/// </summary>
internal unsafe partial struct BinnedSplit
{
    private const int Axes = 3;
    private const int MostBins = 96;

    /// <summary>The axis cut across, or -1 if no cut separates the centres.</summary>
    public int Axis;

    /// <summary>The first bin on the far side.</summary>
    public int FirstBin;

    /// <summary>How many boxes lie on the near side.</summary>
    public int NearCount;

    /// <summary>The box around the near side.</summary>
    public Vector256<float> NearBox;

    /// <summary>The box around the far side.</summary>
    public Vector256<float> FarBox;

    private Vector128<float> _start;
    private Vector128<float> _scale;
    private Vector128<int> _last;

    /// <summary>Finds the cheapest cut.</summary>
    /// <param name="boxes">The boxes.</param>
    /// <param name="count">The number of boxes.</param>
    /// <param name="partCost">What a part costs however few boxes it has, measured in boxes.</param>
    /// <param name="split">The cut.</param>
    [SkipLocalsInit]
    public static void Find(Vector256<float>* boxes, int count, float partCost, out BinnedSplit split)
    {
        Extent extent = Extent.None;
        extent.Take(boxes, count);
        Prepare(extent, count, out split);
        int bins = BinsFor(count);
        Vector256<float>* bounds = stackalloc Vector256<float>[Axes * MostBins];
        int* counts = stackalloc int[Axes * MostBins];
        split.Fill(boxes, count, bounds, counts, bins);
        split.Choose(bounds, counts, bins, partCost, extent);
    }

    // Cuts near the root decide which boxes every search meets: they are looked for more finely.
    private static int BinsFor(int count) => count switch
    {
        >= 4096 => MostBins,
        >= 512 => 64,
        >= 64 => 32,
        _ => 16,
    };

    /// <summary>Moves boxes to the two ends of another list: the near side in order, the far side reversed.</summary>
    public readonly void Divide(Vector256<float>* source, Vector256<float>* target, int count) =>
        Divide(source, count, target, target + count - 1);

    private readonly void Divide(Vector256<float>* source, int count, Vector256<float>* near, Vector256<float>* far)
    {
        Vector128<int> threshold = Vector128.Create(FirstBin);
        uint bit = 1u << Axis;
        for (int i = 0; i < count; i++)
        {
            Vector256<float> box = source[i];
            bool isFar = (Vector128.GreaterThanOrEqual(BinOf(box), threshold).ExtractMostSignificantBits() & bit) != 0;
            *(isFar ? far : near) = box;
            nint step = isFar ? 0 : 1;
            near += step;
            far -= 1 - step;
        }
    }

    private static void Prepare(Extent extent, int count, out BinnedSplit split)
    {
        int bins = BinsFor(count);
        Unsafe.SkipInit(out split);
        split.Axis = -1;
        Vector128<float> size = extent.Size;
        split._start = extent.Low;
        split._scale = Vector128.ConditionalSelect(
            Vector128.GreaterThan(size, Vector128<float>.Zero), Vector128.Create(bins * 0.99999f) / size, Vector128<float>.Zero);
        split._last = Vector128.Create(bins - 1);
    }

    private static void Clear(Vector256<float>* bounds, int* counts, int bins)
    {
        for (int i = 0; i < Axes * bins; i++)
        {
            bounds[i] = BoxVector.Empty;
            counts[i] = 0;
        }
    }

    private readonly void Fill(Vector256<float>* boxes, int count, Vector256<float>* bounds, int* counts, int bins)
    {
        Clear(bounds, counts, bins);
        Vector256<float>* boundsY = bounds + bins;
        Vector256<float>* boundsZ = boundsY + bins;
        int* countsY = counts + bins;
        int* countsZ = countsY + bins;
        for (int i = 0; i < count; i++)
        {
            Vector256<float> box = boxes[i];
            Vector128<int> bin = BinOf(box);
            int x = bin.ToScalar();
            int y = bin.GetElement(1);
            int z = bin.GetElement(2);
            bounds[x] = BoxVector.Around(bounds[x], box);
            boundsY[y] = BoxVector.Around(boundsY[y], box);
            boundsZ[z] = BoxVector.Around(boundsZ[z], box);
            counts[x]++;
            countsY[y]++;
            countsZ[z]++;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly Vector128<int> BinOf(Vector256<float> box) =>
        Vector128.Min(Vector128.ConvertToInt32Native((BoxVector.DoubleCentre(box) - _start) * _scale), _last);

    [SkipLocalsInit]
    private void Choose(Vector256<float>* bounds, int* counts, int bins, float partCost, Extent extent)
    {
        float* farCosts = stackalloc float[MostBins];
        float best = float.PositiveInfinity;
        for (int axis = 0; axis < 3; axis++)
        {
            if (!(extent.Size.GetElement(axis) > 0))
            {
                continue;
            }

            Vector256<float>* boxes = bounds + (axis * bins);
            int* numbers = counts + (axis * bins);
            Vector256<float> box = BoxVector.Empty;
            int held = 0;
            for (int i = bins - 1; i > 0; i--)
            {
                box = BoxVector.Around(box, boxes[i]);
                held += numbers[i];
                farCosts[i] = held == 0 ? float.PositiveInfinity : BoxVector.HalfArea(box) * (held + partCost);
            }

            box = BoxVector.Empty;
            held = 0;
            for (int i = 1; i < bins; i++)
            {
                box = BoxVector.Around(box, boxes[i - 1]);
                held += numbers[i - 1];
                float cost = held == 0 ? float.PositiveInfinity : (BoxVector.HalfArea(box) * (held + partCost)) + farCosts[i];
                if (cost < best)
                {
                    (best, Axis, FirstBin, NearCount) = (cost, axis, i, held);
                }
            }
        }

        if (Axis < 0)
        {
            return;
        }

        NearBox = BoxVector.Empty;
        FarBox = BoxVector.Empty;
        for (int i = 0; i < bins; i++)
        {
            Vector256<float> box = bounds[(Axis * bins) + i];
            (NearBox, FarBox) = i < FirstBin
                ? (BoxVector.Around(NearBox, box), FarBox)
                : (NearBox, BoxVector.Around(FarBox, box));
        }
    }

    /// <summary>Twice the least and greatest coordinates of centres.</summary>
    private struct Extent
    {
        public Vector128<float> Low;
        public Vector128<float> High;

        public static Extent None => new() { Low = Vector128.Create(float.PositiveInfinity), High = Vector128.Create(float.NegativeInfinity) };

        public readonly Vector128<float> Size => High - Low;

        public void Take(Vector256<float>* boxes, int count)
        {
            Vector128<float> low = Low;
            Vector128<float> high = High;
            for (int i = 0; i < count; i++)
            {
                Vector128<float> centre = BoxVector.DoubleCentre(boxes[i]);
                low = Vector128.MinNative(low, centre);
                high = Vector128.MaxNative(high, centre);
            }

            (Low, High) = (low, high);
        }

        public void Take(Extent other) => (Low, High) = (Vector128.MinNative(Low, other.Low), Vector128.MaxNative(High, other.High));
    }
}
