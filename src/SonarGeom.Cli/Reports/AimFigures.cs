using System.Collections.Immutable;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Charts of a sensor turned degree by degree.</summary>
internal static class AimFigures
{
    /// <summary>Returns the share of one band against the tilt, a line for each probe.</summary>
    internal static LineFigure Band(IReadOnlyList<AimPoint> points, string sensor, double mountedDegrees, HeightBand band, string footnote)
    {
        string[] probes = [.. points.Select(p => p.ProbeName).Distinct()];
        (double from, double to) = (points.Min(p => p.TiltDegrees), points.Max(p => p.TiltDegrees));
        return new LineFigure(
            [.. probes.Select(name => new LineSeries(name, [.. points.Where(p => p.ProbeName == name).Select(p => new PlotPoint(p.TiltDegrees, Percent(p, band)))]))],
            new($"Tilt of {sensor}, positive up", "°"),
            new($"{Capital(Words.Of(band))} band warned in time", "%") { From = 0, To = 100 })
        {
            Title = $"{Capital(Words.Of(band))} band against the tilt of {sensor}",
            Finding = Finding(points, mountedDegrees, band),
            ReferenceLines = mountedDegrees >= from && mountedDegrees <= to
                ? [new($"as mounted, {FigureWords.Tilt(mountedDegrees)}", mountedDegrees, true, new(Colour.Ink, DashPattern.Dashed, 2))]
                : [],
            WidthPixels = 1000,
            PlotHeightPixels = 340,
            Footnotes = [footnote],
        };
    }

    /// <summary>Says how much the tilt decides in a band.</summary>
    internal static string Finding(IReadOnlyList<AimPoint> points, double mountedDegrees, HeightBand band)
    {
        IGrouping<string, AimPoint> most = points.GroupBy(p => p.ProbeName).MaxBy(g => g.Max(p => Percent(p, band)) - g.Min(p => Percent(p, band)))!;
        AimPoint best = most.MaxBy(p => Percent(p, band))!, nearest = most.MinBy(p => Math.Abs(p.TiltDegrees - mountedDegrees))!;
        if (Percent(best, band) - most.Min(p => Percent(p, band)) < 1)
        {
            return "No tilt computed changes this band by one percent for any probe.";
        }

        return $"The tilt matters most to {most.Key}: {Percent(best, band):0} % at {FigureWords.Tilt(best.TiltDegrees)}, {Percent(nearest, band):0} % at {FigureWords.Tilt(nearest.TiltDegrees)}.";
    }

    private static double Percent(AimPoint point, HeightBand band) => 100 * point.Shares.Single(s => s.Band == band).WarnedFraction;

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
