using SonarGeom.Bodies;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Bodies;

/// <summary>The volume that overlapping closed surfaces fill together, by lines through the middles of a frontal grid.</summary>
internal static class BodyVolume
{
    internal static double OfUnion(PosedBody posed, double cell)
    {
        // Crossings per line: where, and whether a surface is entered (+1, walking along +X) or left (-1).
        Dictionary<(int Column, int Row), List<(double X, int Step)>> lines = [];
        foreach (BodySegment segment in posed.Body.Segments)
        {
            TriangleMesh mesh = posed.Mesh(segment.Id);
            foreach (Facet f in mesh.Facets)
            {
                Cross(mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            }
        }

        double length = 0;
        foreach (List<(double X, int Step)> line in lines.Values)
        {
            int depth = 0;
            double entered = 0;
            foreach ((double x, int step) in line.OrderBy(c => c.X))
            {
                entered = depth == 0 ? x : entered;
                depth += step;
                length += depth == 0 ? x - entered : 0;
            }
        }

        return length * cell * cell;

        void Cross(Vec3 a, Vec3 b, Vec3 c)
        {
            double area = ((b.Y - a.Y) * (c.Z - a.Z)) - ((c.Y - a.Y) * (b.Z - a.Z));
            if (area == 0)
            {
                return;
            }

            for (int row = Index(Math.Min(a.Z, Math.Min(b.Z, c.Z))); row <= Index(Math.Max(a.Z, Math.Max(b.Z, c.Z))); row++)
            {
                for (int column = Index(Math.Min(a.Y, Math.Min(b.Y, c.Y))); column <= Index(Math.Max(a.Y, Math.Max(b.Y, c.Y))); column++)
                {
                    // An odd offset keeps the lines off the vertices of the symmetric body.
                    double y = (column + 0.5137) * cell;
                    double z = (row + 0.4871) * cell;
                    double u = (((c.Y - b.Y) * (z - b.Z)) - ((y - b.Y) * (c.Z - b.Z))) / area;
                    double v = (((a.Y - c.Y) * (z - c.Z)) - ((y - c.Y) * (a.Z - c.Z))) / area;
                    if (u >= 0 && v >= 0 && u + v <= 1)
                    {
                        double x = (u * a.X) + (v * b.X) + ((1 - u - v) * c.X);
                        if (!lines.TryGetValue((column, row), out List<(double X, int Step)>? line))
                        {
                            lines[(column, row)] = line = [];
                        }

                        line.Add((x, area < 0 ? 1 : -1));
                    }
                }
            }
        }

        int Index(double at) => (int)Math.Floor(at / cell);
    }
}
