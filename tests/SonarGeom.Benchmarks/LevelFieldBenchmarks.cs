using System.Collections.Immutable;
using BenchmarkDotNet.Attributes;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Benchmarks;

/// <summary>Levels at points and coverage of lattices, against the number of cells and the width of vectors.</summary>
[MemoryDiagnoser]
public class LevelFieldBenchmarks
{
    private readonly FieldEcho _echo = new(
        FieldBeam.OfCircularPiston(5.86), FieldBeam.OfCircularPiston(4.395), 95, 1.3, FieldThreshold.Constant(65));

    private float[] _x = [];
    private float[] _y = [];
    private float[] _z = [];
    private float[] _levels = [];
    private byte[] _counts = [];
    private CoverageField? _field;
    private CoverageField? _everything;

    /// <summary>Gets or sets the number of cells.</summary>
    [Params(10_000, 100_000, 1_000_000, 10_000_000)]
    public int Cells { get; set; }

    /// <summary>Gets or sets how many numbers there are in a vector.</summary>
    [Params(16, 8, 1)]
    public int Width { get; set; }

    /// <summary>Lays out a cube of cells in front of four sensors.</summary>
    [GlobalSetup]
    public void SetUp()
    {
        int side = (int)Math.Round(Math.Cbrt(Cells));
        var lattice = new FieldLattice(new Vec3(0.3, -2, 0.02), new Vec3(5.0 / side, 4.0 / side, 2.2 / side), side, side, side);
        ImmutableArray<FieldTrack> tracks = [Track(0.17, 0, 1.25, 0), Track(0.11, 0, 1.64, 10), Track(0.145, 0, 0.95, -20), Track(0.3, 0.09, 0.3, 5)];
        _field = new CoverageField(lattice, tracks, cull: true, Width);
        _everything = new CoverageField(lattice, tracks, cull: false, Width);
        _counts = new byte[lattice.Cells];
        _levels = new float[lattice.Cells];
        _x = [.. Enumerable.Range(0, lattice.Cells).Select(cell => (float)lattice.CellCentreMetres(cell).X)];
        _y = [.. Enumerable.Range(0, lattice.Cells).Select(cell => (float)lattice.CellCentreMetres(cell).Y)];
        _z = [.. Enumerable.Range(0, lattice.Cells).Select(cell => (float)lattice.CellCentreMetres(cell).Z)];
    }

    /// <summary>The level of one sensor at one phase at points in any order.</summary>
    [Benchmark]
    public void LevelsAtPoints() =>
        LevelField.Evaluate(_echo, new FieldPose(new Vec3(0.17, 0.015, 1.25), new Vec3(0.17, -0.015, 1.25), Vec3.UnitX), _x, _y, _z, _levels, Width);

    /// <summary>Four sensors at sixteen phases, one thread.</summary>
    [Benchmark]
    public long Coverage() => _field!.Evaluate(_counts, _levels, 1);

    /// <summary>The same without leaving out what cannot matter.</summary>
    [Benchmark]
    public long CoverageWithoutBounds() => _everything!.Evaluate(_counts, _levels, 1);

    /// <summary>Four sensors at sixteen phases, all processors.</summary>
    [Benchmark]
    public long CoverageOnAllProcessors() => _field!.Evaluate(_counts, _levels);

    private FieldTrack Track(double x, double y, double z, double tiltDegrees) => SwingingTrack.Of(_echo, new Vec3(x, y, z), tiltDegrees, 0);
}

/// <summary>A sensor that sways and turns through a stride of sixteen phases.</summary>
internal static class SwingingTrack
{
    private const int Phases = 16;
    private const double HalfBaselineMetres = 0.015;

    internal static FieldTrack Of(FieldEcho echo, Vec3 positionMetres, double tiltDegrees, double azimuthDegrees) =>
        new(echo, [.. Enumerable.Range(0, Phases).Select(p => Pose(positionMetres, tiltDegrees, azimuthDegrees, 2 * Math.PI * p / Phases))]);

    private static FieldPose Pose(Vec3 position, double tiltDegrees, double azimuthDegrees, double stride)
    {
        Vec3 centre = position + new Vec3(0.03 * Math.Sin(2 * stride), 0.02 * Math.Sin(stride), 0.025 * Math.Cos(2 * stride));
        Rotation attitude = Rotation.FromAzimuthTiltRoll(
            Angle.FromDegrees(azimuthDegrees + (4 * Math.Cos(stride))), Angle.FromDegrees(tiltDegrees + (3 * Math.Sin(stride))), Angle.Zero);
        return new FieldPose(centre + (HalfBaselineMetres * attitude.AxisY), centre - (HalfBaselineMetres * attitude.AxisY), attitude.AxisX);
    }
}
