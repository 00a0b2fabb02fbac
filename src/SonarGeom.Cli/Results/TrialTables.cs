using System.Collections.Immutable;
using System.Text.Json;
using SonarGeom.Files.Output;
using SonarGeom.Studies;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Results;

/// <summary>The tables of trials.</summary>
internal static class TrialTables
{
    /// <summary>One obstacle with one layout.</summary>
    internal readonly record struct ObstacleRow(string Layout, ObstacleTrials Trials);

    /// <summary>One cause of misses.</summary>
    internal readonly record struct MissRow(string Layout, string Obstacle, MissCount Miss, int Cases);

    /// <summary>One cause of false alerts, at one place.</summary>
    internal readonly record struct FalseRow(string Layout, string Place, string Cause, RateEstimate Rate);

    /// <summary>The share after some walks.</summary>
    internal readonly record struct ConvergenceRow(string Layout, ConvergencePoint Point);

    /// <summary>One difference between two layouts.</summary>
    internal readonly record struct PairRow(string First, string Other, PairedDifference Difference);

    /// <summary>Gets the obstacles.</summary>
    internal static ResultTable<ObstacleRow> Obstacles { get; } = new(
        new("layout", null, r => Cell.Of(r.Layout)),
        new("obstacle", "obstacle", r => Cell.Of(r.Trials.Obstacle.Id)),
        new("touched_count", "runs into", r => Cell.Of(r.Trials.Warned.Cases)),
        new("warned_percent", "warned [%]", r => Cell.Of(100 * r.Trials.Warned.Fraction, 1)),
        new("warned_low_percent", "from", r => Cell.Of(100 * r.Trials.Warned.LowFraction, 1)),
        new("warned_high_percent", "to", r => Cell.Of(100 * r.Trials.Warned.HighFraction, 1)),
        new("alerted_percent", null, r => Cell.Of(100 * r.Trials.Alerted.Fraction, 1)),
        new("warning_median_s", "median [s]", r => Cell.Of(r.Trials.MedianWarning.Seconds, 2)),
        new("warning_median_low_s", null, r => Cell.Of(r.Trials.MedianWarning.LowSeconds, 2)),
        new("warning_median_high_s", null, r => Cell.Of(r.Trials.MedianWarning.HighSeconds, 2)),
        new("warning_least_5_percent_s", "5 % [s]", r => Cell.Of(r.Trials.LeastWarning.Seconds, 2)),
        new("warning_least_5_percent_low_s", null, r => Cell.Of(r.Trials.LeastWarning.LowSeconds, 2)),
        new("warning_least_5_percent_high_s", null, r => Cell.Of(r.Trials.LeastWarning.HighSeconds, 2)),
        new("warning_95_percent_s", "95 % [s]", r => Cell.Of(r.Trials.MostWarning.Seconds, 2)),
        new("warning_95_percent_low_s", null, r => Cell.Of(r.Trials.MostWarning.LowSeconds, 2)),
        new("warning_95_percent_high_s", null, r => Cell.Of(r.Trials.MostWarning.HighSeconds, 2)),
        new("sided_count", null, r => Cell.Of(r.Trials.WrongSide.Cases)),
        new("wrong_side_percent", "wrong side [%]", r => Cell.Of(100 * r.Trials.WrongSide.Fraction, 1)),
        new("wrong_side_high_percent", null, r => Cell.Of(100 * r.Trials.WrongSide.HighFraction, 1)),
        new(null, "why missed", r => Cell.Of(string.Join(", ", r.Trials.Misses.Take(2).Select(m => $"{Words.Of(m.Cause)} {Share(m.Walks, r.Trials.Warned.Cases)}")))));

    /// <summary>Gets the misses.</summary>
    internal static ResultTable<MissRow> Misses { get; } = new(
        new("layout", null, r => Cell.Of(r.Layout)),
        new("obstacle", "obstacle", r => Cell.Of(r.Obstacle)),
        new("cause", "cause", r => Cell.Of(Words.Code(r.Miss.Cause))),
        new("walks_count", "walks", r => Cell.Of(r.Miss.Walks)),
        new("share_percent", "share [%]", r => Cell.Of(100.0 * r.Miss.Walks / r.Cases, 1)));

    /// <summary>Gets the false alerts of the course and of the places with nothing to hit.</summary>
    internal static ResultTable<FalseRow> FalseAlerts { get; } = new(
        new("layout", null, r => Cell.Of(r.Layout)),
        new("place", "place", r => Cell.Of(r.Place)),
        new("cause", "cause", r => Cell.Of(r.Cause)),
        new("alerts_count", "alerts", r => Cell.Of(r.Rate.Count)),
        new("walked_s", null, r => Cell.Of(r.Rate.Seconds, 1)),
        new("rate_per_min", "a minute", r => Cell.Of(r.Rate.PerMinute, 2)),
        new("rate_low_per_min", "from", r => Cell.Of(r.Rate.LowPerMinute, 2)),
        new("rate_high_per_min", "to", r => Cell.Of(r.Rate.HighPerMinute, 2)));

    /// <summary>Gets the convergence.</summary>
    internal static ResultTable<ConvergenceRow> Convergence { get; } = new(
        new("layout", null, r => Cell.Of(r.Layout)),
        new("walks_count", "after walks", r => Cell.Of(r.Point.Walks)),
        new("warned_percent", "warned [%]", r => Cell.Of(100 * r.Point.Share.Fraction, 2)),
        new("warned_low_percent", "from", r => Cell.Of(100 * r.Point.Share.LowFraction, 2)),
        new("warned_high_percent", "to", r => Cell.Of(100 * r.Point.Share.HighFraction, 2)));

