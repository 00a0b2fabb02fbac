using BenchmarkDotNet.Attributes;
using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Benchmarks;

/// <summary>What the air costs: once for every sensor and state, and for every frequency of a band.</summary>
[MemoryDiagnoser]
public class AirBenchmarks
{
    private static readonly Frequency Forty = Frequency.FromKilohertz(40);
    private readonly AirState _air = new(Temperature.FromDegreesCelsius(21), 55);
    private readonly double[] _hertz = [38_250, 38_750, 39_250, 39_750, 40_250, 40_750, 41_250, 41_750];
    private readonly double[] _absorption = new double[8];

    [Benchmark]
    public double SpeedOfSound() => SoundSpeed.InMetresPerSecond(_air);

    [Benchmark]
    public double AbsorptionAtOneFrequency() => AirAbsorption.DecibelsPerMetre(_air, Forty);

    [Benchmark]
    public double AbsorptionAtEightFrequencies()
    {
        AirAbsorption.Fill(_air, _hertz, _absorption);
        return _absorption[7];
    }

    [Benchmark]
    public AirProperties AllProperties() => AirProperties.Of(_air, Forty);
}
