using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>A verdict with the change that would mend it.</summary>
internal readonly record struct VerdictRow(ObstacleVerdict Verdict, SmallestChange? Change);

/// <summary>A share of one band for one probe.</summary>
internal readonly record struct BandRow(string Probe, BandShare Share, double TimeNeededSeconds);

/// <summary>The tables of the main job.</summary>
internal static class StudyTables
{
    /// <summary>Gets the bands, head first.</summary>
    internal static IReadOnlyList<HeightBand> HeadToFoot { get; } =
        [HeightBand.Head, HeightBand.Chest, HeightBand.Waist, HeightBand.Knee, HeightBand.Foot];

    /// <summary>Gets the verdicts on the obstacles.</summary>
    internal static ResultTable<VerdictRow> Verdicts { get; } = new(
        new("obstacle", "obstacle", r => Cell.Of(r.Verdict.Obstacle.Id)),
        new("kind", null, r => Cell.Of(Words.Code(r.Verdict.Obstacle.Kind))),
        new("outcome", null, r => Cell.Of(Words.Code(r.Verdict.Outcome))),
        new(null, "verdict", r => Cell.Of(Words.Of(r.Verdict.Outcome))),
        new("is_on_course", null, r => Cell.Of(r.Verdict.IsOnCourse)),
        new("lowest_band", null, r => Cell.Of(Words.Of(r.Verdict.LowBand))),
        new("highest_band", null, r => Cell.Of(Words.Of(r.Verdict.HighBand))),
        new(null, "height", r => Cell.Of(Words.Span(r.Verdict.LowBand, r.Verdict.HighBand))),
        new("side", "side", r => Cell.Of(Words.Of(r.Verdict.Side))),
        new("first_reliable_m", null, r => Cell.Of(Found(r.Verdict) ? r.Verdict.FirstReliableMetres : null, 2)),
        new("is_first_at_search_end", null, r => Cell.Of(r.Verdict.IsAtSearchEnd)),
        new(null, "reported from [m]", r => Cell.Of(ReportedFrom(r.Verdict))),
        new(null, "lost below [m]", r => Cell.Of(r.Verdict.LostAgainBelowMetres > 0 ? r.Verdict.LostAgainBelowMetres : null, 2)),
        new("held_from_m", null, r => Cell.Of(r.Verdict.HeldFromMetres > 0 ? r.Verdict.HeldFromMetres : null, 2)),
        new("lost_again_below_m", null, r => Cell.Of(r.Verdict.LostAgainBelowMetres > 0 ? r.Verdict.LostAgainBelowMetres : null, 2)),
        new("warning_s", "warning [s]", r => Cell.Of(Found(r.Verdict) ? r.Verdict.WarningSeconds : null, 2)),
        new("time_needed_s", "needed [s]", r => Cell.Of(r.Verdict.TimeNeededSeconds, 2)),
        new("closing_speed_m_s", null, r => Cell.Of(r.Verdict.ClosingSpeedMetresPerSecond, 2)),
        new("margin_at_need_db", "margin [dB]", r => Cell.Of(double.IsFinite(r.Verdict.MarginAtNeedDecibels) ? r.Verdict.MarginAtNeedDecibels : null, 1)),
        new("sensor", "sensor", r => Cell.Of(r.Verdict.Sensor)),
        new("announced", null, r => Cell.Of(Words.Of(r.Verdict.Announced))),
        new("answering_part", null, r => Cell.Of(r.Verdict.Part)),
        new("engine", null, r => Cell.Of(Words.Code(r.Verdict.Engine))),
        new("estimated_error_db", null, r => Cell.Of(r.Verdict.EstimatedErrorDecibels, 2)),
        new("withheld_because", null, r => Cell.Of(r.Verdict.Withheld.Length > 0 ? r.Verdict.Withheld : null)),
        new("cause", null, r => Cell.Of(Words.Code(r.Verdict.Cause))),
        new("cause_words", null, r => Cell.Of(Findings.InWords(r.Verdict))),
        new("hidden_by", null, r => Cell.Of(r.Verdict.HiddenBy.Length > 0 ? r.Verdict.HiddenBy : null)),
        new(null, "why not", r => Cell.Of(r.Verdict.Cause == LimitingCause.None ? null : Findings.InWords(r.Verdict))),
        new("smallest_change", null, r => Cell.Of(r.Change?.Description)),
        new("change_gains", null, r => r.Change is { } c ? Cell.Of(c.Gained) : default),
        new("change_loses", null, r => r.Change is { } c ? Cell.Of(c.Lost) : default),
        new("change_head_share_before_percent", null, r => Cell.Of(r.Change?.HeadShareBeforeFraction * 100, 1)),
        new("change_head_share_after_percent", null, r => Cell.Of(r.Change?.HeadShareAfterFraction * 100, 1)),
        new("change_bands", null, r => r.Change is { } c ? Cell.Of([.. BandsInWords(c)]) : default),
        new("change_floor_note", null, r => Cell.Of(r.Change?.FloorNote)),
        new("note", null, r => Cell.Of(r.Verdict.Obstacle.Note)),
        new("source", null, r => Cell.Of(r.Verdict.Obstacle.Source)));

