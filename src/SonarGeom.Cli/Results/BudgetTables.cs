using SonarGeom.Echoes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>One line of a level budget: the band mean of the burst and a steady tone at the nominal frequency.</summary>
internal readonly record struct BudgetLine(string Words, double BandDecibels, double ToneDecibels);

/// <summary>A level budget with what it is of.</summary>
/// <param name="Subject">The obstacle or probe.</param>
/// <param name="Transducer">The transducer or sensor.</param>
/// <param name="FrequencyKilohertz">The nominal frequency. [kHz]</param>
/// <param name="Budget">The budget.</param>
internal readonly record struct BudgetRow(string Subject, string Transducer, double FrequencyKilohertz, LevelBudget Budget);

/// <summary>Writes level budgets line by line.</summary>
internal static class BudgetTables
{
    // Levels this low stand for no echo at all.
    private const double SilentDecibels = -250;

    /// <summary>Gets the budget as one row.</summary>
    internal static ResultTable<BudgetRow> Rows { get; } = new(
        new("obstacle", "obstacle", r => Cell.Of(r.Subject)),
        new("transducer", null, r => Cell.Of(r.Transducer)),
        new("frequency_khz", null, r => Cell.Of(r.FrequencyKilohertz, 3)),
        new("is_detected", "detected", r => Cell.Of(r.Budget.IsDetected)),
        new("cause", null, r => Cell.Of(Words.Code(r.Budget.Cause))),
        new("cause_words", null, r => Cell.Of(CauseInWords(r.Budget.Cause))),
        new("answering_part", "answers", r => Cell.Of(r.Budget.PartName)),
        new("range_m", "range [m]", r => Cell.Of(r.Budget.RangeMetres, 3)),
        new("glint_x_m", null, r => Cell.Of(r.Budget.GlintMetres.X, 3)),
        new("glint_y_m", null, r => Cell.Of(r.Budget.GlintMetres.Y, 3)),
        new("glint_z_m", null, r => Cell.Of(r.Budget.GlintMetres.Z, 3)),
        new("source_level_db_re_20upa_at_1m", null, r => Cell.Of(r.Budget.SourceLevelDecibels, 2)),
        new("burst_build_up_db", null, r => Cell.Of(r.Budget.BuildUpDecibels, 2)),
        new("transmit_beam_db", null, r => Cell.Of(r.Budget.TransmitBeamDecibels, 2)),
        new("receive_beam_db", null, r => Cell.Of(r.Budget.ReceiveBeamDecibels, 2)),
        new("spreading_db", null, r => Cell.Of(r.Budget.SpreadingDecibels, 2)),
        new("absorption_db", null, r => Cell.Of(r.Budget.AbsorptionDecibels, 2)),
        new("target_strength_db_re_1m", null, r => Cell.Of(Level(r.Budget.TargetStrengthDecibels), 2)),
        new("material_db", null, r => Cell.Of(r.Budget.MaterialDecibels, 2)),
        new("roughness_db", null, r => Cell.Of(r.Budget.RoughnessDecibels, 2)),
        new("swing_db", null, r => Cell.Of(r.Budget.SwingDecibels, 2)),
        new("wearer_occlusion_db", null, r => Cell.Of(r.Budget.WearerOcclusionDecibels, 2)),
        new("obstacle_occlusion_db", null, r => Cell.Of(r.Budget.ObstacleOcclusionDecibels, 2)),
        new("echo_level_db_re_20upa", null, r => Cell.Of(Level(r.Budget.EchoLevelDecibels), 2)),
        new("threshold_db_re_20upa", null, r => Cell.Of(r.Budget.ThresholdDecibels, 2)),
        new("noise_db_re_20upa", null, r => Cell.Of(r.Budget.NoiseDecibels, 2)),
        new("margin_db", "margin [dB]", r => Cell.Of(Level(r.Budget.MarginDecibels), 2)),
        new("tone_echo_level_db_re_20upa", null, r => Cell.Of(Level(r.Budget.ToneEchoLevelDecibels), 2)),
        new("tone_margin_db", null, r => Cell.Of(Level(r.Budget.ToneMarginDecibels), 2)),
        new(null, "why not", r => Cell.Of(r.Budget.IsDetected ? null : CauseInWords(r.Budget.Cause))),
        new("dead_zone_m", null, r => Cell.Of(r.Budget.DeadZoneMetres, 3)),
        new("listening_to_m", null, r => Cell.Of(r.Budget.WindowRangeMetres, 3)));

