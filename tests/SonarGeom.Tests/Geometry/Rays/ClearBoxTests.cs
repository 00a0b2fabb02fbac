using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Tests.Geometry.Rays;

/// <summary>A box that is called clear is one in which no ray finds anything, and empty ones are mostly found to be.</summary>
public sealed class ClearBoxTests
{
    [Theory]
    [InlineData(1, 0)]
    [InlineData(2, 300)]
    public void NoRayHitsAnythingInAClearBox(int seed, double away)
    {
        RandomScene random = new RandomScene(seed, centre: new Vec3(away, -away, 0)).Triangles(150, 0.8).Solids(60, 0.3);
        RayScene scene = random.Build();
        int clear = 0, hits = 0;
        for (int i = 0; i < 3000; i++)
        {
            Vec3 middle = random.Point();
            var half = new Vec3(random.Next(0.01, 0.5), random.Next(0.01, 0.5), random.Next(0.01, 0.5));
            bool isClear = scene.IsClear(middle - half, middle + half);
            clear += isClear ? 1 : 0;
            for (int j = 0; j < 20; j++)
            {
                Vec3 from = middle + InBox(random, half), to = middle + InBox(random, half);
                double length = from.DistanceTo(to);
                bool isHit = scene.AnyHit(from, (to - from) / length, 0, length);
                hits += isHit ? 1 : 0;
                Assert.False(isClear && isHit, $"seed {seed}, box {i} from {middle - half} to {middle + half}");
            }
        }

        Assert.InRange(clear, 300, 2700);
        Assert.True(hits > 100);
    }

    [Fact]
    public void BoxesBesideAndRoundASphereAreToldApart()
    {
        RayScene scene = new RayScene.Builder().AddSphere(new Vec3(1, 2, 3), 0.5, 1).Build();
        Assert.True(scene.IsClear(new Vec3(1.501, 0, 0), new Vec3(9, 9, 9)));
        Assert.False(scene.IsClear(new Vec3(1.499, 0, 0), new Vec3(9, 9, 9)));
        Assert.False(scene.IsClear(new Vec3(0.9, 1.9, 2.9), new Vec3(1.1, 2.1, 3.1)));
        Assert.True(new MovedScene(scene, new Vec3(1, 0, 0)).IsClear(new Vec3(1.4, 0, 0), new Vec3(1.49, 9, 9)));
        Assert.True(RayScene.Empty.IsClear(new Vec3(-9, -9, -9), new Vec3(9, 9, 9)));
    }

    [Fact]
    public void FreeSharesAreTheSameWithoutIt()
    {
        RandomScene random = new RandomScene(5, size: 1).Triangles(80, 0.4).Solids(20, 0.15);
        RayScene scene = random.Build();
        var raysOnly = new RaysOnly(scene);
        int free = 0, partly = 0;
        for (int i = 0; i < 4000; i++)
        {
            Vec3 from = random.Point(), to = from + (random.Next(0.02, 3) * random.Direction());
            double near = random.Next(0, 0.1), far = random.Next(0, 0.1), wavelength = random.Next(0.004, 0.02);
            double expected = Occlusion.FreeShare(raysOnly, from, to, wavelength, near, far);
            Assert.Equal(expected, Occlusion.FreeShare(scene, from, to, wavelength, near, far));
            free += expected == 1 ? 1 : 0;
            partly += expected is > 0 and < 1 ? 1 : 0;
        }

        Assert.True(free > 500 && partly > 500, $"{free} free, {partly} partly");
    }

    private static Vec3 InBox(RandomScene random, Vec3 half) =>
        new(half.X * random.Next(-1, 1), half.Y * random.Next(-1, 1), half.Z * random.Next(-1, 1));

    private sealed class RaysOnly(IRayScene scene) : IRayScene
    {
        public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) => scene.AnyHit(origin, unitDirection, nearMetres, farMetres);

        public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
            scene.ClosestHit(origin, unitDirection, nearMetres, farMetres);
    }
}
