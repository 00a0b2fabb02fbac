using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Questions to a closed surface that are asked seldom enough to look at every facet.</summary>
internal static class SurfacePoint
{
    /// <summary>Returns the outermost point of a surface in a direction from a point, and the smooth outward normal there.</summary>
    /// <exception cref="InvalidOperationException">Nothing lies in that direction.</exception>
    internal static (Vec3 Position, Vec3 OutwardNormal) Outermost(TriangleMesh mesh, Vec3 from, Vec3 direction)
    {
        double farthest = double.NegativeInfinity;
        (Facet Facet, double V, double W) hit = default;
        foreach (Facet f in mesh.Facets)
        {
            // Möller and Trumbore 1997, J Graphics Tools 2:21-28, with edges counted as inside.
            Vec3 a = mesh.Vertices[f.A];
            Vec3 e1 = mesh.Vertices[f.B] - a;
            Vec3 e2 = mesh.Vertices[f.C] - a;
            Vec3 p = direction.Cross(e2);
            double det = e1.Dot(p);
            if (det == 0)
            {
                continue;
            }

            Vec3 t = from - a;
            double v = t.Dot(p) / det;
            Vec3 q = t.Cross(e1);
            double w = direction.Dot(q) / det;
            double distance = e2.Dot(q) / det;
            if (v >= -1e-9 && w >= -1e-9 && v + w <= 1 + 1e-9 && distance > 0 && distance > farthest + 1e-12)
            {
                farthest = distance;
                hit = (f, v, w);
            }
        }

        if (double.IsNegativeInfinity(farthest))
        {
            throw new InvalidOperationException("No surface lies in that direction.");
        }

        Vec3 normal = ((1 - hit.V - hit.W) * VertexNormal(mesh, hit.Facet.A))
            + (hit.V * VertexNormal(mesh, hit.Facet.B))
            + (hit.W * VertexNormal(mesh, hit.Facet.C));
        Vec3 position = from + (farthest * direction);
        if (position.Y == 0)
        {
            normal = normal with { Y = 0 };
        }

        return (position, normal.Normalized());
    }

    /// <summary>Returns how many times a closed surface winds round a point: 1 inside, 0 outside.</summary>
    /// <remarks>Sum of the solid angles of the facets. Source: Van Oosterom and Strackee 1983, IEEE Trans Biomed Eng 30:125-126,
    /// Eq. 8.</remarks>
    internal static double Winding(TriangleMesh mesh, Vec3 point)
    {
        double sum = 0;
        foreach (Facet f in mesh.Facets)
        {
            Vec3 a = mesh.Vertices[f.A] - point;
            Vec3 b = mesh.Vertices[f.B] - point;
            Vec3 c = mesh.Vertices[f.C] - point;
            double la = a.Length;
            double lb = b.Length;
            double lc = c.Length;
            double below = (la * lb * lc) + (a.Dot(b) * lc) + (a.Dot(c) * lb) + (b.Dot(c) * la);
            sum += 2 * Math.Atan2(a.Dot(b.Cross(c)), below);
        }

        return sum / (4 * Math.PI);
    }

    private static Vec3 VertexNormal(TriangleMesh mesh, int vertex)
    {
        Vec3 sum = Vec3.Zero;
        foreach (Facet f in mesh.Facets)
        {
            if (f.A == vertex || f.B == vertex || f.C == vertex)
            {
                Vec3 a = mesh.Vertices[f.A];
                sum += (mesh.Vertices[f.B] - a).Cross(mesh.Vertices[f.C] - a);
            }
        }

        return sum.Normalized();
    }
}
