using System.Collections.Immutable;
using BenchmarkDotNet.Attributes;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Benchmarks;

/// <summary>The heavier questions about echoes: a budget with its causes, and the ground below one pose.</summary>
[MemoryDiagnoser]
public class EchoQuestionBenchmarks
{
    private readonly SensorAtPose _sensor = EchoBenchmarks.Sensor();
    private readonly ImmutableArray<TargetPart> _kerb = Obstacle.KerbUp("kerb", new Vec3(1.8, 0, 0), 0.1, 4).Parts(Ground.SmoothTile);

    /// <summary>A kerb's whole budget, with causes and best attitudes: what one explained cell costs.</summary>
    [Benchmark]
    public double ExplainKerb() => EchoExplainer.Explain(_sensor, _kerb).MarginDecibels;

    /// <summary>Mirror and roughness of the ground for one pose.</summary>
    [Benchmark]
    public double GroundOnce() => GroundEcho.Of(_sensor, Ground.Gravel).LargestMarginDecibels;
}
