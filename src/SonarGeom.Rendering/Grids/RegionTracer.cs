namespace SonarGeom.Rendering.Grids;

/// <summary>Follows the edges of the cells that belong to a region.</summary>
internal static class RegionTracer
{
    // Directions counter-clockwise: right, up, left, down, in cell corners.
    private static readonly int[] StepX = [1, 0, -1, 0];
    private static readonly int[] StepY = [0, 1, 0, -1];

    /// <summary>Returns closed loops of corners; corner (0, 0) is the outer corner of the first cell. The inside is to the
    /// left, so that holes run the other way round; corners on straight stretches are left out.</summary>
    public static List<List<(int Column, int Row)>> Trace(int columns, int rows, Func<int, int, bool> isInside)
    {
        bool Inside(int c, int r) => c >= 0 && r >= 0 && c < columns && r < rows && isInside(c, r);
        int stride = columns + 1;
        byte[] leaving = new byte[stride * (rows + 1)];
        for (int r = 0; r < rows; r++)
        {
            for (int c = 0; c < columns; c++)
            {
                if (!Inside(c, r))
                {
                    continue;
                }

                int corner = (r * stride) + c;
                leaving[corner] |= Inside(c, r - 1) ? (byte)0 : (byte)1;
                leaving[corner + 1] |= Inside(c + 1, r) ? (byte)0 : (byte)2;
                leaving[corner + stride + 1] |= Inside(c, r + 1) ? (byte)0 : (byte)4;
                leaving[corner + stride] |= Inside(c - 1, r) ? (byte)0 : (byte)8;
            }
        }

        var loops = new List<List<(int Column, int Row)>>();
        for (int start = 0; start < leaving.Length; start++)
        {
            while (leaving[start] != 0)
            {
                loops.Add(Follow(leaving, stride, start));
            }
        }

        return loops;
    }

    private static List<(int Column, int Row)> Follow(byte[] leaving, int stride, int start)
    {
        var loop = new List<(int Column, int Row)>();
        int direction = int.TrailingZeroCount(leaving[start]);
        int first = direction;
        int column = start % stride;
        int row = start / stride;
        loop.Add((column, row));
        while (true)
        {
            leaving[(row * stride) + column] &= (byte)~(1 << direction);
            column += StepX[direction];
            row += StepY[direction];
            int corner = (row * stride) + column;
            if (corner == start)
            {
                if (direction == first && loop.Count > 1)
                {
                    loop.RemoveAt(0);
                }

                return loop;
            }

            // Where two cells touch at a corner only, the left turn keeps them apart.
            int turned = direction;
            foreach (int turn in (ReadOnlySpan<int>)[1, 0, 3])
            {
                int candidate = (direction + turn) & 3;
                if ((leaving[corner] & (1 << candidate)) != 0)
                {
                    turned = candidate;
                    break;
                }
            }

            if (turned != direction)
            {
                loop.Add((column, row));
            }

            direction = turned;
        }
    }
}
