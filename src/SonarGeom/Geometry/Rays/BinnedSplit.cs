using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Finds where to cut a set of boxes in two so that the expected cost of a ray is least: the surface area heuristic over bins
/// of the boxes' centres (Wald 2007, "On fast construction of SAH-based bounding volume hierarchies").
/// </summary>
internal unsafe struct BinnedSplit
{
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
        Vector128<float> low = Vector128.Create(float.PositiveInfinity);
        Vector128<float> high = Vector128.Create(float.NegativeInfinity);
        for (int i = 0; i < count; i++)
        {
            Vector128<float> centre = BoxVector.DoubleCentre(boxes[i]);
            low = Vector128.MinNative(low, centre);
            high = Vector128.MaxNative(high, centre);
        }

        int bins = BinsFor(count);
        Unsafe.SkipInit(out split);
        split.Axis = -1;
        Vector128<float> extent = high - low;
        split._start = low;
        split._scale = Vector128.ConditionalSelect(
            Vector128.GreaterThan(extent, Vector128<float>.Zero), Vector128.Create(bins * 0.99999f) / extent, Vector128<float>.Zero);
        split._last = Vector128.Create(bins - 1);

        Vector256<float>* bounds = stackalloc Vector256<float>[3 * MostBins];
        int* counts = stackalloc int[3 * MostBins];
        for (int i = 0; i < 3 * bins; i++)
        {
            bounds[i] = BoxVector.Empty;
            counts[i] = 0;
        }

        Vector256<float>* boundsY = bounds + bins;
        Vector256<float>* boundsZ = boundsY + bins;
        int* countsY = counts + bins;
        int* countsZ = countsY + bins;
        for (int i = 0; i < count; i++)
        {
            Vector256<float> box = boxes[i];
            Vector128<int> bin = split.BinOf(box);
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

        split.Sweep(bounds, counts, bins, partCost, extent);
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
    public readonly void Divide(Vector256<float>* source, Vector256<float>* target, int count)
    {
        int axis = Axis;
        int firstBin = FirstBin;
        Vector256<float>* near = target;
        Vector256<float>* far = target + count - 1;
        Vector128<int> threshold = Vector128.Create(firstBin);
        uint bit = 1u << axis;
        for (int i = 0; i < count; i++)
        {
            Vector256<float> box = source[i];
            uint isFar = Vector128.GreaterThanOrEqual(BinOf(box), threshold).ExtractMostSignificantBits() & bit;
            *near = box;
            *far = box;
            nint step = isFar == 0 ? 1 : 0;
            near += step;
            far -= 1 - step;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly Vector128<int> BinOf(Vector256<float> box) =>
        Vector128.Min(Vector128.ConvertToInt32Native((BoxVector.DoubleCentre(box) - _start) * _scale), _last);

    [SkipLocalsInit]
    private void Sweep(Vector256<float>* bounds, int* counts, int bins, float partCost, Vector128<float> extent)
    {
        float* farCosts = stackalloc float[MostBins];
        float best = float.PositiveInfinity;
        for (int axis = 0; axis < 3; axis++)
        {
            if (!(extent.GetElement(axis) > 0))
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
}
