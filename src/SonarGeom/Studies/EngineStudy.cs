using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Studies;

/// <summary>How the two engines stand to each other on a part.</summary>
public enum EngineAgreement
{
    /// <summary>They agree within what is allowed.</summary>
    Agree,

    /// <summary>They differ by more.</summary>
    Differ,

    /// <summary>The part lies outside the declared limits of one of them, so nothing follows from the difference.</summary>
    OutsideLimits,

    /// <summary>No verdict may rest on the surface integral.</summary>
    Withheld,

    /// <summary>The part is a line or has no end, so that there is no surface to integrate over.</summary>
    NoSurface,

    /// <summary>The part is a mesh, for which there is no closed form.</summary>
    NoClosedForm,
}

/// <summary>One part of an obstacle by both engines.</summary>
/// <param name="ObstacleId">The obstacle.</param>
/// <param name="Sensor">The sensor.</param>
/// <param name="DistanceMetres">Distance from the body to the obstacle. [m]</param>
/// <param name="PartName">The part.</param>
/// <param name="Chosen">The echo by the engine that suits the part, and how sure it is.</param>
/// <param name="ClosedForm">The echo by closed form; null for a mesh.</param>
/// <param name="Integral">The echo by surface integral; null without a surface.</param>
/// <param name="Difference">How they agree over the frequencies of the burst; null without a surface or a closed form.</param>
public sealed record EngineCase(
    string ObstacleId,
    string Sensor,
    double DistanceMetres,
    string PartName,
    EngineEcho Chosen,
    EngineEcho? ClosedForm,
    EngineEcho? Integral,
    EngineDifference? Difference)
{
    /// <summary>Gets how the engines stand to each other.</summary>
    public EngineAgreement Agreement => this switch
    {
        { Integral: null } => EngineAgreement.NoSurface,
        { Integral.Withheld.IsEmpty: false } => EngineAgreement.Withheld,
        { ClosedForm: null } or { Difference: null } => EngineAgreement.NoClosedForm,
        { Difference.Limit: not null } => EngineAgreement.OutsideLimits,
        { Difference.IsAccepted: true } => EngineAgreement.Agree,
        _ => EngineAgreement.Differ,
    };

    /// <summary>Gets the estimated error of the chosen engine; where the other one may be trusted too, at least what the two differ by. [dB]</summary>
    public double EstimatedErrorDecibels => Agreement is EngineAgreement.Agree or EngineAgreement.Differ
        ? Math.Max(Chosen.EstimatedErrorDecibels, Math.Abs(DifferenceDecibels ?? 0))
        : Chosen.EstimatedErrorDecibels;

    /// <summary>Gets surface integral less closed form; null where either is silent. [dB]</summary>
    public double? DifferenceDecibels =>
        Integral is { } integral && ClosedForm is { } closed && integral.BandLevelDecibels > PartEcho.SilentDecibels && closed.BandLevelDecibels > PartEcho.SilentDecibels
            ? integral.BandLevelDecibels - closed.BandLevelDecibels
            : null;
}

/// <summary>Sets both engines side by side on the obstacles of a scenario.</summary>
public static class EngineStudy
{
    /// <summary>Computes every part of one obstacle by both engines.</summary>
    /// <param name="stage">The wearer among obstacles.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="distanceMetres">Distance from the body to the obstacle along the path. [m]</param>
    /// <remarks>In open air: what the wearer or other obstacles hide is counted apart, by the same rules for both engines.</remarks>
    public static ImmutableArray<EngineCase> Of(TraceStage stage, int sensor, int phase, int obstacle, double distanceMetres)
    {
        ArgumentNullException.ThrowIfNull(stage);
        SensorAtPose pose = stage.Layout.Sensor(sensor, phase);
        Obstacle one = stage.Obstacles.Obstacles[obstacle];
        Obstacle moved = one with { PositionMetres = one.PositionMetres - new Vec3(stage.WalkerXMetres(obstacle, distanceMetres), 0, 0) };
        string name = stage.Layout.Layout.Sensors[sensor].Name;
        return
        [
            .. moved.Parts(stage.Obstacles.Ground ?? stage.Layout.Ground).Select(part =>
            {
                if (part is MeshPart)
                {
                    EngineEcho echo = EngineChoice.Evaluate(pose, part);
                    return new EngineCase(one.Id, name, distanceMetres, part.Name, echo, null, echo, null);
                }

                if (part is FoliagePart leaves)
                {
                    return OfLeaves(one.Id, name, distanceMetres, pose, leaves);
                }

                EngineDifference? difference = EngineComparison.Compare(pose, part);
                return new EngineCase(
                    one.Id,
                    name,
                    distanceMetres,
                    part.Name,
                    EngineChoice.Evaluate(pose, part),
                    EngineChoice.Evaluate(pose, part, EngineRequest.ClosedForm),
                    difference is null ? null : EngineChoice.Evaluate(pose, part, EngineRequest.SurfaceIntegral),
                    difference);
            }),
        ];
    }

    // The means at one moment are compared; the levels that nine pings in ten exceed stand beside them.
    private static EngineCase OfLeaves(string obstacle, string sensor, double distance, SensorAtPose pose, FoliagePart leaves)
    {
        const double MeanAllowanceDecibels = 0.6;
        const double StandardErrors = 4;
        EngineEcho closed = EngineChoice.Evaluate(pose, leaves);
        FoliageLevels levels = FoliageEcho.Evaluate(pose, leaves);
        FoliageEnsemble pings = FoliageEnsemble.Of(pose, leaves);
        double off = levels.IsSilent ? 0 : Math.Abs(pings.MeanDecibels - levels.MeanDecibels);
        return new EngineCase(
            obstacle, sensor, distance, leaves.Name, closed, closed, EngineChoice.ByPings(pose, leaves, pings),
            new EngineDifference(
                leaves.Name, levels.RangeMetres, levels.MeanDecibels, pings.MeanDecibels,
                off / (MeanAllowanceDecibels + (StandardErrors * pings.StandardErrorDecibels)), 0, null));
    }
}
