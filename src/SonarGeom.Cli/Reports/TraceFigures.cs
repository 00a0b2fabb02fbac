using System.Collections.Immutable;
using SonarGeom.Cli.Results;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The picture of what one receiver hears after one burst.</summary>
internal static class TraceFigures
{
    private const int MostSources = 9;
    private const double BelowNoiseDecibels = 20;

    private const double RoomMetres = 0.5;
    private const double LeastMetres = 3;

    private static readonly Colour Alert = Colour.FromHex("b00000");

    /// <summary>Returns level against range.</summary>
    /// <param name="trace">The trace.</param>
    /// <param name="reading">What the device reports, or null.</param>
    /// <param name="subject">Sensor, wearer and place.</param>
    /// <param name="phasePercent">The moment of the stride. [%]</param>
    /// <param name="device">What the device assumes.</param>
    internal static LineFigure Of(LevelTrace trace, TraceReading? reading, string subject, double phasePercent, DeviceSettings device)
    {
        double floor = Math.Floor((trace.NoiseDecibels - BelowNoiseDecibels) / 5) * 5;
        ImmutableArray<TraceContribution> audible = TraceTables.Audible(trace);
        TraceContribution[] drawn = [.. audible.Where(c => c.PeakDecibels > floor).Take(MostSources)];
        double top = trace.ThresholdDecibels.Where((_, i) => trace.RangesMetres[i] >= trace.DeadZoneMetres)
            .Concat(drawn.Select(c => c.PeakDecibels)).Max();
        double end = Math.Min(trace.WindowRangeMetres, drawn.Select(c => LastMetres(trace, c, floor) + RoomMetres).Append(LeastMetres).Max());
        int left = audible.Length - drawn.Length;
        return new(
            [
                new("all together", Line(trace, trace.TotalDecibels)) { Style = new(Colour.FromHex("8a8a8a"), DashPattern.Full, 6), Marker = MarkerShape.None },
                .. drawn.Select((c, i) => new LineSeries(c.Label, Line(trace, c.LevelsDecibels)) { Style = LineStyle.At(i), Marker = MarkerShape.None }),
                new("detection threshold", Line(trace, trace.ThresholdDecibels)) { Style = new(Colour.Ink, DashPattern.Dashed, 3), Marker = MarkerShape.None },
            ],
            new("Range: half the way there and back, at the true speed of sound", "m") { From = 0, To = end },
            new("Level at the receiver, re 20 µPa", "dB") { From = floor, To = Math.Ceiling((top + 6) / 5) * 5 })
        {
            Title = subject,
            Finding = Finding(trace, reading),
            Windows = [new("dead zone", 0, trace.DeadZoneMetres, true, HatchPattern.Rising)],
            ReferenceLines =
            [
                new("noise", trace.NoiseDecibels, false, new(Colour.Grey, DashPattern.Dotted, 2)),
                .. trace.FirstCrossingMetres is { } at ? [new ReferenceLine($"first crossing, {at:0.00} m", at, true, new(Alert, DashPattern.LongDashed, 2))] : Array.Empty<ReferenceLine>(),
            ],
            Markers = [.. drawn.Select((c, i) => new MapMarker(c.Label, Peak(trace, c), MarkerShape.Circle) { Colour = LineStyle.At(i).Colour })],
            WidthPixels = 1300,
            PlotHeightPixels = 520,
            Footnotes =
            [
                "Level at the receiver after one burst, against range. Sources with a phase add as waves, rough ground and foliage (the level that nine pings in ten are above) as power; obstacles are hidden by the body and by one "
                + $"another as in the verdicts. Listening ends at {trace.WindowRangeMetres:0.00} m; nothing is reported in the dead zone or after that. "
                + $"The device takes {device.AssumedMicrosecondsPerCentimetre:0.##} µs for a centimetre. At {phasePercent:0.#} % of the stride.",
                .. left > 0 ? [$"{left} weaker {(left == 1 ? "source is" : "sources are")} not drawn; the table has them all."] : Array.Empty<string>(),
            ],
        };
    }

    /// <summary>Says what the device reports and how far it is out.</summary>
    internal static string Finding(LevelTrace trace, TraceReading? reading)
    {
        if (reading is null)
        {
            return TraceTables.Audible(trace) is [var nearest, ..]
                ? $"Nothing is reported: the strongest, {nearest.Label}, stays {-nearest.LargestMarginDecibels:0.0} dB below the threshold."
                : "Nothing is reported: nothing sends an echo back.";
        }

        string what = reading.Kind switch
        {
            TraceKind.Obstacle => reading.Label,
            TraceKind.Floor => $"a false alert by the {reading.Label}",
            _ => $"a false alert by the wearer's {reading.Label}",
        };
        string error = reading is { TrueMetres: { } range, ErrorMetres: { } error1, RiseErrorMetres: { } rise }
            ? $", which is {range:0.00} m away: {Signed(error1)} m, {Signed(reading.AirErrorMetres)} m of it by the assumed speed of sound and {Signed(rise)} m {(range < trace.DeadZoneMetres ? "because it still sounds when the dead zone ends" : "by the rise of the echo")}"
            : $": {Signed(reading.AirErrorMetres)} m off by the assumed speed of sound";
        return $"The device reports {reading.ReportedMetres:0.00} m, {what}{error}.";
    }

    private static string Signed(double metres) => $"{(Math.Round(metres, 3) < 0 ? "−" : "+")}{Math.Abs(metres):0.000}";

    private static ImmutableArray<PlotPoint> Line(LevelTrace trace, ImmutableArray<double> levels) =>
        [.. levels.Select((level, i) => new PlotPoint(trace.RangesMetres[i], level > PartEcho.SilentDecibels ? level : double.NaN))];

    private static double LastMetres(LevelTrace trace, TraceContribution contribution, double floor)
    {
        int last = trace.RangesMetres.Length - 1;
        while (last > 0 && contribution.LevelsDecibels[last] < floor)
        {
            last--;
        }

        return trace.RangesMetres[last];
    }

    // The peak beyond the dead zone, where it counts.
    private static PlotPoint Peak(LevelTrace trace, TraceContribution contribution)
    {
        int peak = trace.RangesMetres.Length - 1;
        for (int i = 0; i < trace.RangesMetres.Length; i++)
        {
            bool counts = trace.RangesMetres[i] >= trace.DeadZoneMetres;
            peak = counts && contribution.LevelsDecibels[i] > contribution.LevelsDecibels[peak] ? i : peak;
        }

        return new PlotPoint(trace.RangesMetres[peak], contribution.LevelsDecibels[peak]);
    }
}
