using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Pictures and sentences of false alerts.</summary>
internal static class FalseAlertFigures
{
    private const double DeepestDecibels = -40;

    /// <summary>Returns the floor echo of one sensor against its tilt, a line for each kind of floor.</summary>
    internal static LineFigure FloorByTilt(FalseAlerts alerts, string sensor, string conditions)
    {
        FloorRisk[] risks = [.. alerts.Floors.Where(f => f.Sensor == sensor)];
        double now = risks[0].Now.TiltDegrees;
        return new(
            [.. risks.Select(r => new LineSeries(r.Ground.Name, [.. r.Curve.Select(at => new PlotPoint(at.TiltDegrees, at.MarginDecibels <= -200 ? double.NaN : at.MarginDecibels))]))],
            new($"Tilt of {sensor}, positive up", "°") { From = risks[0].Curve[0].TiltDegrees, To = risks[0].Curve[^1].TiltDegrees },
            new("Floor echo over the threshold", "dB") { From = DeepestDecibels })
        {
            Title = $"Floor echo of {sensor} against its tilt",
            Finding = FloorFinding(risks),
            ReferenceLines =
            [
                new("false alert from here up", 0, false, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5)),
                new($"as mounted, {FigureWords.Tilt(now)}", now, true, new(Colour.Ink, DashPattern.Dashed, 2)),
            ],
            WidthPixels = 1200,
            PlotHeightPixels = 440,
            Footnotes =
            [
                $"Largest margin over the stride, of the floor as a mirror or of its roughness, whichever stands higher. The roughness figures are assumptions: {Confidence(risks)}. {conditions}",
            ],
        };
    }

    /// <summary>Says over which floors a sensor raises false alerts as mounted, and from which tilt on it would.</summary>
    internal static string FloorFinding(IReadOnlyList<FloorRisk> risks)
    {
        FloorRisk[] loud = [.. risks.Where(r => r.IsFalseAlert)];
        if (loud.Length > 0)
        {
            return $"As mounted {risks[0].Sensor} reports {FigureWords.Listed([.. loud.Select(Alert)])}.";
        }

        FloorRisk? first = risks.Where(r => r.AlertTiltDegrees is not null).MaxBy(r => r.AlertTiltDegrees);
        return first is null
            ? $"{FigureWords.Capital(risks[0].Sensor)} reports none of these floors at any tilt."
            : $"As mounted {risks[0].Sensor} reports none of these floors; {first.Ground.Name} is the first that it would report, tilted {FigureWords.Tilt(first.AlertTiltDegrees!.Value)} or lower.";
    }

    /// <summary>Says which false alerts there are as mounted and what removes each, or that there is none.</summary>
    internal static string Finding(FalseAlerts alerts)
    {
        string[] floors = [.. alerts.Floors.Where(f => f.IsFalseAlert).GroupBy(f => f.Sensor).Select(g => $"{g.Key} reports {FigureWords.Listed([.. g.Select(Alert)])}")];
        string[] own = [.. alerts.Own.Where(o => o.Echo.IsFalseAlert).Select(o =>
            $"{o.Sensor} reports the wearer's {o.Echo.Label} at {o.Echo.RangeMetres:0.00} m ({o.Echo.MarginDecibels:0.0} dB over the threshold; a threshold higher by as much removes it{(o.SilentTiltDegrees is { } t ? $", or a tilt of {FigureWords.Tilt(t)}" : string.Empty)})")];
        string masks = FigureWords.Listed([.. alerts.Floors.Where(f => f.Now.MasksKerb).Select(f => $"{f.Sensor} over {f.Ground.Name}")]);
        string[] all = [.. floors, .. own];
        string first = all.Length == 0 ? "As mounted no sensor reports the floor or its own wearer." : $"{FigureWords.Capital(string.Join("; ", all))}.";
        return masks == "none" ? first : $"{first} The floor hides the reference kerb from {masks}.";
    }

    private static string Alert(FloorRisk risk) =>
        $"{risk.Ground.Name} from {risk.Now.FirstCrossingMetres:0.00} m on ({risk.ThresholdRiseDecibels:0.0} dB over the threshold; a threshold higher by as much removes it"
        + (risk.SilentAboveDegrees is { } tilt ? $", or a tilt above {FigureWords.Tilt(tilt)})" : ")");

    private static string Confidence(IEnumerable<FloorRisk> risks) =>
        string.Join(", ", risks.Select(r => r.Ground).DistinctBy(g => g.Name).Select(g => $"{g.Name} {g.Confidence.Replace("assumption ", string.Empty, StringComparison.Ordinal)}"));
}
