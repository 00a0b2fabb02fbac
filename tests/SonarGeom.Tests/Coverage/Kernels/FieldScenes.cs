using System.Collections.Immutable;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Coverage.Kernels;

/// <summary>Seeded sensors, tracks and lattices for the kernel tests. All figures are made up.</summary>
internal static class FieldScenes
{
    private const double Wavenumber = 733;

    internal static FieldThreshold Falling { get; } = new(
        [new FieldThresholdPoint(0.2, 92), new FieldThresholdPoint(0.6, 80), new FieldThresholdPoint(1.5, 66), new FieldThresholdPoint(3, 55)],
        nearestRangeMetres: 0.25,
        farthestRangeMetres: 3.4);

    internal static FieldEcho Pistons(FieldThreshold? threshold = null) => new(
        FieldBeam.OfCircularPiston(5.86), FieldBeam.OfCircularPiston(4.395), 95, 1.3, threshold ?? FieldThreshold.Constant(65));

    internal static IEnumerable<FieldBeam> Beams()
    {
        yield return FieldBeam.OfCircularPiston(1.2);
        yield return FieldBeam.OfCircularPiston(5.86);
        yield return FieldBeam.OfCircularPiston(14.5);
        yield return FieldBeam.Of(new GaussianBeam(Angle.FromDegrees(30), -6), Wavenumber);
        yield return FieldBeam.Of(new CosinePowerBeam(1.7), Wavenumber);
        yield return FieldBeam.Of(new CosinePowerBeam(4), Wavenumber);
        yield return FieldBeam.Of(new PolarTable(PolarCut.FromPoints(
            [
                new PolarPoint(Angle.Zero, 0), new PolarPoint(Angle.FromDegrees(15), -1.2), new PolarPoint(Angle.FromDegrees(30), -5),
                new PolarPoint(Angle.FromDegrees(45), -13), new PolarPoint(Angle.FromDegrees(60), -11), new PolarPoint(Angle.FromDegrees(90), -24),
            ])), Wavenumber);
    }

    /// <summary>A sensor somewhere on a body, looking more or less ahead.</summary>
    internal static FieldPose Pose(Random random, double baselineMetres = 0.03)
    {
        double azimuth = Uniform(random, -1.2, 1.2);
        double tilt = Uniform(random, -0.9, 0.9);
        Rotation attitude = Rotation.FromAzimuthTiltRoll(Angle.FromRadians(azimuth), Angle.FromRadians(tilt), Angle.FromRadians(Uniform(random, -1, 1)));
        var centre = new Vec3(Uniform(random, -0.1, 0.3), Uniform(random, -0.3, 0.3), Uniform(random, 0.2, 1.8));
        Vec3 apart = 0.5 * baselineMetres * attitude.AxisY;
        return new FieldPose(centre + apart, centre - apart, attitude.AxisX);
    }

    /// <summary>A sensor that swings through a stride.</summary>
    internal static FieldTrack Track(Random random, FieldEcho echo, int phases)
    {
        FieldPose middle = Pose(random);

        // Under a threshold that falls, some phases are also deaf from somewhere on.
        double farthest(int p) => !echo.Threshold.IsConstant && p % 5 == 2 ? 0.6 + (0.1 * p) : double.PositiveInfinity;
        return new FieldTrack(echo, [.. Enumerable.Range(0, phases).Select(p => Swung(middle, 2 * Math.PI * p / phases) with { FarthestRangeMetres = farthest(p) })]);
    }

    internal static ImmutableArray<FieldTrack> Tracks(int seed, FieldEcho echo, int sensors, int phases)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, sensors).Select(_ => Track(random, echo, phases))];
    }

    /// <summary>The lattice and tracks of the mirror image.</summary>
    internal static ImmutableArray<FieldTrack> Mirrored(ImmutableArray<FieldTrack> tracks) =>
        [.. tracks.Select(track => new FieldTrack(track.Echo, [.. track.Phases.Select(pose => pose.MirroredLeftRight())]))];

    internal static double Uniform(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static FieldPose Swung(FieldPose pose, double stride)
    {
        var sway = new Vec3(0.03 * Math.Sin(2 * stride), 0.02 * Math.Sin(stride), 0.025 * Math.Cos(2 * stride));
        Rotation turn = Rotation.FromAzimuthTiltRoll(
            Angle.FromRadians(0.07 * Math.Cos(stride)), Angle.FromRadians(0.05 * Math.Sin(stride)), Angle.Zero);
        Vec3 half = 0.5 * (pose.TransmitterMetres - pose.ReceiverMetres);
        Vec3 centre = 0.5 * (pose.TransmitterMetres + pose.ReceiverMetres) + sway;
        return pose with
        {
            TransmitterMetres = centre + turn.Apply(half),
            ReceiverMetres = centre - turn.Apply(half),
            UnitAxis = turn.Apply(pose.UnitAxis),
        };
    }
}
