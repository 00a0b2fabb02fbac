using System.Collections.Immutable;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>One moment of a track.</summary>
/// <param name="DistanceMetres">Distance still to walk, as the caller counts it. [m]</param>
/// <param name="RangeMetres">Half the path of the source's return; 0 when it is silent. [m]</param>
/// <param name="LevelDecibels">Its greatest level. [dB re 20 µPa]</param>
/// <param name="MarginDecibels">Its greatest level over threshold or noise. [dB]</param>
/// <param name="IsHeard">Whether it crosses the threshold by itself.</param>
public readonly record struct StripPoint(
    double DistanceMetres, double RangeMetres, double LevelDecibels, double MarginDecibels, bool IsHeard);

/// <summary>One labelled track as the wearer walks up.</summary>
/// <param name="Label">The source.</param>
/// <param name="Points">One point for each moment, in the order of walking.</param>
public sealed record StripTrack(string Label, ImmutableArray<StripPoint> Points)
{
    /// <summary>Gets the first moment, in the order of walking, at which it is heard; null if never.</summary>
    public StripPoint? FirstHeard
    {
        get
        {
            foreach (StripPoint point in Points)
            {
                if (point.IsHeard)
                {
                    return point;
                }
            }

            return null;
        }
    }
}

/// <summary>What the device reports at one moment.</summary>
/// <param name="DistanceMetres">Distance still to walk. [m]</param>
/// <param name="ReportedMetres">Where the sum of all sources first crosses the threshold; null if nowhere. [m]</param>
/// <param name="Label">The source that is strongest there; null without a crossing.</param>
public readonly record struct StripReading(double DistanceMetres, double? ReportedMetres, string? Label);

/// <summary>A walk up to a scene: one track for each source, and what the device reports.</summary>
/// <param name="Tracks">The tracks, in the order of the sources.</param>
/// <param name="Readings">One reading for each moment, in the order of walking.</param>
public sealed record WalkUpStrip(ImmutableArray<StripTrack> Tracks, ImmutableArray<StripReading> Readings)
{
    /// <summary>Computes a strip.</summary>
    /// <param name="moments">The moments in the order of walking: the distance still to walk, and the sensor at its pose then, in the
    /// frame of the sources. [m]</param>
    /// <param name="sources">The sources; each has one label, all different.</param>
    /// <param name="stepMetres">Step of the range axis. [m]</param>
    /// <exception cref="ArgumentException">There is no moment, or two sources have the same label.</exception>
    public static WalkUpStrip Of(
        IReadOnlyList<(double DistanceMetres, SensorAtPose Sensor)> moments, IReadOnlyList<TraceSource> sources, double stepMetres = 0.004)
    {
        ArgumentNullException.ThrowIfNull(moments);
        ArgumentNullException.ThrowIfNull(sources);
        if (moments.Count == 0)
        {
            throw new ArgumentException("A walk needs at least one moment.", nameof(moments));
        }

        if (sources.Select(source => source.Label).Distinct(StringComparer.Ordinal).Count() != sources.Count)
        {
            throw new ArgumentException("Every source needs a label of its own.", nameof(sources));
        }

        var traces = new LevelTrace[moments.Count];
        Parallel.For(0, moments.Count, i => traces[i] = LevelTrace.Of(moments[i].Sensor, sources, stepMetres));
        return OfTraces([.. moments.Select((moment, i) => (moment.DistanceMetres, traces[i]))]);
    }

    /// <summary>Makes a strip of traces whose sources may come and go, such as a limb that the body hides at some moments.</summary>
    /// <param name="moments">The moments in the order of walking: the distance still to walk, and the trace. [m]</param>
    /// <returns>One track for each label, in the order in which they first appear; where a trace lacks it the source is silent.</returns>
    public static WalkUpStrip OfTraces(IReadOnlyList<(double DistanceMetres, LevelTrace Trace)> moments)
    {
        ArgumentNullException.ThrowIfNull(moments);
        var points = new Dictionary<string, StripPoint[]>(StringComparer.Ordinal);
        var labels = new List<string>();
        for (int i = 0; i < moments.Count; i++)
        {
            foreach (TraceContribution contribution in moments[i].Trace.Contributions)
            {
                if (!points.TryGetValue(contribution.Label, out StripPoint[]? track))
                {
                    track = [.. moments.Select(m => new StripPoint(m.DistanceMetres, 0, PartEcho.SilentDecibels, PartEcho.SilentDecibels, false))];
                    points.Add(contribution.Label, track);
                    labels.Add(contribution.Label);
                }

                track[i] = Point(moments[i].DistanceMetres, contribution);
            }
        }

        return new WalkUpStrip(
            [.. labels.Select(label => new StripTrack(label, [.. points[label]]))],
            [.. moments.Select(m => new StripReading(m.DistanceMetres, m.Trace.FirstCrossingMetres, m.Trace.FirstCrossingLabel))]);
    }

    private static StripPoint Point(double distance, TraceContribution contribution) => new(
        distance, contribution.RangeMetres, contribution.PeakDecibels, contribution.LargestMarginDecibels, contribution.FirstCrossingMetres.HasValue);
}
