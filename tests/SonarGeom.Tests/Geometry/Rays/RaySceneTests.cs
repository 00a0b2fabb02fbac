using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Tests.Geometry.Rays;

public sealed class RaySceneTests
{
    [Fact]
    public void EmptySceneIsNeverHit()
    {
        Assert.Null(RayScene.Empty.ClosestHit(Vec3.Zero, Vec3.UnitX, 0, double.PositiveInfinity));
        Assert.False(RayScene.Empty.AnyHit(Vec3.Zero, Vec3.UnitX, 0, double.PositiveInfinity));
        Assert.Equal(0, RayScene.Empty.PrimitiveCount);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, 7)]
    [InlineData(3, 40)]
    [InlineData(4, 400)]
    public void EveryHitIsTheBruteForceHit(int seed, int count)
    {
        RandomScene random = new RandomScene(seed).Triangles(count, 1.0).Sheet(1 + (count / 40), 0.2).Solids(count, 0.5);
        CheckAll(random, seed, 2000, () => new Ray(random.Point(), random.Direction(), 0, double.PositiveInfinity));
    }

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    public void NearAndFarBoundTheHits(int seed)
    {
        RandomScene random = new RandomScene(seed).Triangles(100, 1.0).Solids(100, 0.5);
        CheckAll(random, seed, 2000, () =>
        {
            double near = random.Next(0, 2);
            return new Ray(random.Point(), random.Direction(), near, near + random.Next(0, 3));
        });
    }

    [Fact]
    public void RaysAlongAxesAndInCoordinatePlanesAreExact()
    {
        RandomScene random = new RandomScene(21).Triangles(150, 1.0).Sheet(8, 0).Solids(150, 0.5);
        Vec3[] axes = [Vec3.UnitX, Vec3.UnitY, Vec3.UnitZ, -Vec3.UnitX, -Vec3.UnitY, -Vec3.UnitZ];
        CheckAll(random, 21, 3000, () =>
        {
            Vec3 direction = axes[(int)random.Next(0, 6)];
            if (random.Next() < 0.5)
            {
                direction = (direction + (random.Next(-1, 1) * axes[(int)random.Next(0, 3)])).Normalized();
            }

            return new Ray(random.Point(), direction, 0, 50);
        });
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1e3)]
    [InlineData(1e6)]
    [InlineData(1e8)]
    public void RaysFromFarAwayAndHugeCoordinatesAreExact(double offsetMetres)
    {
        RandomScene random = new RandomScene(31, 4, offsetMetres * new Vec3(1, -0.7, 0.3)).Triangles(100, 1.0).Sheet(5, 0.3).Solids(60, 0.5);
        CheckAll(random, 31, 1000, () =>
        {
            Vec3 target = random.Point();
            Vec3 direction = random.Direction();
            return new Ray(target - (random.Next(0, 1000) * direction), direction, 0, double.PositiveInfinity);
        });
    }

    private static void CheckAll(RandomScene random, int seed, int rays, Func<Ray> next)
    {
        RayScene scene = random.Build();
        Assert.Equal(random.Count, scene.PrimitiveCount);
        int hits = 0;
        for (int i = 0; i < rays; i++)
        {
            Ray ray = next();
            RayHit? expected = random.BruteForce(ray);
            RayHit? found = scene.ClosestHit(ray.Origin, ray.UnitDirection, ray.NearMetres, ray.FarMetres);
            bool any = scene.AnyHit(ray.Origin, ray.UnitDirection, ray.NearMetres, ray.FarMetres);
            Assert.True(Agree(expected, found, random, ray), $"seed {seed}, ray {i} {ray}: expected {expected}, found {found}");
            Assert.True(any == expected.HasValue, $"seed {seed}, ray {i} {ray}: expected {expected}, any {any}");
            hits += expected.HasValue ? 1 : 0;
        }

        Assert.True(hits > rays / 20, $"only {hits} of {rays} rays hit anything");
    }

    // Single precision inside: distances may differ by some 2^-22 of the size of the scene, and of two surfaces nearer
    // to each other than that either may be named.
    private static bool Agree(RayHit? expected, RayHit? found, RandomScene random, Ray ray)
    {
        if (expected is null || found is null)
        {
            return expected is null && found is null;
        }

        double tolerance = 4e-6 * random.Size * (1 + (1e-9 * ray.Origin.Length));
        RayHit e = expected.Value;
        RayHit f = found.Value;
        return Math.Abs(e.DistanceMetres - f.DistanceMetres) <= tolerance
            && ((e.ObjectId == f.ObjectId && e.PrimitiveId == f.PrimitiveId)
                || (random.DistanceTo(ray, f.ObjectId, f.PrimitiveId) is double other
                    && Math.Abs(other - e.DistanceMetres) <= tolerance));
    }
}
