namespace SonarGeom.Geometry.Rays;

/// <summary>Asks a second set of surfaces about the rays that have met nothing in the first.</summary>
internal static class RemainingRays
{
    private const int RaysAtATime = 64;

    /// <summary>Marks, of the rays without a hit, those on which something lies.</summary>
    /// <param name="scene">The surfaces.</param>
    /// <param name="rays">All rays.</param>
    /// <param name="hits">An entry for each ray.</param>
    public static void AnyHits(IRayScene scene, ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        Span<Ray> remaining = stackalloc Ray[RaysAtATime];
        Span<int> numbers = stackalloc int[RaysAtATime];
        Span<bool> found = stackalloc bool[RaysAtATime];
        int count = 0;
        for (int i = 0; i < rays.Length; i++)
        {
            if (!hits[i])
            {
                remaining[count] = rays[i];
                numbers[count++] = i;
            }

            if (count == RaysAtATime || (i == rays.Length - 1 && count > 0))
            {
                scene.AnyHits(remaining[..count], found);
                for (int j = 0; j < count; j++)
                {
                    hits[numbers[j]] = found[j];
                }

                count = 0;
            }
        }
    }
}
