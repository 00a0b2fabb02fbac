using System.Collections.Immutable;
using System.Globalization;
using SonarGeom.Cli.Results;
using SonarGeom.Layouts;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Reports;

/// <summary>The pictures of trials: one walk alert by alert, and how the answer settles.</summary>
internal static class TrialFigures
{
    private const int MostTicks = 8;

    // Reports of one thing closer together than this are drawn as one stretch.
    private const double JoinSeconds = 0.5;

    private static readonly Colour Warned = Colour.FromHex("1f6f5c");
    private static readonly Colour Missed = Colour.FromHex("b00000");

    private static readonly ImmutableArray<TimelineKind> Kinds =
    [
        new("reported, in the way", Colour.FromHex("9fd0c3"), HatchPattern.None),
        new("reported, passed beside", Colour.FromHex("f3e3b0"), HatchPattern.Rising),
        new("reported, nothing there", Colour.FromHex("e3b4d3"), HatchPattern.Lattice),
        new("too late to stop", Colour.FromHex("d9d9d9"), HatchPattern.Falling),
        new("device does not look", Colour.FromHex("c9c9e8"), HatchPattern.Dots),
    ];

    /// <summary>Returns one walk over time: what is reported, alerted and touched.</summary>
    internal static TimelineFigure Timeline(WalkRecord walk, string conditions)
    {
        var rows = ImmutableArray.CreateBuilder<TimelineRow>();
        foreach (RecordedTouch touch in walk.Touches)
        {
            RecordedAlert[] alerts = [.. walk.Alerts.Where(a => a.Obstacle == touch.Obstacle && a.Source == AlertSource.Obstacle)];
            var intervals = ImmutableArray.CreateBuilder<TimelineInterval>();
            if (touch.IsTouched)
            {
                intervals.Add(new TimelineInterval(Math.Max(0, touch.Seconds - walk.StopSeconds), touch.Seconds, 3));
            }

            intervals.AddRange(Joined(walk.Reports.Where(r => r.Obstacle == touch.Obstacle && r.Source == AlertSource.Obstacle).Select(r => r.Seconds), touch.IsTouched ? 0 : 1));
            if (intervals.Count == 0)
            {
                continue;
            }

            rows.Add(new TimelineRow(touch.Obstacle, intervals.ToImmutable())
            {
                Detail = !touch.IsTouched ? "passed beside" : touch.IsWarned ? $"warned {touch.WarningSeconds:0.0} s ahead" : "not warned in time",
                Events =
                [
                    .. alerts.Select(a => new TimelineEvent(a.FeltSeconds, $"alert: {Words.Of(a.Message)}", ShapeOf(a.Message)) { Colour = Colour.Ink }),
                    .. touch.IsTouched
                        ? [new TimelineEvent(touch.Seconds, touch.IsWarned ? "touch, warned" : "touch, not warned", MarkerShape.Cross) { Colour = touch.IsWarned ? Warned : Missed }]
                        : Array.Empty<TimelineEvent>(),
                ],
            });
        }

        foreach (AlertSource source in Enum.GetValues<AlertSource>().Where(s => s != AlertSource.Obstacle && walk.Reports.Any(r => r.Source == s)))
        {
            rows.Add(new TimelineRow(Words.Of(source), [.. Joined(walk.Reports.Where(r => r.Source == source).Select(r => r.Seconds), 2)])
            {
                Events = [.. walk.Alerts.Where(a => a.Source == source).Select(a => new TimelineEvent(a.FeltSeconds, $"alert: {Words.Of(a.Message)}", ShapeOf(a.Message)))],
            });
        }

        if (!walk.Away.IsEmpty)
        {
            rows.Add(new TimelineRow("not looking", [.. Joined(walk.Away.Select(a => a.Seconds), 4)]));
        }

        RecordedTouch[] touched = [.. walk.Touches.Where(t => t.IsTouched)];
        int warned = touched.Count(t => t.IsWarned);
        int idle = walk.Alerts.Count(a => a.Source != AlertSource.Obstacle || !touched.Any(t => t.Obstacle == a.Obstacle));
        return new TimelineFigure(
            rows.Count > 0 ? rows.ToImmutable() : [new TimelineRow("nothing", [])], Kinds, new AxisSpec("Time from the start of the walk", "s") { From = 0, To = walk.Seconds })
        {
            Title = $"Walk {walk.Number} with {walk.Layout.Name}",
            Finding = $"In this walk the wearer would run into {touched.Length} obstacles and is warned in time of {warned}; "
                + $"{walk.Alerts.Length} alerts are given, {idle} of them for nothing in the way.",
            WidthPixels = 1500,
            Footnotes =
            [
                "One of many walks: its stride phase, straying, posture, speed, air and mounts are drawn at random. A stretch shows when any sensor reports; an alert needs the filter and the alert zones. " + conditions,
                FigureWords.Caution,
            ],
        };
    }

