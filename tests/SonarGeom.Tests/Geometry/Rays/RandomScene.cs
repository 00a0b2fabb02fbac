using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Geometry.Rays;

/// <summary>Seeded surfaces and rays, and the answers found by trying every primitive in turn.</summary>
internal sealed class RandomScene
{
    private readonly Random _random;
    private readonly RayScene.Builder _builder = new();
    private readonly List<(int ObjectId, int PrimitiveId, Func<Ray, double?> Intersect)> _all = [];
    private readonly Dictionary<int, int> _counts = [];

    public RandomScene(int seed, double size = 4, Vec3 centre = default)
    {
        _random = new Random(seed);
        Size = size;
        Centre = centre;
    }

    public double Size { get; }

    public Vec3 Centre { get; }

    public int Count => _all.Count;

    public double Next() => _random.NextDouble();

    public double Next(double low, double high) => low + ((high - low) * _random.NextDouble());

    public Vec3 Point() => Centre + new Vec3(Next(-Size, Size), Next(-Size, Size), Next(-Size, Size));

    public Vec3 Direction()
    {
        while (true)
        {
            Vec3 v = new(Next(-1, 1), Next(-1, 1), Next(-1, 1));
            if (v.LengthSquared is > 1e-3 and <= 1)
            {
                return v.Normalized();
            }
        }
    }

    public RandomScene Triangles(int count, double edge, int objectId = 1)
    {
        List<Vec3> vertices = [];
        List<Facet> facets = [];
        for (int i = 0; i < count; i++)
        {
            Vec3 a = Point();
            vertices.AddRange([a, a + (Next(0.01, edge) * Direction()), a + (Next(0.01, edge) * Direction())]);
            facets.Add(new Facet(3 * i, (3 * i) + 1, (3 * i) + 2));
        }

        return Mesh(new TriangleMesh([.. vertices], [.. facets]), objectId);
    }

    /// <summary>A bumpy sheet whose triangles share their edges.</summary>
    public RandomScene Sheet(int cells, double bump, int objectId = 2)
    {
        List<Vec3> vertices = [];
        List<Facet> facets = [];
        for (int j = 0; j <= cells; j++)
        {
            for (int i = 0; i <= cells; i++)
            {
                vertices.Add(Centre + new Vec3(
                    Size * ((2.0 * i / cells) - 1), Size * ((2.0 * j / cells) - 1), Next(-bump, bump)));
            }
        }

        for (int j = 0; j < cells; j++)
        {
            for (int i = 0; i < cells; i++)
            {
                int a = (j * (cells + 1)) + i;
                facets.Add(new Facet(a, a + 1, a + cells + 2));
                facets.Add(new Facet(a, a + cells + 2, a + cells + 1));
            }
        }

        return Mesh(new TriangleMesh([.. vertices], [.. facets]), objectId);
    }

    public RandomScene Mesh(TriangleMesh mesh, int objectId)
    {
        _ = _builder.AddMesh(mesh, objectId);
        foreach (Facet facet in mesh.Facets)
        {
            TriangleShape shape = new(mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]);
            Add(objectId, ray => shape.Intersect(ray));
        }

        return this;
    }

    public RandomScene Solids(int count, double largest, int objectId = 3)
    {
        for (int i = 0; i < count; i++)
        {
            Vec3 end1 = Point();
            Vec3 end2 = end1 + (Next(0.01, 4 * largest) * Direction());
            double radius = Next(0.02, largest);
            int id = objectId + (i % 3);
            switch (i % 5)
            {
                case 0:
                    _ = _builder.AddSphere(end1, radius, id);
                    RoundShape ball = new(end1, end1, radius, true);
                    Add(id, ray => ball.Intersect(ray));
                    break;
                case 1:
                    _ = _builder.AddCapsule(end1, end2, radius, id);
                    RoundShape capsule = new(end1, end2, radius, true);
                    Add(id, ray => capsule.Intersect(ray));
                    break;
                case 2:
                    _ = _builder.AddCylinder(end1, end2, radius, id);
                    RoundShape cylinder = new(end1, end2, radius, false);
                    Add(id, ray => cylinder.Intersect(ray));
                    break;
                default:
                    RigidTransform pose = new(
                        Rotation.FromAzimuthTiltRoll(Turn(i), Turn(i), Turn(i)), end1);
                    Vec3 half = new(Next(0.01, largest), Next(0.01, largest), Next(0.01, largest));
                    _ = _builder.AddBox(pose, half, id);
                    BoxShape box = new(pose, half);
                    Add(id, ray => box.Intersect(ray));
                    break;
            }
        }

        return this;
    }

    public RayScene Build(int threads = 0) => _builder.Build(threads);

    /// <summary>Returns what a ray hits first, by trying every primitive: the nearest, and of equals the first added.</summary>
    public RayHit? BruteForce(Ray ray)
    {
        RayHit? best = null;
        foreach ((int objectId, int primitiveId, Func<Ray, double?> intersect) in _all)
        {
            if (intersect(ray) is double distance && (best is null || distance < best.Value.DistanceMetres))
            {
                best = new RayHit(distance, objectId, primitiveId);
            }
        }

        return best;
    }

    /// <summary>Returns the distance to one primitive, or null.</summary>
    public double? DistanceTo(Ray ray, int objectId, int primitiveId) =>
        _all.Single(p => p.ObjectId == objectId && p.PrimitiveId == primitiveId).Intersect(ray);

    private Angle Turn(int i) => Angle.FromDegrees(i % 2 == 0 ? 0 : Next(-180, 180));

    private void Add(int objectId, Func<Ray, double?> intersect)
    {
        int primitiveId = _counts.GetValueOrDefault(objectId);
        _counts[objectId] = primitiveId + 1;
        _all.Add((objectId, primitiveId, intersect));
    }
}
