using System.Runtime.CompilerServices;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Draws surfaces onto the frontal grid, the foremost point winning.</summary>
internal sealed class SilhouetteRaster(double cell, int halfColumns, int rows, double[] foremost)
{
    // Cell middles on an edge count as inside, so that neighbouring facets leave no gap.
    private const double Edge = -1e-12;

    // Compiled at once at full speed: a silhouette is drawn before a just-in-time compiler would come round to it.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal void Add(TriangleMesh mesh)
    {
        ReadOnlySpan<Vec3> vertices = mesh.Vertices.AsSpan();
        foreach (ref readonly Facet f in mesh.Facets.AsSpan())
        {
            Draw(in vertices[f.A], in vertices[f.B], in vertices[f.C]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Draw(in Vec3 a, in Vec3 b, in Vec3 c)
    {
        double area = ((b.Y - a.Y) * (c.Z - a.Z)) - ((c.Y - a.Y) * (b.Z - a.Z));
        if (!(area > 0))
        {
            return;
        }

        int columns = 2 * halfColumns;
        int firstRow = Math.Max(0, First(Math.Min(a.Z, Math.Min(b.Z, c.Z)), 0));
        int lastRow = Math.Min(rows - 1, Last(Math.Max(a.Z, Math.Max(b.Z, c.Z)), 0));
        int firstColumn = Math.Max(0, First(Math.Min(a.Y, Math.Min(b.Y, c.Y)), halfColumns));
        int lastColumn = Math.Min(columns - 1, Last(Math.Max(a.Y, Math.Max(b.Y, c.Y)), halfColumns));
        double inverse = 1 / area;
        for (int row = firstRow; row <= lastRow; row++)
        {
            double z = (row + 0.5) * cell;
            for (int column = firstColumn; column <= lastColumn; column++)
            {
                double y = (column - halfColumns + 0.5) * cell;
                double u = inverse * (((c.Y - b.Y) * (z - b.Z)) - ((y - b.Y) * (c.Z - b.Z)));
                double v = inverse * (((a.Y - c.Y) * (z - c.Z)) - ((y - c.Y) * (a.Z - c.Z)));
                double w = 1 - u - v;
                if (u >= Edge && v >= Edge && w >= Edge)
                {
                    double x = (u * a.X) + (v * b.X) + (w * c.X);
                    ref double at = ref foremost[(row * columns) + column];
                    at = Math.Max(at, x);
                }
            }
        }
    }

    private int First(double low, int offset) => (int)Math.Ceiling((low / cell) - 0.5 - 1e-9) + offset;

    private int Last(double high, int offset) => (int)Math.Floor((high / cell) - 0.5 + 1e-9) + offset;
}
