using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>The table of both engines.</summary>
internal static class EngineTables
{
    /// <summary>Gets the parts by both engines.</summary>
    internal static ResultTable<EngineCase> Cases { get; } = new(
        new("obstacle", "obstacle", c => Cell.Of(c.ObstacleId)),
        new("part", "part", c => Cell.Of(c.PartName)),
        new("sensor", "sensor", c => Cell.Of(c.Sensor)),
        new("distance_m", null, c => Cell.Of(c.DistanceMetres, 3)),
        new("range_m", "range [m]", c => Cell.Of(c.Difference?.RangeMetres ?? (c.Chosen.RangeMetres > 0 ? c.Chosen.RangeMetres : null), 2)),
        new("closed_form_db_re_20upa", "closed form [dB]", c => Cell.Of(c.ClosedForm is { } f ? Audible(f.BandLevelDecibels) : null, 2)),
        new("surface_integral_db_re_20upa", "integral or leaves [dB]", c => Cell.Of(c.Integral is { } i ? Audible(i.BandLevelDecibels) : null, 2)),
        new("difference_db", "difference [dB]", c => Cell.Of(c.DifferenceDecibels, 2)),
        new("is_compared_in_db", null, c => Cell.Of(c.Difference?.IsBandJudged ?? false)),
        new("share_of_allowance_percent", "of the allowance [%]", c => Cell.Of(c.Difference?.LargestShareOfAllowance * 100, 0)),
        new("agreement", "engines", c => Cell.Of(Words.Of(c.Agreement))),
        new("engine_used", "used", c => Cell.Of(Words.Of(c.Chosen.Engine))),
        new("engine_reason", null, c => Cell.Of(c.Chosen.Reason)),
        new("estimated_error_db", "sure to ± [dB]", c => Cell.Of(c.EstimatedErrorDecibels, 2)),
        new("integral_estimated_error_db", null, c => Cell.Of(c.Integral?.EstimatedErrorDecibels, 2)),
        new("limit", null, c => Cell.Of(c.Difference?.Limit)),
        new("withheld", null, c => c.Integral is { } i ? Cell.Of(i.Withheld) : Cell.Of((string?)null)));

    private static double? Audible(double decibels) => decibels > PartEcho.SilentDecibels + 50 ? decibels : null;
}
