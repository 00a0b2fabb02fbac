using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>The designer's first plot: head-band share and false floor echo of each sensor against its tilt.</summary>
public static class TiltStudy
{
    private const double StepDegrees = 5;
    private const double SpanDegrees = 30;

    /// <summary>Returns the tilt curve of one sensor.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="probe">The probe.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances; a coarse grid is enough for shares.</param>
    /// <param name="board">The verdicts of the layout as mounted, to tell what each tilt loses and gains; null for none.</param>
    /// <param name="mapped">Shares of the layout as mounted on a finer grid, which the curve is moved to pass through; default for none.</param>
    public static TiltCurve Of(PosedLayout layout, int sensor, Probe probe, WalkSettings walk, MapSettings settings, VerdictBoard? board = null, ImmutableArray<BandShare> mapped = default)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(probe);
        SensorPlacement placement = layout.Layout.Sensors[sensor];
        double current = placement.Mount.Tilt.Degrees;
        KeptMaps maps = KeptMaps.Of(layout, walk, settings, [probe], isForSharesOnly: true, followed: []);
        var moved = new MovedShares(mapped, maps.Maps[0].Shares());
        ImmutableArray<bool> before = board?.WarnedInTime() ?? [];
        var points = ImmutableArray.CreateBuilder<TiltPoint>();
        double first = Math.Max(-90, current - SpanDegrees), last = Math.Min(90, current + SpanDegrees);
        for (double tilt = first; tilt <= last + 1e-9; tilt += StepDegrees)
        {
            SensorPlacement turned = placement with { Mount = placement.Mount with { Tilt = Angle.FromDegrees(tilt) } };
            maps = maps.WithSensor(sensor, turned);
            PosedLayout tilted = maps.Layout;
            PosedLayout alone = tilted.Only(sensor);
            ImmutableArray<BandFraction> shares = moved.AfterChange(maps.Maps[0].Shares());
            ImmutableArray<bool> after = board?.WithLayout(sensor, tilted).WarnedInTime() ?? [];
            points.Add(new TiltPoint(
                tilt, shares[0].WarnedFraction, HeadShare(alone, probe, walk, settings), alone.FloorMarginDecibels(0), shares,
                Differing(board, after, before, isWarned: false), Differing(board, after, before, isWarned: true)));
        }

        (double low, double high) = Window(points);
        return new TiltCurve(placement.Name, probe.Name, current, points.ToImmutable(), low, high);
    }

    /// <summary>Returns the share of the head band that a layout warns of in time. [unitless]</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="probe">The probe.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances.</param>
    public static double HeadShare(PosedLayout layout, Probe probe, WalkSettings walk, MapSettings settings) =>
        new ApproachMapper(layout, walk, settings).ShareOf(probe, HeightBand.Head).WarnedFraction;

    private static ImmutableArray<string> Differing(VerdictBoard? board, ImmutableArray<bool> after, ImmutableArray<bool> before, bool isWarned) =>
        [.. Enumerable.Range(0, after.Length).Where(i => after[i] == isWarned && before[i] != isWarned).Select(i => board!.ObstacleAt(i).Id)];

    // The longest unbroken stretch of tilts that keeps the layout's best head share (within 2 % of the band) with a silent floor.
    private static (double Low, double High) Window(ImmutableArray<TiltPoint>.Builder points)
    {
        double best = points.Where(p => p.FloorMarginDecibels < 0).Select(p => p.HeadShareFraction).DefaultIfEmpty(0).Max();
        double low = double.NaN, high = double.NaN, start = double.NaN;
        foreach (TiltPoint point in points)
        {
            bool good = best > 0 && point.FloorMarginDecibels < 0 && point.HeadShareFraction >= best - 0.02;
            start = good ? double.IsNaN(start) ? point.TiltDegrees : start : double.NaN;
            if (good && (double.IsNaN(low) || point.TiltDegrees - start > high - low))
            {
                (low, high) = (start, point.TiltDegrees);
            }
        }

        return (low, high);
    }
}
