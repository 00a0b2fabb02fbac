using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Why something is not heard, sensor by sensor.</content>
public sealed partial class PosedLayout
{
    /// <summary>Opens the echo of parts at one sensor and stride phase into its level budget, with the one limiting cause.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="parts">The parts, at least one.</param>
    /// <param name="offsetMetres">How far the parts are moved. [m]</param>
    /// <param name="others">Other obstacles that may stand in the way, or null.</param>
    public LevelBudget Explain(int sensor, int phase, ImmutableArray<TargetPart> parts, Vec3 offsetMetres, Screen? others = null)
    {
        PosedSensor posed = _sensors[sensor];
        return EchoExplainer.Explain(posed.Poses[phase], parts, offsetMetres, new EchoSurroundings(
            _wearer.Scene(phase),
            others is null ? null : new MovedScene(others.Scene, offsetMetres),
            Crossing(posed.FloorRangeMetres[phase]),
            Crossing(posed.LimbRangeMetres[phase]))
        {
            Leaves = others?.Leaves ?? [],
            LeavesOffsetMetres = offsetMetres,
        });
    }

    /// <summary>Returns the cause that <see cref="Explain"/> names, without its budget.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="parts">The parts, at least one.</param>
    /// <param name="offsetMetres">How far the parts are moved. [m]</param>
    /// <param name="steady">What turns of the sensor leave as it is; computed when null, and null when the parts are not simple.</param>
    internal LimitingCause CauseOf(int sensor, int phase, ImmutableArray<TargetPart> parts, Vec3 offsetMetres, ref SteadyFacts? steady)
    {
        if (!EchoExplainer.IsSimple(parts))
        {
            return Explain(sensor, phase, parts, offsetMetres).Cause;
        }

        PosedSensor posed = _sensors[sensor];
        var surroundings = new EchoSurroundings(
            _wearer.Scene(phase), null, Crossing(posed.FloorRangeMetres[phase]), Crossing(posed.LimbRangeMetres[phase]));
        return EchoExplainer.CauseOfOne(posed.Poses[phase], parts[0], offsetMetres, surroundings, ref steady);
    }

    /// <summary>Returns why parts are not heard: the cause at the sensor whose echo would be strongest if nothing came before it or stood
    /// in its way. A sensor that would hear them but for the floor tells more than one that looks elsewhere.</summary>
    /// <param name="parts">The parts.</param>
    /// <param name="offsetMetres">How far the parts are moved. [m]</param>
    /// <param name="others">Other obstacles that may stand in the way, or null.</param>
    /// <remarks>
    /// The stride phases looked at are the two heel strikes, which mirror each other. When even the nearest sensor hears the
    /// parts there, the sway of the other phases loses them: then the cause is that of the phase with the least margin.
    /// </remarks>
    public LimitingCause CauseOf(ImmutableArray<TargetPart> parts, Vec3 offsetMetres, Screen? others) => CauseOf(parts, offsetMetres, others, out _);

    /// <summary>The same, with the obstacle that hides the parts if that is the cause.</summary>
    internal LimitingCause CauseOf(ImmutableArray<TargetPart> parts, Vec3 offsetMetres, Screen? others, out Obstacle? hider)
    {
        hider = null;
        if (parts.IsDefaultOrEmpty)
        {
            return LimitingCause.Specular;
        }

        (int sensor, int phase) = Nearest(parts, offsetMetres, others);
        LevelBudget budget = Explain(sensor, phase, parts, offsetMetres, others);
        if (budget.Cause != LimitingCause.None)
        {
            hider = Hider(budget, phase);
            return budget.Cause;
        }

        int worst = Enumerable.Range(0, PhaseCount)
            .MinBy(p => _sensors.Select((_, s) => MarginDecibels(s, p, parts.AsSpan(), offsetMetres, others, out int _)).Max());
        budget = Explain(sensor, worst, parts, offsetMetres, others);
        hider = Hider(budget, worst);
        return budget.Cause == LimitingCause.None ? LimitingCause.TooWeak : budget.Cause;

        Obstacle? Hider(LevelBudget told, int at) =>
            told.Cause == LimitingCause.OccludedByObstacle ? others?.InTheWay(_sensors[sensor].Poses[at], told.GlintMetres, offsetMetres) : null;
    }

    /// <summary>Whether the wearer's body hides some of the way from a sensor to a point.</summary>
    internal bool IsPartlyHidden(int sensor, int phase, Vec3 atMetres) =>
        _sensors[sensor].Shadows[phase].FreeFraction(atMetres - _sensors[sensor].Poses[phase].MidpointMetres) < 1;

    private (int Sensor, int Phase) Nearest(ImmutableArray<TargetPart> parts, Vec3 offset, Screen? others)
    {
        (int, int) nearest = (0, 0);
        double best = double.NegativeInfinity, bestBare = double.NegativeInfinity;
        for (int s = 0; s < SensorCount; s++)
        {
            for (int half = 0; half < 2; half++)
            {
                int phase = half * (PhaseCount / 2);
                double bare = BareMarginDecibels(s, phase, parts, offset);
                double margin = bare < bestBare ? double.NegativeInfinity : MarginDecibels(s, phase, parts.AsSpan(), offset, others, out _);
                if (bare > bestBare || (bare == bestBare && margin > best))
                {
                    (best, bestBare, nearest) = (margin, bare, (s, phase));
                }
            }
        }

        return nearest;
    }

    /// <summary>The margin if there were no dead zone, no other echo and nothing in the way; every echo past the window counts as
    /// −300 dB. [dB]</summary>
    internal double BareMarginDecibels(int sensor, int phase, ImmutableArray<TargetPart> parts, Vec3 offset)
    {
        PosedSensor posed = _sensors[sensor];
        SensorAtPose pose = posed.Poses[phase];
        double best = PartEcho.SilentDecibels;
        foreach (TargetPart part in parts)
        {
            BandEcho echo = PartEchoes.EvaluateBand(pose, part, offset);
            if (echo.RangeMetres <= posed.WindowRangeMetres)
            {
                best = Math.Max(best, echo.LevelDecibels - pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres));
            }
        }

        return best;
    }

    private static double? Crossing(double rangeMetres) => double.IsFinite(rangeMetres) ? rangeMetres : null;
}
