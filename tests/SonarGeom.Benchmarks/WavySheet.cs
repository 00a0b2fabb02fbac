using SonarGeom.Geometry;

namespace SonarGeom.Benchmarks;

/// <summary>A gently wavy sheet of 0.5 by 0.5 m, 1.5 m ahead.</summary>
internal static class WavySheet
{
    /// <summary>Makes the sheet of about a number of triangles.</summary>
    internal static TriangleMesh Of(int triangles)
    {
        int n = (int)Math.Sqrt(triangles / 2.0);
        var vertices = new Vec3[(n + 1) * (n + 1)];
        var facets = new List<Facet>(2 * n * n);
        for (int i = 0; i <= n; i++)
        {
            for (int j = 0; j <= n; j++)
            {
                double y = (0.5 * i / n) - 0.25;
                double z = (0.5 * j / n) - 0.25;
                vertices[(i * (n + 1)) + j] = new Vec3(1.5 + (0.02 * Math.Sin(9 * y) * Math.Sin(7 * z)), y, z);
            }
        }

        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                int a = (i * (n + 1)) + j;
                int c = a + n + 1;
                facets.Add(new Facet(a, c + 1, c));
                facets.Add(new Facet(a, a + 1, c + 1));
            }
        }

        return new TriangleMesh([.. vertices], [.. facets]);
    }
}
