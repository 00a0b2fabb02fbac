namespace SonarGeom.Geometry.Rays;

/// <summary>Splits a range into pieces that do not depend on the number of threads, and works on them in parallel.</summary>
internal static class Chunks
{
    private const int Size = 1 << 14;

    public static void ForEach(int count, ParallelOptions options, Action<int, int> work)
    {
        int chunks = (count + Size - 1) / Size;
        if (chunks <= 1 || options.MaxDegreeOfParallelism == 1)
        {
            for (int chunk = 0; chunk < chunks; chunk++)
            {
                work(chunk * Size, Math.Min(count, (chunk + 1) * Size));
            }

            return;
        }

        _ = Parallel.For(0, chunks, options, chunk => work(chunk * Size, Math.Min(count, (chunk + 1) * Size)));
    }
}