    private static ResultTable<BudgetLine> Lines { get; } = new(
        new(null, "level budget", l => Cell.Of(l.Words)),
        new(null, "band mean [dB]", l => Cell.Of(Level(l.BandDecibels), 2)),
        new(null, "one tone [dB]", l => Cell.Of(Level(l.ToneDecibels), 2)));

    /// <summary>Returns the lines of a budget; those down to the wearer and the obstacles in the way add up to the echo level.</summary>
    internal static IReadOnlyList<BudgetLine> LinesOf(LevelBudget b)
    {
        double toneStrength = b.TargetStrengthDecibels + b.ToneEchoLevelDecibels - b.EchoLevelDecibels;
        return
        [
            Both("source level, 1 m, re 20 µPa", b.SourceLevelDecibels),
            Both("+ build-up of the burst", b.BuildUpDecibels),
            Both("+ beam out", b.TransmitBeamDecibels),
            Both("+ beam back", b.ReceiveBeamDecibels),
            Both("+ spreading out and back", b.SpreadingDecibels),
            Both("+ absorption out and back", b.AbsorptionDecibels),
            new("+ target strength at this range and attitude", b.TargetStrengthDecibels, toneStrength),
            Both("+ material", b.MaterialDecibels),
            Both("+ roughness", b.RoughnessDecibels),
            .. Swings(b) ? [Both("+ swing from ping to ping: nine in ten are above", b.SwingDecibels)] : Array.Empty<BudgetLine>(),
            Both("+ hidden by the wearer", b.WearerOcclusionDecibels),
            Both("+ hidden by other obstacles", b.ObstacleOcclusionDecibels),
            new("= echo level, re 20 µPa", b.EchoLevelDecibels, b.ToneEchoLevelDecibels),
            Both("threshold when it arrives, re 20 µPa", b.ThresholdDecibels),
            Both("noise, re 20 µPa", b.NoiseDecibels),
            new("detection margin", b.MarginDecibels, b.ToneMarginDecibels),
        ];

        static BudgetLine Both(string words, double decibels) => new(words, decibels, decibels);
    }

    /// <summary>Writes a budget for people.</summary>
    internal static void WriteText(TextWriter output, LevelBudget budget, string indent = "")
    {
        Lines.WriteText(output, LinesOf(budget), indent);
        output.WriteLine();
        output.WriteLine(indent + (budget.IsDetected
            ? $"Detected, by {budget.PartName}, at a range of {budget.RangeMetres:0.00} m."
            : $"Not detected: {CauseInWords(budget.Cause)}; {budget.PartName} answers best, at a range of {budget.RangeMetres:0.00} m."));
        if (Swings(budget))
        {
            output.WriteLine(
                $"{indent}Its echo swings from ping to ping: nine in ten pings are above {budget.EchoLevelDecibels:0.0} dB at some moment, the mean at its strongest moment is {budget.MeanEchoLevelDecibels:0.0} dB.");
        }
    }

    private static bool Swings(LevelBudget budget) => budget.SwingDecibels != 0;

    /// <summary>Returns the cause in words; detection is "detected".</summary>
    internal static string CauseInWords(LimitingCause cause) => cause == LimitingCause.None ? "detected" : Findings.InWords(cause);

    private static double? Level(double decibels) => decibels > SilentDecibels ? decibels : null;
}
