using SonarGeom.Echoes.Waveforms;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>A trace and what the device makes of it.</summary>
internal readonly record struct TraceAnswer(LevelTrace Trace, TraceReading? Reading);

/// <summary>What a device reports of a trace.</summary>
internal static class ReadingTables
{
    /// <summary>Gets the reading; its cells are empty when nothing is reported.</summary>
    internal static ResultTable<TraceAnswer> Reading { get; } = new(
        new("dead_zone_m", null, a => Cell.Of(a.Trace.DeadZoneMetres, 3)),
        new("window_range_m", null, a => Cell.Of(a.Trace.WindowRangeMetres, 3)),
        new("noise_db_re_20upa", null, a => Cell.Of(a.Trace.NoiseDecibels, 1)),
        new("reported_source", null, a => Cell.Of(a.Reading?.Label)),
        new("reported_source_kind", null, a => Cell.Of(a.Reading is { } r ? Words.Code(r.Kind) : null)),
        new("first_crossing_m", null, a => Cell.Of(a.Reading?.CrossingMetres, 3)),
        new("reported_m", null, a => Cell.Of(a.Reading?.ReportedMetres, 3)),
        new("true_range_m", null, a => Cell.Of(a.Reading?.TrueMetres, 3)),
        new("error_m", null, a => Cell.Of(a.Reading?.ErrorMetres, 3)),
        new("error_by_air_m", null, a => Cell.Of(a.Reading?.AirErrorMetres, 3)),
        new("error_by_rise_m", null, a => Cell.Of(a.Reading?.RiseErrorMetres, 3)));
}
