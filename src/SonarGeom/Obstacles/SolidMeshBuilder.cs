using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>Collects closed meshes of simple solids, facets counter-clockwise seen from outside.</summary>
internal sealed class SolidMeshBuilder
{
    private readonly ImmutableArray<Vec3>.Builder _vertices = ImmutableArray.CreateBuilder<Vec3>();
    private readonly ImmutableArray<Facet>.Builder _facets = ImmutableArray.CreateBuilder<Facet>();

    /// <summary>Adds a solid.</summary>
    internal void Add(SolidPrimitive solid, int sides)
    {
        switch (solid)
        {
            case SolidBox box:
                AddBox(box);
                break;
            case SolidCylinder rod:
                double length = rod.End1Metres.DistanceTo(rod.End2Metres);
                AddRevolved(FrameAlong(rod.End1Metres, rod.End2Metres), [(rod.RadiusMetres, 0), (rod.RadiusMetres, length)], sides);
                break;
            case SolidSphere ball:
                var profile = new List<(double, double)>();
                for (int i = 0; i <= sides / 2; i++)
                {
                    double angle = Math.PI * i / (sides / 2);
                    profile.Add((i == 0 || i == sides / 2 ? 0 : ball.RadiusMetres * Math.Sin(angle), -ball.RadiusMetres * Math.Cos(angle)));
                }

                AddRevolved(new RigidTransform(Rotation.Identity, ball.CentreMetres), profile, sides);
                break;
            case SolidMesh mesh:
                int first = _vertices.Count;
                _vertices.AddRange(mesh.Mesh.Vertices);
                foreach (Facet f in mesh.Mesh.Facets)
                {
                    _facets.Add(new Facet(f.A + first, f.B + first, f.C + first));
                }

                break;
        }
    }

    /// <summary>Adds a profile (radius, height), bottom first, turned about the Z axis of a frame, with flat ends where the radius is not 0.</summary>
    internal void AddRevolved(RigidTransform worldFromShape, IReadOnlyList<(double Radius, double Z)> profile, int sides)
    {
        int[] ring = new int[profile.Count];
        for (int j = 0; j < profile.Count; j++)
        {
            ring[j] = _vertices.Count;
            int points = profile[j].Radius > 0 ? sides : 1;
            for (int i = 0; i < points; i++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * i / sides);
                _vertices.Add(worldFromShape.ApplyToPoint(new Vec3(profile[j].Radius * c, profile[j].Radius * s, profile[j].Z)));
            }
        }

        for (int j = 0; j + 1 < profile.Count; j++)
        {
            AddBand(ring[j], profile[j].Radius > 0, ring[j + 1], profile[j + 1].Radius > 0, sides);
        }

        AddEnd(worldFromShape, profile[0], ring[0], sides, isBottom: true);
        AddEnd(worldFromShape, profile[^1], ring[^1], sides, isBottom: false);
    }

    /// <summary>Returns everything collected.</summary>
    internal TriangleMesh Build() => new(_vertices.ToImmutable(), _facets.ToImmutable());

    private static RigidTransform FrameAlong(Vec3 origin, Vec3 tip)
    {
        Vec3 z = (tip - origin).Normalized();
        Vec3 x = (Math.Abs(z.Z) < 0.9 ? Vec3.UnitZ.Cross(z) : Vec3.UnitX.Cross(z)).Normalized();
        return new RigidTransform(new Rotation(x, z.Cross(x), z), origin);
    }

    private void AddBand(int low, bool lowIsRing, int high, bool highIsRing, int sides)
    {
        for (int i = 0; i < sides; i++)
        {
            int n = (i + 1) % sides;
            if (lowIsRing)
            {
                _facets.Add(new Facet(low + i, low + n, highIsRing ? high + n : high));
            }

            if (highIsRing)
            {
                _facets.Add(new Facet(lowIsRing ? low + i : low, high + n, high + i));
            }
        }
    }

    private void AddEnd(RigidTransform worldFromShape, (double Radius, double Z) rim, int ring, int sides, bool isBottom)
    {
        if (rim.Radius <= 0)
        {
            return;
        }

        int middle = _vertices.Count;
        _vertices.Add(worldFromShape.ApplyToPoint(new Vec3(0, 0, rim.Z)));
        for (int i = 0; i < sides; i++)
        {
            int n = (i + 1) % sides;
            _facets.Add(isBottom ? new Facet(middle, ring + n, ring + i) : new Facet(middle, ring + i, ring + n));
        }
    }

    private void AddBox(SolidBox box)
    {
        int first = _vertices.Count;
        for (int i = 0; i < 8; i++)
        {
            Vec3 h = box.HalfSizesMetres;
            _vertices.Add(box.WorldFromBox.ApplyToPoint(new Vec3((i & 1) != 0 ? h.X : -h.X, (i & 2) != 0 ? h.Y : -h.Y, (i & 4) != 0 ? h.Z : -h.Z)));
        }

        ReadOnlySpan<int> quads = [0, 4, 6, 2, 1, 3, 7, 5, 0, 1, 5, 4, 2, 6, 7, 3, 0, 2, 3, 1, 4, 5, 7, 6];
        for (int q = 0; q < quads.Length; q += 4)
        {
            _facets.Add(new Facet(first + quads[q], first + quads[q + 1], first + quads[q + 2]));
            _facets.Add(new Facet(first + quads[q], first + quads[q + 2], first + quads[q + 3]));
        }
    }
}
