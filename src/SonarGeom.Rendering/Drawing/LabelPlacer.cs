namespace SonarGeom.Rendering.Drawing;

/// <summary>Finds free places for labels beside points.</summary>
internal sealed class LabelPlacer(Box bounds)
{
    private const double SampleDistance = 7;

    private readonly List<Box> _taken = [];
    private readonly List<(double X, double Y)> _lines = [];

    public void Take(Box box) => _taken.Add(box);

    /// <summary>Marks lines that labels keep off where they can.</summary>
    public void Avoid(Outline outline)
    {
        for (int p = 0; p < outline.PartCount; p++)
        {
            (int start, int end, bool closed) = outline.Part(p);
            double since = 0;
            for (int i = start; i < (closed ? end : end - 1); i++)
            {
                (double x1, double y1) = outline.Point(i);
                (double x2, double y2) = outline.Point(i + 1 < end ? i + 1 : start);
                double length = Math.Sqrt(((x2 - x1) * (x2 - x1)) + ((y2 - y1) * (y2 - y1)));
                for (double at = SampleDistance - since; at < length; at += SampleDistance)
                {
                    _lines.Add((x1 + ((x2 - x1) * at / length), y1 + ((y2 - y1) * at / length)));
                }

                since = (since + length) % SampleDistance;
            }
        }
    }

    public bool IsFree(Box box) => bounds.Contains(box) && !_taken.Exists(t => t.Overlaps(box));

    /// <summary>Returns the free box of the given size nearest to a point, off all lines if there is one near, and whether
    /// it lies so far off that a line to the point is needed; null when there is none.</summary>
    public (Box Box, bool IsFar)? Beside(double x, double y, double width, double height, double clearance)
    {
        const int rings = 8;
        const int ringsOffLines = 4;
        return Beside(x, y, width, height, clearance, ringsOffLines, true)
            ?? Beside(x, y, width, height, clearance, rings, false);
    }

    private (Box Box, bool IsFar)? Beside(
        double x, double y, double width, double height, double clearance, int rings, bool isOffLines)
    {
        for (int ring = 0; ring < rings; ring++)
        {
            double d = clearance + (ring * 0.8 * height);
            (double Left, double Top)[] places =
            [
                (x + d, y - (0.5 * height)),
                (x - d - width, y - (0.5 * height)),
                (x - (0.5 * width), y - d - height),
                (x - (0.5 * width), y + d),
                (x + (0.7 * d), y - (0.7 * d) - height),
                (x - (0.7 * d) - width, y - (0.7 * d) - height),
                (x + (0.7 * d), y + (0.7 * d)),
                (x - (0.7 * d) - width, y + (0.7 * d)),
            ];
            foreach ((double left, double top) in places)
            {
                var box = Box.FromSize(left, top, width, height);
                if (IsFree(box) && !(isOffLines && _lines.Exists(p => box.Contains(p.X, p.Y))))
                {
                    Take(box);
                    return (box, ring > 0);
                }
            }
        }

        return null;
    }

    /// <summary>Moves centres on a line apart until they keep a distance, as little as possible in the sense of least
    /// squares, and inside a range where that is possible.</summary>
    public static double[] Spread(ReadOnlySpan<double> wanted, ReadOnlySpan<double> sizes, double low, double high)
    {
        int n = wanted.Length;
        int[] order = new int[n];
        double[] keys = wanted.ToArray();
        for (int i = 0; i < n; i++)
        {
            order[i] = i;
        }

        Array.Sort(keys, order);

        // With the sizes before it taken off, each centre must not be less than the one before: pool those that are.
        double[] offset = new double[n];
        double total = 0;
        var pools = new List<(double Mean, int Count)>();
        for (int k = 0; k < n; k++)
        {
            double size = sizes[order[k]];
            offset[k] = total + (0.5 * size);
            total += size;
            (double Mean, int Count) pool = (keys[k] - offset[k], 1);
            while (pools.Count > 0 && pools[^1].Mean > pool.Mean)
            {
                (double mean, int count) = pools[^1];
                pools.RemoveAt(pools.Count - 1);
                pool = (((mean * count) + (pool.Mean * pool.Count)) / (count + pool.Count), count + pool.Count);
            }

            pools.Add(pool);
        }

        double[] at = new double[n];
        int next = 0;
        foreach ((double mean, int count) in pools)
        {
            double start = Math.Max(low, Math.Min(mean, high - total));
            for (int i = 0; i < count; i++, next++)
            {
                at[order[next]] = start + offset[next];
            }
        }

        return at;
    }
}
