using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Tests.Geometry.Rays;

/// <summary>A batch of rays, however they come, gives each ray what it finds alone, and that is what brute force finds.</summary>
public sealed class RayBatchTests
{
    private const int RaysPerFan = 700;

    [Theory]
    [InlineData(1, 3, 0.0)]
    [InlineData(2, 60, 0.2)]
    [InlineData(3, 300, 0.0)]
    public void FansOfNeighboursFindTheBruteForceHits(int seed, int count, double bump)
    {
        RandomScene random = new RandomScene(seed).Triangles(count, 1.0).Sheet(4 + (count / 20), bump).Solids(count / 2, 0.5);
        List<Ray> rays = [];
        for (int i = 0; i < 3; i++)
        {
            AddFan(rays, random, 0.3, double.PositiveInfinity);
            AddFan(rays, random, 3.0, 2.0);
        }

        CheckAgainstBruteForce(random, seed, [.. rays]);
    }

    [Theory]
    [InlineData(21, 0.6)]
    [InlineData(22, 3.0)]
    public void FansFromOutsideFindTheSame(int seed, double width)
    {
        RandomScene random = new RandomScene(seed).Triangles(120, 1.0).Sheet(9, 0.1).Solids(60, 0.5);
        List<Ray> rays = [];
        for (int i = 0; i < 12; i++)
        {
            Vec3 eye = random.Centre + (random.Next(3, 15) * random.Direction());
            Vec3 axis = (random.Point() - eye).Normalized();
            double far = random.Next(2, 25);
            for (int j = 0; j < RaysPerFan; j++)
            {
                Vec3 aside = width * new Vec3((j % 26 / 26.0) - 0.5, (j / 26 / 26.0) - 0.5, 0);
                Vec3 direction = i % 3 == 0 && j % 5 == 0 ? new Vec3(axis.X > 0 ? 1 : -1, 0, 0) : (axis + aside).Normalized();
                Vec3 place = i % 3 == 0 ? new Vec3(eye.X, random.Next(-4.5, 4.5), random.Next(-4.5, 4.5)) : eye;
                rays.Add(new Ray(place, direction, i % 4 == 1 ? 3 : 0, i % 2 == 0 ? double.PositiveInfinity : far));
            }
        }

        CheckAgainstBruteForce(random, seed, [.. rays]);
    }

    [Fact]
    public void ABatchInAnEmptySceneFindsNothing()
    {
        Ray[] rays = [.. Enumerable.Range(0, 40).Select(i => new Ray(Vec3.Zero, new Vec3(1, 0.01 * i, 0).Normalized(), 0, 5))];
        var closest = new RayHit?[rays.Length];
        var any = new bool[rays.Length];
        any.AsSpan().Fill(true);
        RayScene.Empty.ClosestHits(rays, closest, 1);
        RayScene.Empty.AnyHits(rays, any, 1);
        Assert.All(closest, hit => Assert.Null(hit));
        Assert.DoesNotContain(true, any);
    }

    [Fact]
    public void ShuffledRaysInALargeTreeAreSortedAndFindTheSame()
    {
        RandomScene random = new RandomScene(7).Triangles(300, 1.0).Sheet(220, 0.05);
        List<Ray> rays = [];
        for (int i = 0; i < 8; i++)
        {
            AddFan(rays, random, 0.5, double.PositiveInfinity);
        }

        Ray[] shuffled = [.. rays];
        new Random(7).Shuffle(shuffled);
        CheckAgainstAlone(random.Build(), 7, shuffled);
    }

    [Fact]
    public void OddRaysAmongNeighboursFindTheSame()
    {
        RandomScene random = new RandomScene(8).Triangles(80, 1.0).Sheet(6, 0).Solids(40, 0.5);
        List<Ray> rays = [];
        AddFan(rays, random, 0.4, 5);
        for (int i = 0; i < rays.Count; i += 13)
        {
            rays[i] = (i % 4) switch
            {
                0 => rays[i] with { UnitDirection = new Vec3(i % 3 == 0 ? -1 : 1, 0, 0) },
                1 => rays[i] with { Origin = random.Centre + (20 * random.Direction()) },
                2 => rays[i] with { NearMetres = 3, FarMetres = 1 },
                _ => rays[i] with { NearMetres = -1, FarMetres = double.PositiveInfinity },
            };
        }

        CheckAgainstAlone(random.Build(), 8, [.. rays]);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(33)]
    [InlineData(1500)]
    public void ShuffledRaysOfManyLengthsTravelTogetherAndFindTheSame(int solids)
    {
        RandomScene random = new RandomScene(11).Triangles(200, 1.0).Sheet(30, 0.1).Solids(solids, 0.3);
        List<Ray> rays = [];
        for (int i = 0; i < 5; i++)
        {
            AddFan(rays, random, 2.5, random.Next(1, 9));
        }

        for (int i = 0; i < rays.Count; i += 97)
        {
            rays[i] = (i % 3) switch
            {
                0 => rays[i] with { UnitDirection = new Vec3(0, i % 2 == 0 ? -1 : 1, 0) },
                1 => rays[i] with { Origin = random.Centre + (20 * random.Direction()) },
                _ => rays[i] with { NearMetres = 0.5 },
            };
        }

        Ray[] shuffled = [.. rays];
        new Random(11).Shuffle(shuffled);
        CheckAgainstAlone(random.Build(), 11, shuffled);
        CheckAgainstAlone(random.Build(), 11, shuffled[..40]);
    }

