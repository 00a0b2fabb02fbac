using BenchmarkDotNet.Attributes;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Studies;

namespace SonarGeom.Benchmarks;

/// <summary>The maps of every probe of the default scenario, from nothing and after one sensor has turned by one degree.</summary>
[MemoryDiagnoser]
public class ApproachMapBenchmarks
{
    private Scenario? _scenario;
    private PosedLayout? _layout;
    private KeptMaps? _kept;
    private int _turns;

    /// <summary>Gets or sets the edge of a cell. [m]</summary>
    [Params(0.02)]
    public double CellMetres { get; set; }

    /// <summary>Gets or sets which sensor turns.</summary>
    [Params(0, 1, 2, 3)]
    public int Sensor { get; set; }

    private MapSettings Settings => _scenario!.Maps with { CellMetres = CellMetres };

    /// <summary>Poses the wearer and computes the maps that the turns start from.</summary>
    [GlobalSetup]
    public void SetUp()
    {
        _scenario = InputFiles.ReadScenario(ShippedCatalogue.DefaultScenario).Scenario;
        _layout = ScenarioStudy.Pose(_scenario, _scenario.MainWearer, BodyTableFiles.Shipped);
        _kept = KeptMaps.Of(_layout, _scenario.Walk, Settings, _scenario.Probes);
    }

    /// <summary>All maps from nothing.</summary>
    [Benchmark(Baseline = true)]
    public KeptMaps FromNothing() => KeptMaps.Of(_layout!, _scenario!.Walk, Settings, _scenario.Probes);

    /// <summary>The sensor tilts by one degree, to and fro, and all maps follow.</summary>
    [Benchmark]
    public KeptMaps TiltTurnedByOneDegree()
    {
        Mount mount = _layout!.Layout.Sensors[Sensor].Mount;
        return Follow(mount with { Tilt = mount.Tilt + Angle.FromDegrees(++_turns % 2) });
    }

    /// <summary>The sensor turns sideways by one degree, to and fro, and all maps follow.</summary>
    [Benchmark]
    public KeptMaps AzimuthTurnedByOneDegree()
    {
        Mount mount = _layout!.Layout.Sensors[Sensor].Mount;
        return Follow(mount with { Azimuth = mount.Azimuth + Angle.FromDegrees(++_turns % 2) });
    }

    private KeptMaps Follow(Mount mount)
    {
        _kept = _kept!.WithSensor(Sensor, _layout!.Layout.Sensors[Sensor] with { Mount = mount });
        return _kept;
    }
}
