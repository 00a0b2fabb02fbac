using System.Collections.Immutable;
using SonarGeom.Cli.Results;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The picture of a walk up to an obstacle.</summary>
internal static class WalkUpFigures
{
    private const int MostTracks = 10;
    private const double FarBelowDecibels = 40;

    private static readonly ImmutableArray<TimelineKind> Kinds =
    [
        new("reported at every stride phase", Colour.FromHex("9fd0c3"), HatchPattern.None),
        new("reported in some stride phases", Colour.FromHex("f3e3b0"), HatchPattern.Rising),
        new("crosses the threshold, but another echo comes first", Colour.FromHex("e3b4d3"), HatchPattern.Lattice),
    ];

    /// <summary>Returns the tracks over the distance still to walk.</summary>
    /// <param name="walk">The walk.</param>
    /// <param name="needMetres">The last distance at which a warning is in time. [m]</param>
    /// <param name="reliableShare">Share of stride phases that counts as reliable. [unitless]</param>
    /// <param name="conditions">Under which conditions it holds.</param>
    internal static TimelineFigure Of(WalkUp walk, double needMetres, double reliableShare, string conditions)
    {
        WalkUpTrack[] told = [.. WalkUpTables.Told(walk)];
        WalkUpTrack[] drawn = [.. told.Where(t => t.Name == walk.ObstacleId || t.LargestMarginDecibels > -FarBelowDecibels).Take(MostTracks)];
        ImmutableArray<WalkUpPoint> points = walk.Tracks[0].Points;
        double half = 0.5 * walk.StepMetres, from = points[0].DistanceMetres + half, to = Math.Max(0, points[^1].DistanceMetres - half);
        return new([.. drawn.Select(t => Row(t, half))], Kinds, new($"Distance from the body to {walk.ObstacleId}", "m") { From = to, To = from, IsReversed = true })
        {
            Title = $"Walking up to {walk.ObstacleId} with {walk.Sensor}",
            Finding = Finding(walk, needMetres, reliableShare),
            ReferenceLines = needMetres < from && needMetres > to
                ? [new($"warning needed by {needMetres:0.00} m", needMetres, true, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5))]
                : [],
            WidthPixels = 1300,
            Footnotes =
            [
                $"What this one receiver hears, every {walk.StepMetres * 100:0.#} cm, over the stride. Level is the peak of the echo in time; a blank track stays below the threshold. " + conditions,
                .. told.Length > drawn.Length ? [$"{told.Length - drawn.Length} fainter objects are not drawn; the table has them all."] : Array.Empty<string>(),
            ],
        };
    }

    /// <summary>Says from where the obstacle is reported, and what comes before it.</summary>
    internal static string Finding(WalkUp walk, double needMetres, double reliableShare)
    {
        WalkUpTrack target = walk.Tracks[0];
        string share = FigureWords.Percent(reliableShare);
        string first = (target.FirstReportedMetres(reliableShare), target.FirstReportedMetres(1e-6)) switch
        {
            ({ } reliable, _) => $"{walk.Sensor} reports {walk.ObstacleId} in {share} of the stride or more from {reliable:0.00} m on, {Against(reliable, needMetres)}",
            (null, { } some) => $"{walk.Sensor} reports {walk.ObstacleId} from {some:0.00} m on, but at no distance in {share} of the stride",
            _ => target.LargestMarginDecibels >= 0
                ? $"{walk.Sensor} never reports {walk.ObstacleId}: another echo always comes first"
                : $"{walk.Sensor} never reports {walk.ObstacleId}: {(target.LargestMarginDecibels <= -250 ? "it sends nothing back" : $"at best it stays {-target.LargestMarginDecibels:0.0} dB below the threshold")}",
        };
        string[] before = [.. walk.Tracks.Skip(1).Where(t => t.FirstReportedMetres(1e-6) is not null).Select(t => t.Name)];
        first = FigureWords.Capital(first);
        return before.Length == 0 ? $"{first}." : $"{first}. On the way it also reports {FigureWords.Listed(before)}.";
    }

    private static string Against(double reliable, double need) => reliable >= need - 1e-9
        ? $"{reliable - need:0.00} m before a warning is due"
        : $"{need - reliable:0.00} m too late";

    private static TimelineRow Row(WalkUpTrack track, double half)
    {
        var intervals = ImmutableArray.CreateBuilder<TimelineInterval>();
        int open = -1;
        double start = 0;
        foreach (WalkUpPoint point in track.Points)
        {
            int kind = KindOf(point);
            if (kind == open)
            {
                continue;
            }

            Close(point.DistanceMetres + half);
            (open, start) = (kind, point.DistanceMetres + half);
        }

        Close(Math.Max(0, track.Points[^1].DistanceMetres - half));
        return new TimelineRow(track.Name, intervals.ToImmutable())
        {
            Detail = track.LargestMarginDecibels switch
            {
                <= -250 => "sends nothing back",
                var best and < 0 => $"never crosses; at best {best:0.0} dB".Replace('-', '−'),
                var best => $"at best {best:0.0} dB over the threshold",
            },
        };

        void Close(double end)
        {
            if (open >= 0)
            {
                intervals.Add(new TimelineInterval(end, start, open));
            }
        }
    }

    private static int KindOf(WalkUpPoint point) => point switch
    {
        { ReportedFraction: >= 1 - 1e-9 } => 0,
        { ReportedFraction: > 0 } => 1,
        { HeardFraction: > 0 } => 2,
        _ => -1,
    };
}