    /// <summary>Returns the share of touches warned of against the number of walks.</summary>
    internal static LineFigure Convergence(TrialReport report, string conditions)
    {
        LayoutTrials first = report.Layouts[0];
        ConvergencePoint last = first.Convergence[^1];

        // From the last backwards, so that the last is always told; fewer when they would touch.
        int every = (first.Convergence.Length / MostTicks) + 1;
        int[] ticks = [.. first.Convergence.Reverse().Where((_, i) => i % every == 0).Select(p => p.Walks).Distinct().Order()];
        return new LineFigure(
            [
                .. report.Layouts.Select((l, i) => new LineSeries(l.Layout.Name, [.. l.Convergence.Select(p => new PlotPoint(Math.Log10(p.Walks), 100 * p.Share.Fraction))])
                {
                    Style = LineStyle.At(i),
                    Lower = [.. l.Convergence.Select(p => new PlotPoint(Math.Log10(p.Walks), 100 * p.Share.LowFraction))],
                    Upper = [.. l.Convergence.Select(p => new PlotPoint(Math.Log10(p.Walks), 100 * p.Share.HighFraction))],
                }),
            ],
            new AxisSpec("Number of walks, every doubling the same step", string.Empty)
            {
                Ticks = [.. ticks.Select(n => Math.Log10(n))],
                TickLabels = [.. ticks.Select(n => n.ToString(CultureInfo.InvariantCulture))],
            },
            new AxisSpec("Warned in time of what is touched", "%") { From = 0, To = 100 })
        {
            Title = "How the share of warnings settles",
            Finding = $"After {last.Walks} walks the share of {first.Layout.Name} is {FigureWords.Percent(last.Share.Fraction)}, with a 95 % interval of {100 * (last.Share.HighFraction - last.Share.LowFraction):0.0} points.",
            Footnotes = ["Bands: 95 % intervals with outings as independent cases. " + conditions],
        };
    }

    private static MarkerShape ShapeOf(AlertMessage message) => message switch
    {
        AlertMessage.Left => MarkerShape.Square,
        AlertMessage.Right => MarkerShape.Diamond,
        AlertMessage.HeadHigh => MarkerShape.Triangle,
        AlertMessage.Low => MarkerShape.TriangleDown,
        _ => MarkerShape.Circle,
    };

    private static IEnumerable<TimelineInterval> Joined(IEnumerable<double> seconds, int kind)
    {
        double from = double.NaN, to = double.NaN;
        foreach (double at in seconds.Order())
        {
            if (double.IsNaN(from))
            {
                (from, to) = (at, at);
            }
            else if (at - to > JoinSeconds)
            {
                yield return new TimelineInterval(from - 0.05, to + 0.05, kind);
                (from, to) = (at, at);
            }
            else
            {
                to = at;
            }
        }

        if (!double.IsNaN(from))
        {
            yield return new TimelineInterval(from - 0.05, to + 0.05, kind);
        }
    }
}
