using System.Collections.Immutable;
using System.Globalization;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>Reads the inputs of the coverage tasks, and holds the made-up figures that they are stated for.</summary>
internal static class FieldFiles
{
    private const double TransmitterWavenumberRadius = 5.86;
    private const double ReceiverWavenumberRadius = 4.395;
    private const double SourceLevelDecibels = 115;
    private const double TargetStrengthDecibels = -20;
    private const double AbsorptionDecibelsPerMetre = 1.3;

    /// <summary>The level that counts as detected. [dB]</summary>
    internal const double ThresholdDecibels = 65;

    /// <summary>Gets the echo that all sensors of the tasks share.</summary>
    internal static FieldEcho Echo { get; } = new(
        FieldBeam.OfCircularPiston(TransmitterWavenumberRadius),
        FieldBeam.OfCircularPiston(ReceiverWavenumberRadius),
        SourceLevelDecibels + TargetStrengthDecibels,
        AbsorptionDecibelsPerMetre,
        FieldThreshold.Constant(ThresholdDecibels));

    /// <summary>The lattice of a task: half a step from x = 0.3 m, y = −2 m, z = 0.</summary>
    internal static FieldLattice Lattice(int countX, int countY, int countZ, double stepX, double stepY, double stepZ) =>
        new(new Vec3(0.3 + (0.5 * stepX), -2 + (0.5 * stepY), 0.5 * stepZ), new Vec3(stepX, stepY, stepZ), countX, countY, countZ);

    /// <summary>Reads rows of number, phase, transmitter, receiver and axis into one track for each number.</summary>
    internal static ImmutableArray<FieldTrack> Tracks(string path) =>
        [
            .. File.ReadLines(path).Skip(1)
                .Select(line => line.Split(',').Select(field => double.Parse(field, CultureInfo.InvariantCulture)).ToArray())
                .GroupBy(row => (int)row[0])
                .OrderBy(group => group.Key)
                .Select(group => new FieldTrack(Echo, [.. group.OrderBy(row => row[1]).Select(Pose)])),
        ];

    /// <summary>Reads rows of numbers of mountings.</summary>
    internal static ImmutableArray<ImmutableArray<int>> Layouts(string path) =>
        [.. File.ReadLines(path).Skip(1).Select(line => line.Split(',').Select(field => int.Parse(field, CultureInfo.InvariantCulture)).ToImmutableArray())];

    private static FieldPose Pose(double[] row) =>
        new(new Vec3(row[2], row[3], row[4]), new Vec3(row[5], row[6], row[7]), new Vec3(row[8], row[9], row[10]));
}
