using BenchmarkDotNet.Attributes;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Benchmarks;

/// <summary>The band-mean echo of each kind of part at one pose, as maps ask for it; and the heavier questions beside it.</summary>
[MemoryDiagnoser]
public class EchoBenchmarks
{
    private readonly SensorAtPose _sensor = Sensor();
    private Vec3[] _offsets = [];
    private TargetPart _part = new SpherePart("sphere", Vec3.Zero, 0.05);

    public static IEnumerable<string> Kinds =>
        ["sphere", "rod 0.3 m", "pole 2 m", "board square-on", "board turned 30", "disc", "plane", "corner", "pole foot", "edge", "dome", "chamfer", "rim", "rope", "hedge", "branch"];

    [ParamsSource(nameof(Kinds))]
    public string Kind { get; set; } = "sphere";

    /// <summary>A wide pair at chest height, turned and tilted a little.</summary>
    public static SensorAtPose Sensor()
    {
        var piston = new CircularPiston(0.0065);
        var transducer = new Transducer(
            "pair", "for timing", Frequency.FromKilohertz(40), piston, piston, new Vec3(0, 0.013, 0), new Vec3(0, -0.013, 0), 110,
            ThresholdProfile.Constant(60), 20, 8, 30, 30, 1e-3, 40e-3, new TransducerEvidence("none", "none", 0, "made up for timing"));
        return new SensorAtPose(
            new PreparedTransducer(transducer, EchoMedium.Standard),
            new RigidTransform(Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(5), Angle.FromDegrees(-8), Angle.Zero), new Vec3(0.1, 0.1, 1.2)));
    }

    /// <summary>A part of a kind about a point 1 m high at the origin.</summary>
    public static TargetPart Part(string kind)
    {
        var c = new Vec3(0, 0, 1.1);
        switch (kind)
        {
            case "rod 0.3 m":
                return new CylinderPart(kind, c - new Vec3(0, 0, 0.15), c + new Vec3(0, 0, 0.15), 0.0125);
            case "pole 2 m":
                return new CylinderPart(kind, Vec3.Zero, new Vec3(0, 0, 2), 0.0375);
            case "board square-on":
                return PolygonPart.Rectangle(kind, c, new Vec3(0, -0.15, 0), new Vec3(0, 0, 0.15));
            case "board turned 30":
                var (s, cos) = Math.SinCos(Math.PI / 6);
                return PolygonPart.Rectangle(kind, c, 0.15 * new Vec3(s, -cos, 0), new Vec3(0, 0, 0.15));
            case "disc":
                return new DiscPart(kind, new Vec3(0, 0, 0.8), Vec3.UnitZ, 0.08);
            case "plane":
                return new PlanePart(kind, c, -Vec3.UnitX);
            case "corner":
                return new CornerPart(kind, new Vec3(0, -2, 0), new Vec3(0, 2, 0), -Vec3.UnitX, Vec3.UnitZ, 0.1);
            case "pole foot":
                return new PoleFootPart(kind, Vec3.Zero, Vec3.UnitZ, 2, 0.0375);
            case "edge":
                return new EdgePart(kind, new Vec3(0, -2, 0.1), new Vec3(0, 2, 0.1), -Vec3.UnitZ, -Vec3.UnitX, EdgePart.Square);
            case "dome":
                return new DomePart(kind, new Vec3(0, 0, 0.7), 0.08, Vec3.UnitZ, Angle.FromDegrees(90));
            case "chamfer":
                return new ConePart(kind, new Vec3(0, 0, 0.75), 0.08, new Vec3(0, 0, 0.8), 0.03);
            case "rim":
                return new RimPart(kind, new Vec3(0, 0, 0.8), Vec3.UnitZ, 0.08);
            case "hedge":
                return Obstacle.Foliage(kind, new Vec3(0.3, 0, 0), FoliageForm.Box, 0.6, 2, 1.7, 0.018, 5000).Parts(null)[0];
            case "branch":
                return Obstacle.Foliage(kind, new Vec3(0.5, 0, 0.8), FoliageForm.Ellipsoid, 1, 1.2, 0.6, 0.04, 400).Parts(null)[0];
            case "rope":
                return Obstacle.Chain(kind, c, 0.02, 1.5, 0.2).Parts(null)[0];
            default:
                return new SpherePart(kind, c, 0.05);
        }
    }

    [GlobalSetup]
    public void Setup()
    {
        _part = Part(Kind);

        // Places ahead, 0.5 to 3 m, so that branches are not learnt by heart.
        _offsets = new Vec3[1024];
        var random = new Random(1);
        for (int i = 0; i < _offsets.Length; i++)
        {
            _offsets[i] = new Vec3(0.5 + (2.5 * random.NextDouble()), random.NextDouble() - 0.5, 0.4 * (random.NextDouble() - 0.5));
        }
    }

    [Benchmark(OperationsPerInvoke = 1024)]
    public double BandEcho()
    {
        double sum = 0;
        foreach (Vec3 offset in _offsets)
        {
            sum += PartEchoes.EvaluateBand(_sensor, _part, offset).LevelDecibels;
        }

        return sum;
    }
}