    /// <summary>Gets the differences between layouts.</summary>
    internal static ResultTable<PairRow> Pairs { get; } = new(
        new("first_layout", null, r => Cell.Of(r.First)),
        new("other_layout", null, r => Cell.Of(r.Other)),
        new("obstacle", "obstacle", r => Cell.Of(r.Difference.Name)),
        new("cases_count", "walks", r => Cell.Of(r.Difference.Cases)),
        new("only_first_count", "only the first warns", r => Cell.Of(r.Difference.OnlyFirst)),
        new("only_other_count", "only the other warns", r => Cell.Of(r.Difference.OnlyOther)),
        new("difference_percent", "difference [%]", r => Cell.Of(100 * r.Difference.Fraction, 1)),
        new("difference_low_percent", "from", r => Cell.Of(100 * r.Difference.LowFraction, 1)),
        new("difference_high_percent", "to", r => Cell.Of(100 * r.Difference.HighFraction, 1)),
        new("is_clear", "clear", r => Cell.Of(r.Difference.IsClear)));

    internal static IEnumerable<ObstacleRow> ObstacleRows(TrialReport report) =>
        report.Layouts.SelectMany(l => l.Obstacles.Select(o => new ObstacleRow(l.Layout.Name, o)));

    internal static IEnumerable<FalseRow> FalseRows(TrialCourse course, LayoutTrials trials) =>
    [
        .. FalseRowsOf(trials, course.Obstacles.Name, trials.AllFalseAlerts, trials.FalseAlerts),
        .. trials.Nuisances.SelectMany(n => FalseRowsOf(trials, n.Place, n.All, n.Causes)),
    ];

    internal static IEnumerable<PairRow> PairRows(LayoutPair pair) =>
        pair.Obstacles.Append(pair.All).Select(d => new PairRow(pair.First.Name, pair.Other.Name, d));

    /// <summary>Writes the report as JSON members.</summary>
    internal static void Write(Utf8JsonWriter json, TrialReport report, Scenario scenario)
    {
        json.WriteString("scenario", scenario.Name);
        json.WriteString("wearer", report.Course.Wearer.Name);
        json.WriteNumber("walks_count", report.Walks);
        json.WriteNumber("outings_count", report.Outings);
        json.WriteString("seed", report.Course.Settings.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture));
        json.WriteStartArray("layouts");
        foreach (LayoutTrials trials in report.Layouts)
        {
            json.WriteStartObject();
            json.WriteString("layout", trials.Layout.Name);
            json.WriteString("finding", TrialText.Finding(trials));
            json.WriteNumber("warned_percent", Percent(trials.AllTouches.Fraction));
            json.WriteNumber("warned_low_percent", Percent(trials.AllTouches.LowFraction));
            json.WriteNumber("warned_high_percent", Percent(trials.AllTouches.HighFraction));
            json.WriteNumber("not_looking_percent", Percent(trials.AwayFraction));
            Obstacles.WriteArray(json, "obstacles", trials.Obstacles.Select(o => new ObstacleRow(trials.Layout.Name, o)));
            Misses.WriteArray(json, "misses", MissRows(trials));
            FalseAlerts.WriteArray(json, "false_alerts", FalseRows(report.Course, trials));
            Convergence.WriteArray(json, "convergence", trials.Convergence.Select(p => new ConvergenceRow(trials.Layout.Name, p)));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        Pairs.WriteArray(json, "comparisons", report.Comparisons.SelectMany(PairRows));
        json.WriteSentences("assumptions", TrialStudy.Assumptions(report.Course));
        json.WriteSentences("cautions", Findings.Cautions);
    }

    /// <summary>Writes the tables as files.</summary>
    internal static void Write(OutputFolder folder, TrialReport report, Scenario scenario, string inputsHash)
    {
        Csv("obstacles.csv", s => Obstacles.WriteCsv(s, ObstacleRows(report)));
        Csv("misses.csv", s => Misses.WriteCsv(s, report.Layouts.SelectMany(MissRows)));
        Csv("false-alerts.csv", s => FalseAlerts.WriteCsv(s, report.Layouts.SelectMany(l => FalseRows(report.Course, l))));
        Csv("convergence.csv", s => Convergence.WriteCsv(s, report.Layouts.SelectMany(l => l.Convergence.Select(p => new ConvergenceRow(l.Layout.Name, p)))));
        if (!report.Comparisons.IsEmpty)
        {
            Csv("comparison.csv", s => Pairs.WriteCsv(s, report.Comparisons.SelectMany(PairRows)));
        }

        Csv("trials.json", s => JsonResult.Write(s, "trials", inputsHash, json => Write(json, report, scenario)));

        void Csv(string name, Action<Stream> write)
        {
            using Stream stream = folder.Create(name);
            write(stream);
        }
    }

    private static IEnumerable<MissRow> MissRows(LayoutTrials trials) =>
        trials.Obstacles.SelectMany(o => o.Misses.Select(m => new MissRow(trials.Layout.Name, o.Obstacle.Id, m, o.Warned.Cases)));

    private static IEnumerable<FalseRow> FalseRowsOf(LayoutTrials trials, string place, RateEstimate all, ImmutableArray<FalseAlertRate> causes) =>
        causes.Where(c => c.Rate.Count > 0).Select(c => new FalseRow(trials.Layout.Name, place, Words.Code(c.Cause), c.Rate))
            .Append(new FalseRow(trials.Layout.Name, place, "all", all));

    private static string Share(int part, int whole) => Reports.FigureWords.Percent((double)part / whole).Replace('\u00a0', ' ');

    private static double Percent(double fraction) => double.IsNaN(fraction) ? 0 : Math.Round(100 * fraction, 2);
}
