using BenchmarkDotNet.Attributes;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Benchmarks;

/// <summary>Rays against a scene of triangles and one of primitives: one by one, as a batch, and what building costs.</summary>
[MemoryDiagnoser]
public class RayBenchmarks
{
    private const int Count = 100_000;

    private readonly RayHit?[] _hits = new RayHit?[Count];
    private readonly bool[] _isHit = new bool[Count];
    private TriangleMesh _sheet = null!;
    private RayScene _scene = null!;
    private Ray[] _rays = [];

    /// <summary>Gets or sets the number of triangles; 0 for a thousand spheres and capsules.</summary>
    [Params(0, 1_000, 100_000, 1_000_000)]
    public int Triangles { get; set; }

    /// <summary>Gets or sets whether neighbours in the batch look nearly the same way.</summary>
    [Params(true, false)]
    public bool IsCoherent { get; set; }

    /// <summary>Builds the scene and draws the rays.</summary>
    [GlobalSetup]
    public void SetUp()
    {
        var random = new Random(11);
        _sheet = WavySheet.Of(Math.Max(Triangles, 2));
        _scene = Triangles > 0 ? new RayScene.Builder().AddMesh(_sheet, 0).Build() : Primitives(random);
        int side = (int)Math.Sqrt(Count);
        _rays =
        [
            .. Enumerable.Range(0, Count).Select(i => IsCoherent ? Towards((double)(i % side) / side, (double)i / Count) : Towards(random.NextDouble(), random.NextDouble())),
        ];
    }

    /// <summary>The nearest hit of each ray, asked alone.</summary>
    [Benchmark(Baseline = true)]
    public int ClosestOneByOne() => _rays.Count(r => _scene.ClosestHit(r.Origin, r.UnitDirection, r.NearMetres, r.FarMetres).HasValue);

    /// <summary>The nearest hits of all rays, one thread.</summary>
    [Benchmark]
    public void ClosestAsBatch() => _scene.ClosestHits(_rays, _hits, 1);

    /// <summary>Whether each ray hits, asked alone.</summary>
    [Benchmark]
    public int AnyOneByOne() => _rays.Count(r => _scene.AnyHit(r.Origin, r.UnitDirection, r.NearMetres, r.FarMetres));

    /// <summary>Whether each ray hits, one thread.</summary>
    [Benchmark]
    public void AnyAsBatch() => _scene.AnyHits(_rays, _isHit, 1);

    /// <summary>Building the tree of the sheet, one thread.</summary>
    [Benchmark]
    public RayScene Build() => new RayScene.Builder().AddMesh(_sheet, 0).Build(1);

    private static Ray Towards(double across, double up) =>
        new(Vec3.Zero, new Vec3(1.5, 0.6 * (across - 0.5), 0.6 * (up - 0.5)).Normalized(), 0, 10);

    private static RayScene Primitives(Random random)
    {
        var builder = new RayScene.Builder();
        for (int i = 0; i < 500; i++)
        {
            var at = new Vec3(1 + random.NextDouble(), 0.6 * (random.NextDouble() - 0.5), 0.6 * (random.NextDouble() - 0.5));
            builder.AddSphere(at, 0.01, i);
            builder.AddCapsule(at, at + new Vec3(0.05 * random.NextDouble(), 0.05, 0.02), 0.005, 500 + i);
        }

        return builder.Build();
    }
}
