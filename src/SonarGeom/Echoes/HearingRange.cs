using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>How far a transducer hears a target on its boresight, with nothing else there: what a range without a target leaves open.</summary>
public static class HearingRange
{
    private const double StepMetres = 0.005;

    /// <summary>Returns the farthest range from which a target is heard at all; null when it is heard at none. [m]</summary>
    /// <param name="prepared">The transducer in its air; its boresight is level.</param>
    /// <param name="target">The target around the origin, facing −X.</param>
    public static double? FarthestMetres(PreparedTransducer prepared, TargetPart target)
    {
        ArgumentNullException.ThrowIfNull(prepared);
        ArgumentNullException.ThrowIfNull(target);
        double? last = null;
        foreach (double range in Ranges(prepared))
        {
            last = IsHeard(prepared, target, range) ? range : last;
        }

        return last;
    }

    private static IEnumerable<double> Ranges(PreparedTransducer prepared)
    {
        int first = (int)Math.Ceiling(prepared.DeadZoneMetres / StepMetres);
        int last = (int)Math.Floor(prepared.WindowRangeMetres / StepMetres);
        for (int i = first; i <= last; i++)
        {
            yield return i * StepMetres;
        }
    }

    private static bool IsHeard(PreparedTransducer prepared, TargetPart target, double range)
    {
        var sensor = new SensorAtPose(prepared, RigidTransform.Identity);
        BandEcho echo = PartEchoes.EvaluateBand(sensor, target, new Vec3(range, 0, 0));
        return echo.LevelDecibels > PartEcho.SilentDecibels
            && ObstacleEcho.IsInWindow(sensor, echo.RangeMetres)
            && echo.LevelDecibels >= prepared.DetectionThresholdDecibels(echo.RangeMetres);
    }
}