    [Fact]
    public void ManyRaysThroughManyLayersFindTheSame()
    {
        // Nearly every ray meets every box and no triangle, so that the lists of rays outgrow the room kept for them.
        RandomScene random = new RandomScene(12).Triangles(20, 0.1);
        for (int i = 0; i < 4000; i++)
        {
            Vec3 corner = random.Centre + new Vec3(-3, -3, 0.0001 * i);
            _ = random.Mesh(new TriangleMesh([corner, corner + new Vec3(6, 0, 0), corner + new Vec3(0, 6, 0)], [new Facet(0, 1, 2)]), 1);
        }

        List<Ray> rays = [];
        for (int i = 0; i < 3000; i++)
        {
            double aside = i % 10 == 0 ? -1 : 1;
            Vec3 from = random.Centre + new Vec3(aside, aside + (i / 3000.0), i % 2 == 0 ? -2 : 2);
            rays.Add(new Ray(from, new Vec3(0.02 * (i % 7), 0.02 * (i % 11), i % 2 == 0 ? 1 : -1).Normalized(), 0, 5));
        }

        CheckAgainstAlone(random.Build(), 12, [.. rays]);
    }

    [Fact]
    public void RaysThroughSharedCornersFindTheSame()
    {
        RandomScene random = new RandomScene(9).Sheet(16, 0).Sheet(16, 0, 4);
        Vec3 eye = random.Centre + new Vec3(0.1, -0.2, 3);
        List<Ray> rays = [];
        for (int j = 0; j <= 64; j++)
        {
            for (int i = 0; i <= 64; i++)
            {
                Vec3 target = random.Centre + new Vec3(random.Size * ((i / 32.0) - 1), random.Size * ((j / 32.0) - 1), 0);
                rays.Add(new Ray(eye, (target - eye).Normalized(), 0, double.PositiveInfinity));
            }
        }

        CheckAgainstAlone(random.Build(), 9, [.. rays]);
    }

    [Fact]
    public void TheNumberOfThreadsChangesNothing()
    {
        RandomScene random = new RandomScene(10).Triangles(200, 1.0).Sheet(40, 0.2).Solids(50, 0.5);
        RayScene scene = random.Build();
        List<Ray> rays = [];
        for (int i = 0; i < 20; i++)
        {
            AddFan(rays, random, 1.0, 6);
        }

        var one = new RayHit?[rays.Count];
        var many = new RayHit?[rays.Count];
        scene.ClosestHits(rays.ToArray(), one, 1);
        scene.ClosestHits(rays.ToArray(), many, 3);
        Assert.Equal(one, many);
    }

    private static void AddFan(List<Ray> rays, RandomScene random, double width, double farMetres)
    {
        Vec3 eye = random.Point();
        Vec3 axis = (random.Centre + new Vec3(random.Next(-3, 3), random.Next(-3, 3), 0) - eye).Normalized();
        for (int i = 0; i < RaysPerFan; i++)
        {
            Vec3 aside = width * new Vec3((i % 26 / 26.0) - 0.5, (i / 26 / 26.0) - 0.5, 0);
            rays.Add(new Ray(eye, (axis + aside).Normalized(), 0, farMetres));
        }
    }

    private static void CheckAgainstBruteForce(RandomScene random, int seed, Ray[] rays)
    {
        CheckAgainstAlone(random.Build(), seed, rays);
        var found = new RayHit?[rays.Length];
        random.Build().ClosestHits(rays, found, 1);
        double tolerance = 4e-6 * random.Size;
        for (int i = 0; i < rays.Length; i++)
        {
            RayHit? expected = random.BruteForce(rays[i]);
            Assert.True(
                expected is null == found[i] is null
                && (expected is null || Math.Abs(expected.Value.DistanceMetres - found[i]!.Value.DistanceMetres) <= tolerance),
                $"seed {seed}, ray {i} {rays[i]}: expected {expected}, found {found[i]}");
        }
    }

    private static void CheckAgainstAlone(RayScene scene, int seed, Ray[] rays)
    {
        var closest = new RayHit?[rays.Length];
        var any = new bool[rays.Length];
        scene.ClosestHits(rays, closest, 1);
        scene.AnyHits(rays, any, 1);
        int hits = 0;
        for (int i = 0; i < rays.Length; i++)
        {
            Ray ray = rays[i];
            RayHit? alone = scene.ClosestHit(ray.Origin, ray.UnitDirection, ray.NearMetres, ray.FarMetres);
            Assert.True(alone == closest[i], $"seed {seed}, ray {i} {ray}: alone {alone}, in the batch {closest[i]}");
            Assert.True(alone.HasValue == any[i], $"seed {seed}, ray {i} {ray}: alone {alone}, any in the batch {any[i]}");
            hits += any[i] ? 1 : 0;
        }

        Assert.True(hits > rays.Length / 20, $"only {hits} of {rays.Length} rays hit anything");
    }
}
