using System.Runtime.InteropServices;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>A file of rays: records of origin, unit direction, and how far to look for the nearest hit and for any hit.</summary>
/// <param name="Closest">The rays for the nearest hit.</param>
/// <param name="Any">The rays for any hit.</param>
internal sealed record RayFile(Ray[] Closest, Ray[] Any)
{
    private const int NumbersPerRay = 8;

    public static RayFile Read(string file)
    {
        ReadOnlySpan<float> n = MemoryMarshal.Cast<byte, float>(File.ReadAllBytes(file));
        var closest = new Ray[n.Length / NumbersPerRay];
        var any = new Ray[closest.Length];
        for (int i = 0; i < closest.Length; i++)
        {
            ReadOnlySpan<float> r = n.Slice(i * NumbersPerRay, NumbersPerRay);
            closest[i] = new Ray(new(r[0], r[1], r[2]), new(r[3], r[4], r[5]), 0, r[6]);
            any[i] = closest[i] with { FarMetres = r[7] };
        }

        return new RayFile(closest, any);
    }
}
