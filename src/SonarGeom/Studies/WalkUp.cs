using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;

namespace SonarGeom.Studies;

/// <summary>What one receiver makes of one object at one distance, over the stride.</summary>
/// <param name="DistanceMetres">Distance from the body to the obstacle walked up to. [m]</param>
/// <param name="HeardFraction">Share of stride phases in which the object crosses the threshold by itself. [unitless]</param>
/// <param name="ReportedFraction">Share of stride phases in which it is the first to cross, so that the device reports it. [unitless]</param>
/// <param name="RangeMetres">Half the path to it in its loudest phase; 0 when it is silent in all. [m]</param>
/// <param name="LevelDecibels">Its greatest level over the stride. [dB re 20 µPa]</param>
/// <param name="LargestMarginDecibels">Its level over threshold or noise in the loudest phase. [dB]</param>
/// <param name="LeastMarginDecibels">The same in the faintest phase. [dB]</param>
public readonly record struct WalkUpPoint(
    double DistanceMetres,
    double HeardFraction,
    double ReportedFraction,
    double RangeMetres,
    double LevelDecibels,
    double LargestMarginDecibels,
    double LeastMarginDecibels);

/// <summary>One object on the way.</summary>
/// <param name="Name">The obstacle's id, the floor, or the part of the wearer.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Points">One point for each distance, in the order of walking.</param>
public sealed record WalkUpTrack(string Name, TraceKind Kind, ImmutableArray<WalkUpPoint> Points)
{
    /// <summary>Gets the largest margin on the whole way. [dB]</summary>
    public double LargestMarginDecibels => Points.Max(p => p.LargestMarginDecibels);

    /// <summary>Gets the first distance, in the order of walking, at which it crosses the threshold in some stride phase; null if never. [m]</summary>
    public double? FirstHeardMetres => Points.Where(p => p.HeardFraction > 0).Select(p => (double?)p.DistanceMetres).FirstOrDefault();

    /// <summary>Returns the first distance, in the order of walking, at which the device reports it in enough stride phases; null if never. [m]</summary>
    /// <param name="share">The share of stride phases that is enough, above 0. [unitless]</param>
    public double? FirstReportedMetres(double share) =>
        Points.Where(p => p.ReportedFraction >= share - 1e-9).Select(p => (double?)p.DistanceMetres).FirstOrDefault();
}

/// <summary>A walk up to an obstacle as one receiver hears it: a track for each object, over all stride phases.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="ObstacleId">The obstacle walked up to.</param>
/// <param name="StepMetres">Distance between two points. [m]</param>
/// <param name="Tracks">The tracks: the obstacle walked up to first, the others from the highest margin down.</param>
public sealed record WalkUp(string Sensor, string ObstacleId, double StepMetres, ImmutableArray<WalkUpTrack> Tracks)
{
    /// <summary>Walks up to an obstacle.</summary>
    /// <param name="stage">The wearer among obstacles.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="fromMetres">Distance at which to begin. [m]</param>
    /// <param name="toMetres">Distance at which to end, not above the first. [m]</param>
    /// <param name="stepMetres">Distance between two points, from 0.01 m to 1 m. [m]</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentOutOfRangeException">A distance is outside its range.</exception>
    public static WalkUp Of(
        TraceStage stage, int sensor, int obstacle, double fromMetres, double toMetres, double stepMetres, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(stage);
        Quantities.Finite.Within(stepMetres, 0.01, 1, nameof(stepMetres), "m");
        Quantities.Finite.Within(toMetres, 0, fromMetres, nameof(toMetres), "m");
        int count = (int)Math.Floor(((fromMetres - toMetres) / stepMetres) + 1e-9) + 1;
        double[] distances = [.. Enumerable.Range(0, count).Select(i => fromMetres - (i * stepMetres))];
        int phases = stage.Layout.PhaseCount;
        var strips = new WalkUpStrip[phases];
        for (int p = 0; p < phases; p++)
        {
            // One phase after the other: the traces of a whole walk are large.
            int phase = p;
            var traces = new LevelTrace[count];
            Parallel.For(0, count, new ParallelOptions { CancellationToken = cancellation }, i =>
                traces[i] = stage.Trace(sensor, phase, stage.WalkerXMetres(obstacle, distances[i])));
            strips[p] = WalkUpStrip.OfTraces([.. distances.Zip(traces)]);
        }

        string id = stage.Obstacles.Obstacles[obstacle].Id;
        string[] names = [.. strips.SelectMany(s => s.Tracks).Select(t => ObjectOf(t.Label)).Append(id).Distinct(StringComparer.Ordinal)];
        IEnumerable<WalkUpTrack> tracks = names.Select(name => Track(name, id, strips, distances));
        return new WalkUp(
            stage.Layout.Layout.Sensors[sensor].Name,
            id,
            stepMetres,
            [.. tracks.OrderByDescending(t => t.Name == id).ThenByDescending(t => t.LargestMarginDecibels).ThenBy(t => t.Name, StringComparer.Ordinal)]);
    }

    private static WalkUpTrack Track(string name, string id, WalkUpStrip[] strips, double[] distances)
    {
        var own = strips.Select(s => s.Tracks.Where(t => ObjectOf(t.Label) == name).ToArray()).ToArray();
        TraceKind kind = own.SelectMany(t => t).Select(t => TraceStage.KindOf(t.Label)).FirstOrDefault(name == id ? TraceKind.Obstacle : default);
        var points = ImmutableArray.CreateBuilder<WalkUpPoint>(distances.Length);
        for (int i = 0; i < distances.Length; i++)
        {
            int heard = 0, reported = 0;
            var loudest = new StripPoint(distances[i], 0, PartEcho.SilentDecibels, PartEcho.SilentDecibels, false);
            double least = double.PositiveInfinity;
            for (int p = 0; p < strips.Length; p++)
            {
                // An object is heard by the part that stands highest over the threshold, as in the verdicts.
                var best = new StripPoint(distances[i], 0, PartEcho.SilentDecibels, PartEcho.SilentDecibels, false);
                foreach (StripTrack track in own[p])
                {
                    best = track.Points[i].MarginDecibels > best.MarginDecibels ? track.Points[i] : best;
                }

                heard += best.IsHeard ? 1 : 0;
                reported += strips[p].Readings[i].Label is { } label && ObjectOf(label) == name ? 1 : 0;
                least = Math.Min(least, best.MarginDecibels);
                loudest = best.MarginDecibels > loudest.MarginDecibels ? best : loudest;
            }

            points.Add(new WalkUpPoint(
                distances[i], heard / (double)strips.Length, reported / (double)strips.Length, loudest.RangeMetres, loudest.LevelDecibels,
                loudest.MarginDecibels, least));
        }

        return new WalkUpTrack(name, kind, points.MoveToImmutable());
    }

    // Parts of obstacles are labelled "id: part".
    private static string ObjectOf(string label) =>
        label.IndexOf(": ", StringComparison.Ordinal) is var at and > 0 ? label[..at] : label;
}
