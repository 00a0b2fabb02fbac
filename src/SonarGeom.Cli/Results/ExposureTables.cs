using SonarGeom.Studies;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Results;

/// <summary>One listener against one limit.</summary>
internal readonly record struct LimitRow(ExposureReading Reading, ExposureLimit Limit);

/// <summary>One part against one limit.</summary>
internal readonly record struct ReachRow(ExposureReach Reach, LimitDistance Limit);

/// <summary>The tables of the sound levels.</summary>
internal static class ExposureTables
{
    /// <summary>Gets the levels.</summary>
    internal static ResultTable<ExposureReading> Levels { get; } = new(
        new("listener", "listener", r => Cell.Of(r.Listener)),
        new("place", "place", r => Cell.Of(r.Where)),
        new("loudest_sensor", "loudest", r => Cell.Of(r.LoudestSensor)),
        new("frequency_khz", null, r => Cell.Of(r.Frequency.Kilohertz, 3)),
        new("distance_m", "from it [m]", r => Cell.Of(r.DistanceMetres, 2)),
        new("burst_level_db_re_20upa", "burst [dB]", r => Cell.Of(r.BurstLevelDecibels, 1)),
        new("mean_level_db_re_20upa", "mean [dB]", r => Cell.Of(r.MeanLevelDecibels, 1)),
        new("uncertainty_db", "± [dB]", r => Cell.Of(r.UncertaintyDecibels, 1)),
        new("hearing_threshold_db_re_20upa", null, r => Cell.Of(r.HearingThresholdDecibels, 0)),
        new("above_hearing_db", "above hearing [dB]", r => Cell.Of(r.AboveHearingDecibels, 1)));

    /// <summary>Gets each listener against each limit.</summary>
    internal static ResultTable<LimitRow> Limits { get; } = new(
        new("listener", "listener", r => Cell.Of(r.Reading.Listener)),
        new("place", null, r => Cell.Of(r.Reading.Where)),
        new("distance_m", "from sensor [m]", r => Cell.Of(r.Reading.DistanceMetres, 2)),
        new("audience", "limit for", r => Cell.Of(r.Limit.Audience == ExposureAudience.GeneralPublic ? "the public" : "work")),
        new("limit_source", "by", r => Cell.Of(r.Limit.Source)),
        new("limit_confidence", "known", r => Cell.Of(r.Limit.Confidence)),
        new("limit_db_re_20upa", "limit [dB]", r => Cell.Of(r.Limit.LevelDecibels, 0)),
        new("burst_level_db_re_20upa", "burst [dB]", r => Cell.Of(r.Reading.BurstLevelDecibels, 1)),
        new("below_limit_db", "below it [dB]", r => Cell.Of(r.Reading.MarginDecibels(r.Limit), 1)),
        new("mean_below_limit_db", null, r => Cell.Of(r.Limit.LevelDecibels - r.Reading.MeanLevelDecibels, 1)),
        new("uncertainty_db", null, r => Cell.Of(r.Reading.UncertaintyDecibels, 1)),
        new("standing", "standing", r => Cell.Of(Words.Of(r.Reading.StandingOf(r.Limit)))));

    /// <summary>Gets how far each part reaches.</summary>
    internal static ResultTable<ReachRow> Reaches { get; } = new(
        new("transducer", "part", r => Cell.Of(r.Reach.Part)),
        new("frequency_khz", "frequency [kHz]", r => Cell.Of(r.Reach.Frequency.Kilohertz, 1)),
        new("burst_at_1m_db_re_20upa", "burst at 1 m [dB]", r => Cell.Of(r.Reach.LevelAtOneMetreDecibels, 1)),
        new("duty_db", "mean below burst [dB]", r => Cell.Of(-r.Reach.DutyDecibels, 1)),
        new("audience", "limit for", r => Cell.Of(r.Limit.Limit.Audience == ExposureAudience.GeneralPublic ? "the public" : "work")),
        new("limit_source", "by", r => Cell.Of(r.Limit.Limit.Source)),
        new("limit_db_re_20upa", "limit [dB]", r => Cell.Of(r.Limit.Limit.LevelDecibels, 0)),
        new("below_it_from_m", "below it from [m]", r => Cell.Of(r.Limit.DistanceMetres, 2)),
        new("dog_hears_to_m", "a dog hears it to [m]", r => Cell.Of(r.Reach.DogHearsToMetres, 0)));

    /// <summary>Returns the listeners against the limits.</summary>
    internal static IReadOnlyList<LimitRow> LimitRows(ExposureReport report) =>
        [.. report.Readings.SelectMany(r => r.Limits.Select(l => new LimitRow(r, l)))];

    /// <summary>Returns the parts against the limits.</summary>
    internal static IReadOnlyList<ReachRow> ReachRows(ExposureReport report) =>
        [.. report.Reaches.SelectMany(r => r.Limits.Select(l => new ReachRow(r, l)))];
}
