using System.Collections.Immutable;
using BenchmarkDotNet.Attributes;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;
using SonarGeom.Studies;

namespace SonarGeom.Benchmarks;

/// <summary>Scoring layouts from what their mountings detect, against the number of layouts.</summary>
[MemoryDiagnoser]
public class SweepBenchmarks
{
    private const int RequiredPhases = 12;

    private readonly FieldLattice _lattice = new(new Vec3(0.33, -1.92, 0.044), new Vec3(0.0625, 0.16, 0.088), 80, 25, 25);
    private ImmutableArray<FieldTrack> _mountings = [];
    private ImmutableArray<ImmutableArray<int>> _layouts = [];
    private LayoutSweep? _sweep;

    /// <summary>Gets or sets the number of layouts.</summary>
    [Params(10, 1000, 100_000)]
    public int Layouts { get; set; }

    /// <summary>Makes 160 mountings and random layouts of four of them, always the same ones.</summary>
    [GlobalSetup]
    public void SetUp()
    {
        var echo = new FieldEcho(FieldBeam.OfCircularPiston(5.86), FieldBeam.OfCircularPiston(4.395), 95, 1.3, FieldThreshold.Constant(65));
        _mountings =
        [
            .. from height in new[] { 0.3, 0.95, 1.25, 1.64 }
               from tilt in new[] { -35, -25, -15, -5, 5, 15, 25, 35 }
               from azimuth in new[] { -30, -15, 0, 15, 30 }
               select SwingingTrack.Of(echo, new Vec3(0.15, 0, height), tilt, azimuth),
        ];
        var random = new Random(1);
        _layouts = [.. Enumerable.Range(0, Layouts).Select(_ => Enumerable.Range(0, 4).Select(_ => random.Next(_mountings.Length)).ToImmutableArray())];
        _sweep = new LayoutSweep(_lattice, _mountings, RequiredPhases);
    }

    /// <summary>Finding what one mounting detects.</summary>
    [Benchmark]
    public PhaseMasks OneMounting() => PhaseMasks.Of(_lattice, _mountings[0]);

    /// <summary>Scoring the layouts, one thread.</summary>
    [Benchmark]
    public ImmutableArray<int> Scores() => _sweep!.CoveredCells(_layouts, 1);

    /// <summary>Scoring the layouts, all processors.</summary>
    [Benchmark]
    public ImmutableArray<int> ScoresOnAllProcessors() => _sweep!.CoveredCells(_layouts);
}