    /// <summary>Gets the blind zones.</summary>
    internal static ResultTable<BlindZone> BlindZones { get; } = new(
        new("zone", "zone", z => Cell.Of(z.Name)),
        new("probe", "probe", z => Cell.Of(z.ProbeName)),
        new("band", "band", z => Cell.Of(Words.Of(z.Band))),
        new("side", "side", z => Cell.Of(Words.Of(z.Side))),
        new("low_z_m", "from [m]", z => Cell.Of(z.LowZMetres, 2)),
        new("high_z_m", "to [m]", z => Cell.Of(z.HighZMetres, 2)),
        new("right_y_m", null, z => Cell.Of(z.RightYMetres, 2)),
        new("left_y_m", null, z => Cell.Of(z.LeftYMetres, 2)),
        new("area_m2", "area [m²]", z => Cell.Of(z.AreaSquareMetres, 4)),
        new("inscribed_diameter_m", "circle [m]", z => Cell.Of(z.InscribedDiameterMetres, 2)),
        new("inscribed_y_m", null, z => Cell.Of(z.InscribedYMetres, 2)),
        new("inscribed_z_m", null, z => Cell.Of(z.InscribedZMetres, 2)),
        new("cause", null, z => Cell.Of(Words.Code(z.Cause))),
        new("cause_words", "why", z => Cell.Of(Findings.InWords(z.Cause))),
        new("cause_share_percent", null, z => Cell.Of(z.CauseFraction * 100, 1)),
        new("never_heard_share_percent", "never heard [%]", z => Cell.Of(z.NeverHeardFraction * 100, 1)),
        new("longest_warning_s", null, z => Cell.Of(z.LongestWarningSeconds, 2)),
        new("danger_m2", null, z => Cell.Of(z.DangerSquareMetres, 4)));

    /// <summary>Gets the shares of the bands.</summary>
    internal static ResultTable<BandRow> Bands { get; } = new(
        new("probe", "probe", r => Cell.Of(r.Probe)),
        new("band", "band", r => Cell.Of(Words.Of(r.Share.Band))),
        new("cells", null, r => Cell.Of(r.Share.Cells)),
        new("warned_in_time_percent", "warned in time [%]", r => Cell.Of(r.Share.WarnedFraction * 100, 1)),
        new("warned_without_break_percent", null, r => Cell.Of(r.Share.UnbrokenFraction * 100, 1)),
        new("warned_even_if_lost_later_percent", "even if lost later [%]", r => Cell.Of(r.Share.HeldFraction * 100, 1)),
        new("least_warning_s", "worst cell [s]", r => Cell.Of(r.Share.LeastWarningSeconds, 2)),
        new("time_needed_s", "needed [s]", r => Cell.Of(r.TimeNeededSeconds, 2)));

    /// <summary>Gets the stated requirements.</summary>
    internal static ResultTable<RequirementResult> Requirements { get; } = new(
        new("requirement", "requirement", r => Cell.Of(r.Requirement.Text)),
        new("band", null, r => Cell.Of(Words.Of(r.Requirement.Band))),
        new("probe", null, r => Cell.Of(r.Requirement.ProbeName)),
        new("warning_s", null, r => Cell.Of(r.Requirement.WarningSeconds, 2)),
        new("required_share_percent", null, r => Cell.Of(r.Requirement.ShareFraction * 100, 1)),
        new("reached_share_percent", null, r => Cell.Of(r.ReachedFraction * 100, 1)),
        new("is_met", null, r => Cell.Of(r.IsMet)),
        new("sentence", "answer", r => Cell.Of(r.Sentence)));

    /// <summary>Says what a change does to the bands of all probes.</summary>
    internal static IEnumerable<string> BandsInWords(SmallestChange change) => change.Bands.Select(b =>
        FormattableString.Invariant($"{Words.Of(b.Band)} {100 * b.BeforeFraction:0} → {100 * b.AfterFraction:0} % ({b.ProbeName})"));

    /// <summary>Returns the verdicts with their changes, in the order of the set.</summary>
    internal static IReadOnlyList<VerdictRow> VerdictRows(StudyReport report) =>
        [.. report.Verdicts.Select(v => new VerdictRow(v, report.Changes.GetValueOrDefault(v.Obstacle.Id)))];

    /// <summary>Returns the shares of all maps, head first.</summary>
    internal static IReadOnlyList<BandRow> BandRows(IEnumerable<ApproachMap> maps) =>
        [.. maps.SelectMany(m => m.Shares().Select(s => new BandRow(m.Probe.Name, s, m.TimeNeededSeconds)))];

    /// <summary>Says from which distance inwards an obstacle is reported, lost again or not; null when it is not.</summary>
    internal static string? ReportedFrom(ObstacleVerdict verdict)
    {
        double metres = verdict.LostAgainBelowMetres > 0 ? verdict.HeldFromMetres : verdict.FirstReliableMetres;
        return metres <= 0 ? null : FormattableString.Invariant($"{(verdict.IsAtSearchEnd ? "≥ " : string.Empty)}{metres:0.00}");
    }

    private static bool Found(ObstacleVerdict verdict) => verdict.FirstReliableMetres > 0;
}
