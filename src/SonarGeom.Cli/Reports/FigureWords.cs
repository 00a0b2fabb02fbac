using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Sentences that several pictures and pages share.</summary>
internal static class FigureWords
{
    internal const string Caution =
        "A design aid, no proof of safety: a detector supplements the long cane or guide dog and never replaces them.";

    /// <summary>Gets the height bands from the head down.</summary>
    internal static IReadOnlyList<HeightBand> Bands { get; } =
        [HeightBand.Head, HeightBand.Chest, HeightBand.Waist, HeightBand.Knee, HeightBand.Foot];

    /// <summary>Returns a share as whole per cent that never rounds up to all or down to nothing; number and sign stay on one line.</summary>
    internal static string Percent(double fraction) => fraction switch
    {
        > 0 and < 0.005 => "under 1\u00a0%",
        > 0.995 and < 1 => "over 99\u00a0%",
        _ => $"{fraction * 100:0}\u00a0%",
    };

    /// <summary>Returns a text with its first letter as a capital.</summary>
    internal static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>Returns names as a list in words.</summary>
    internal static string Listed(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "none",
        1 => names[0],
        _ => $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}",
    };

    /// <summary>Says which share of each band is warned in time.</summary>
    internal static string Shares(IEnumerable<BandShare> shares) =>
        Listed([.. shares.Where(s => s.Cells > 0).Select(s => $"{Words.Of(s.Band)} {Percent(s.WarnedFraction)}")]);

    /// <summary>Describes one blind zone in a sentence without its end.</summary>
    internal static string Zone(BlindZone zone) =>
        $"{Words.Of(zone.Band)} band, {Words.Of(zone.Side)}, {zone.LowZMetres:0.00} to {zone.HighZMetres:0.00} m high, "
        + $"a circle of {zone.InscribedDiameterMetres * 100:0} cm fits; cause: {Cause(zone.Cause)}";

    /// <summary>Returns a cause in words that fit into a longer sentence.</summary>
    internal static string Cause(LimitingCause cause) => Findings.InWords(cause).Replace(": ", ", ", StringComparison.Ordinal);

    /// <summary>Says how a sensor is aimed.</summary>
    internal static string Tilt(double degrees) =>
        degrees == 0 ? "level" : $"{Math.Abs(degrees):0.#}° {(degrees > 0 ? "up" : "down")}";

    /// <summary>Says to which side something is turned.</summary>
    internal static string Side(double degrees) =>
        degrees == 0 ? "straight ahead" : $"{Math.Abs(degrees):0.#}° {(degrees > 0 ? "left" : "right")}";

    /// <summary>Says under which conditions the figures of a study hold.</summary>
    internal static string Conditions(StudyReport report) =>
        $"{Capital(report.Scenario.MainWearer.Name)} walking at {report.Scenario.Walk.SpeedMetresPerSecond:0.0#} m/s; {report.Air.State}; "
        + $"{Ground(report.Posed)}; {report.Scenario.Walk.StridePhases} stride phases.";

    /// <summary>Names the ground.</summary>
    internal static string Ground(PosedLayout posed) => posed.Ground is { } ground ? $"ground {ground.Name}" : "no ground";

    /// <summary>Returns the main probe's description with its name.</summary>
    internal static string Named(Probe probe) =>
        string.IsNullOrEmpty(probe.Description) || probe.Description == probe.Name ? probe.Name : $"{probe.Name} ({probe.Description})";
}
