using BenchmarkDotNet.Attributes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Benchmarks;

/// <summary>The surface integral and its fast sum, against facets, frequencies and threads.</summary>
[MemoryDiagnoser]
public class FacetBenchmarks
{
    private FacetSurface _surface = null!;
    private FacetCloud _cloud = null!;
    private FacetSensor _sensor = null!;
    private FrequencyBand _band = null!;

    /// <summary>Gets or sets the number of triangles of the mesh, about.</summary>
    [Params(10_000, 100_000, 1_000_000)]
    public int Triangles { get; set; }

    /// <summary>Gets or sets the number of frequencies.</summary>
    [Params(8, 64)]
    public int Frequencies { get; set; }

    /// <summary>Makes a wavy sheet of 0.5 by 0.5 m, 1.5 m away.</summary>
    [GlobalSetup]
    public void Setup()
    {
        _surface = FacetSurface.Of("sheet", WavySheet.Of(Triangles));
        _cloud = FacetCloud.Of(_surface, 0.001);
        _sensor = new FacetSensor(
            new Vec3(0, 0.0125, 0), new Vec3(0, -0.0125, 0), Rotation.Identity, new CircularPiston(0.0065), new CircularPiston(0.0065),
            FacetMedium.Uniform(343.2, 1.3));
        _band = FrequencyBand.Between(36_000, 44_000, Frequencies);
    }

    /// <summary>Exact integrals over triangles and parallelograms, double precision, every processor.</summary>
    [Benchmark(Baseline = true)]
    public EchoSpectrum ExactIntegrals() => SurfaceIntegral.Evaluate(_surface, _sensor, _band, options: new(MayUseFastSum: false));

    /// <summary>Small facets, single precision, one thread.</summary>
    [Benchmark]
    public EchoSpectrum FastSumOneThread() => FacetSum.Evaluate(_cloud, [_sensor], _band, 1)[0];

    /// <summary>Small facets, single precision, two threads.</summary>
    [Benchmark]
    public EchoSpectrum FastSumTwoThreads() => FacetSum.Evaluate(_cloud, [_sensor], _band, 2)[0];
}
