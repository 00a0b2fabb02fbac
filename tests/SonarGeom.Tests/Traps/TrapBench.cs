using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Traps;

/// <summary>The parts that the traps are set for: a small wide pair and a strong narrow single, in air of 20 °C and 50 %.</summary>
internal static class TrapBench
{
    /// <summary>Two open cans 26 mm apart, 55° between the −6 dB points, figure of merit 29 dB as small modules were measured to have.</summary>
    internal static PreparedTransducer SmallPair { get; } = Prepared(new CircularPiston(0.006541), 29, 0.026);

    /// <summary>Two open cans of a data-sheet curve: −6 dB only 50° off the boresight; figure of merit 29 dB.</summary>
    internal static PreparedTransducer WideOpenPair { get; } = Prepared(
        new PolarTable(PolarCut.FromPoints(OpenCurve())), 29, 0.026);

    /// <summary>One closed can, 30° between the −6 dB points, figure of merit 42 dB: a strong part.</summary>
    internal static PreparedTransducer NarrowStrong { get; } = Prepared(new CircularPiston(0.01167), 42, 0);

    internal static PreparedTransducer Prepared(Directivity beam, double figureOfMerit, double separation) =>
        new(EchoBench.WithFigureOfMerit(beam, figureOfMerit, separation), EchoMedium.Standard);

    internal static ObstacleEcho Echo(PreparedTransducer prepared, Vec3 position, double tiltDegrees, Obstacle obstacle, Ground? ground) =>
        ObstacleEcho.Strongest(EchoBench.At(prepared, position, 0, tiltDegrees), obstacle.Parts(ground));

    /// <summary>The farthest range, in steps of 1 cm, at which a part of margin 0 dB or more is left. [m]</summary>
    internal static double LastHeardMetres(PreparedTransducer prepared, Func<double, ImmutableArray<TargetPart>> at, double farthest)
    {
        SensorAtPose sensor = EchoBench.At(prepared, new Vec3(0, 0, 1));
        double last = 0;
        for (double range = 0.3; range <= farthest; range += 0.01)
        {
            last = ObstacleEcho.BandMarginDecibels(sensor, at(range).AsSpan(), default) >= 0 ? range : last;
        }

        return last;
    }

    private static PolarPoint[] OpenCurve()
    {
        // Data-sheet curve of a 10 mm open-type 40 kHz transmitter, every 10°, as tabulated in public.
        double[] levels = [0, 0, 0, -1, -3, -6, -9, -12, -14];
        return [.. levels.Select((level, i) => new PolarPoint(Angle.FromDegrees(10 * i), level))];
    }
}
