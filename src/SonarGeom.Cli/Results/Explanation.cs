using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Cli.Results;

/// <summary>What one sensor makes of a target at one distance over the stride.</summary>
/// <param name="DistanceMetres">Distance from the body along the path. [m]</param>
/// <param name="Sensor">The sensor.</param>
/// <param name="ReportedFraction">Share of stride phases in which it reports the target. [unitless]</param>
/// <param name="PhaseFraction">The stride phase of the budget: the least good one that must still report. [unitless]</param>
/// <param name="Budget">The budget at that phase; null when nothing of the target counts as detecting it.</param>
internal sealed record ExplainedEcho(double DistanceMetres, string Sensor, double ReportedFraction, double PhaseFraction, LevelBudget? Budget);

/// <summary>Opens a cell, a zone or an obstacle into the level budgets of every sensor at each distance.</summary>
internal sealed record Explanation(string Subject, double TimeNeededSeconds, double NeedMetres, ImmutableArray<ExplainedEcho> Echoes)
{
    private static readonly double[] UsualDistancesMetres = [0.3, 0.6, 1.0, 2.0, 2.5, 3.0];

    /// <summary>Gets the table of distances and sensors.</summary>
    internal static ResultTable<ExplainedEcho> Overview { get; } = new(
        new("distance_m", "distance [m]", e => Cell.Of(e.DistanceMetres, 2)),
        new("sensor", "sensor", e => Cell.Of(e.Sensor)),
        new("reported_phases_percent", "reported [% of stride]", e => Cell.Of(e.ReportedFraction * 100, 1)),
        new("stride_phase", null, e => Cell.Of(e.PhaseFraction, 4)),
        new("range_m", "range [m]", e => Cell.Of(e.Budget?.RangeMetres, 2)),
        new("echo_db_re_20upa", "echo [dB]", e => Cell.Of(e.Budget is { EchoLevelDecibels: > -250 } b ? b.EchoLevelDecibels : null, 1)),
        new("margin_db", "margin [dB]", e => Cell.Of(e.Budget is { MarginDecibels: > -250 } b ? b.MarginDecibels : null, 1)),
        new(null, "why not", e => Cell.Of(e.Budget switch
        {
            null => "no part of it counts as detecting it",
            { IsDetected: true } => null,
            var b => BudgetTables.CauseInWords(b.Cause),
        })));

    /// <summary>Explains a probe in one cell of the approach map.</summary>
    internal static Explanation OfCell(PosedLayout layout, WalkSettings walk, Probe probe, double y, double z, string subject, double? onlyDistance)
    {
        ProbeTarget target = ProbeTarget.Of(probe);
        double front = layout.ForemostXMetres(y, z, target.HalfWidthMetres, target.HalfHeightMetres) + target.HalfDepthMetres;
        return Of(
            layout, walk, walk.SpeedMetresPerSecond, subject, onlyDistance,
            (sensor, phase, distance) => layout.MarginDecibels(sensor, phase, target, At(distance)),
            (sensor, phase, distance) => layout.Explain(sensor, phase, target.Parts, At(distance)));

        Vec3 At(double distance) => new(front + distance, y, z);
    }

    /// <summary>Explains an obstacle of the scenario.</summary>
    internal static Explanation OfObstacle(PosedLayout layout, WalkSettings walk, MapSettings maps, ObstacleSet set, EngineRequests engines, int index, double? onlyDistance)
    {
        Obstacle obstacle = set.Obstacles[index];
        VerdictBoard board = VerdictBoard.Of(layout, walk, maps, set, engines);
        string note = obstacle.Note.Length == 0 ? string.Empty : $", {obstacle.Note}";
        return Of(
            layout, walk, walk.SpeedMetresPerSecond + (obstacle.ClosingSpeedMetresPerSecond ?? 0), $"{obstacle.Id}{note}", onlyDistance,
            (sensor, phase, distance) => board.MarginDecibels(index, sensor, phase, distance),
            (sensor, phase, distance) => board.Explain(index, sensor, phase, distance));
    }

    private static Explanation Of(
        PosedLayout layout, WalkSettings walk, double closingSpeed, string subject, double? onlyDistance,
        Func<int, int, double, double> margin, Func<int, int, double, LevelBudget?> explain)
    {
        double timeNeeded = StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        double need = closingSpeed * timeNeeded;
        double[] distances = onlyDistance is { } one ? [one] : [.. UsualDistancesMetres.Append(Math.Round(need, 2)).Order().Distinct()];
        var echoes = ImmutableArray.CreateBuilder<ExplainedEcho>();
        foreach (double distance in distances)
        {
            for (int s = 0; s < layout.SensorCount; s++)
            {
                int sensor = s;
                double[] margins = [.. Enumerable.Range(0, layout.PhaseCount).Select(p => margin(sensor, p, distance))];
                int mustReport = (int)Math.Ceiling((layout.PhaseCount * walk.ReliableShare) - 1e-9);
                int phase = Enumerable.Range(0, layout.PhaseCount).OrderByDescending(p => margins[p]).ElementAt(mustReport - 1);
                echoes.Add(new ExplainedEcho(
                    distance, layout.Layout.Sensors[s].Name, margins.Count(m => m >= 0) / (double)margins.Length,
                    phase / (double)layout.PhaseCount, explain(s, phase, distance)));
            }
        }

        return new Explanation(subject, timeNeeded, need, echoes.ToImmutable());
    }
}
