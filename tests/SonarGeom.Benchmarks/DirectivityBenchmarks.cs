using BenchmarkDotNet.Attributes;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Benchmarks;

/// <summary>What one beam value costs, for each kind of beam, against the library's Bessel function.</summary>
[MemoryDiagnoser]
public class DirectivityBenchmarks
{
    private const int Count = 1024;
    private readonly Vec3[] _directions = new Vec3[Count];
    private readonly double[] _phases = new double[Count];
    private readonly double[] _wavenumbers = [701, 710, 719, 728, 737, 746, 755, 764];
    private readonly double[] _amplitudes = new double[8];
    private readonly CircularPiston _circular = new(0.0065);
    private readonly RectangularPiston _rectangular = new(0.02, 0.01);
    private readonly CosinePowerBeam _cosine = new(2.6);
    private readonly PolarTable _table = new(PolarCut.FromPoints(
        Enumerable.Range(0, 10).Select(i => new PolarPoint(Angle.FromDegrees(10 * i), -0.2 * i * i))));

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(1);
        for (int i = 0; i < Count; i++)
        {
            _directions[i] = new Vec3(
                random.NextDouble(), random.NextDouble() - 0.5, random.NextDouble() - 0.5).Normalized();
            _phases[i] = 12 * random.NextDouble();
        }
    }

    [Benchmark(Baseline = true, OperationsPerInvoke = Count)]
    public double PistonPatternByLibrary()
    {
        double sum = 0;
        foreach (double x in _phases)
        {
            sum += 2 * MathNet.Numerics.SpecialFunctions.BesselJ(1, x) / x;
        }

        return sum;
    }

    [Benchmark(OperationsPerInvoke = Count)]
    public double PistonPatternOfOurOwn()
    {
        double sum = 0;
        foreach (double x in _phases)
        {
            sum += PistonPattern.Evaluate(x);
        }

        return sum;
    }

    [Benchmark(OperationsPerInvoke = Count)]
    public double CircularPiston() => Sum(_circular);

    [Benchmark(OperationsPerInvoke = Count)]
    public double CircularPistonOverEightFrequencies()
    {
        double sum = 0;
        foreach (Vec3 direction in _directions)
        {
            _circular.Amplitudes(direction, _wavenumbers, _amplitudes);
            sum += _amplitudes[7];
        }

        return sum;
    }

    [Benchmark(OperationsPerInvoke = Count)]
    public double RectangularPiston() => Sum(_rectangular);

    [Benchmark(OperationsPerInvoke = Count)]
    public double CosinePower() => Sum(_cosine);

    [Benchmark(OperationsPerInvoke = Count)]
    public double MeasuredTable() => Sum(_table);

    private double Sum(Directivity beam)
    {
        double sum = 0;
        foreach (Vec3 direction in _directions)
        {
            sum += beam.Amplitude(direction, 732);
        }

        return sum;
    }
}
