using SonarGeom.Studies;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Results;

/// <summary>Trials for people.</summary>
internal static class TrialText
{
    /// <summary>Says the worst of a layout in one sentence.</summary>
    internal static string Finding(LayoutTrials trials)
    {
        ObstacleTrials[] touched = [.. trials.Obstacles.Where(o => o.Warned.Cases > 0)];
        if (touched.Length == 0)
        {
            return $"With {trials.Layout.Name} nothing would be touched in these walks, so no chance of a warning can be told.";
        }

        ObstacleTrials worst = touched.MinBy(o => o.Warned.Fraction)!;
        NuisanceTrials? loudest = trials.Nuisances.IsEmpty ? null : trials.Nuisances.MaxBy(n => n.All.PerMinute);
        string cause = worst.Misses.IsEmpty ? string.Empty : $", most often because of: {Words.Of(worst.Misses[0].Cause)}";
        int never = touched.Count(o => o.Warned.Hits == 0);
        return $"{trials.Layout.Name} warns in time of {Percent(trials.AllTouches.Fraction)} of what the wearer would run into ({Percent(trials.AllTouches.LowFraction)} to {Percent(trials.AllTouches.HighFraction)}); "
            + $"worst is {worst.Obstacle.Id} with {Percent(worst.Warned.Fraction)}{cause}"
            + (never > 1 ? $"; {never} of {touched.Length} obstacles are never warned of in time. " : ". ")
            + (loudest is { All.Count: > 0 } ? $"With nothing to hit it alerts most in the {loudest.Place}: {loudest.All.PerMinute:0.0} times a minute." : "With nothing to hit it does not alert.");
    }

    /// <summary>Says how the other layout does against the first.</summary>
    internal static string Finding(LayoutPair pair)
    {
        string[] better = [.. pair.Obstacles.Where(o => o.IsClear && o.Fraction > 0).Select(o => o.Name)];
        string[] worse = [.. pair.Obstacles.Where(o => o.IsClear && o.Fraction < 0).Select(o => o.Name)];
        string all = pair.All.IsClear
            ? $"warns {(pair.All.Fraction > 0 ? "more" : "less")} often by {Math.Abs(100 * pair.All.Fraction):0.0} in a hundred ({100 * pair.All.LowFraction:0.0} to {100 * pair.All.HighFraction:0.0})"
            : "does not differ clearly over all";
        return $"On the same walks {pair.Other.Name} {all} against {pair.First.Name}; clearly better for {Listed(better)}, clearly worse for {Listed(worse)}.";
    }

    /// <summary>Writes the report.</summary>
    internal static void Write(TextWriter output, TrialReport report, Scenario scenario)
    {
        output.WriteLine($"Trials: {report.Course.Wearer.Name} through {scenario.Obstacles.Name}, {report.Walks} walks on {report.Outings} outings at about {scenario.Walk.SpeedMetresPerSecond:0.00} m/s");
        foreach (LayoutTrials trials in report.Layouts)
        {
            output.WriteLine();
            output.WriteLine(Wrapping.Fold(Finding(trials), 100, 0));
            output.WriteLine();
            TrialTables.Obstacles.WriteText(output, [.. trials.Obstacles.Select(o => new TrialTables.ObstacleRow(trials.Layout.Name, o))]);
            output.WriteLine();
            output.WriteLine("False alerts, on the course and where there is nothing to hit");
            TrialTables.FalseAlerts.WriteText(output, [.. TrialTables.FalseRows(report.Course, trials)]);
            output.WriteLine();
            output.WriteLine("How the share of all touches that are warned of settles");
            TrialTables.Convergence.WriteText(output, [.. trials.Convergence.Select(p => new TrialTables.ConvergenceRow(trials.Layout.Name, p))]);
        }

        foreach (LayoutPair pair in report.Comparisons)
        {
            output.WriteLine();
            output.WriteLine(Wrapping.Fold(Finding(pair), 100, 0));
            output.WriteLine();
            TrialTables.Pairs.WriteText(output, [.. TrialTables.PairRows(pair)]);
        }
    }

    /// <summary>Writes what the report rests on.</summary>
    internal static void WriteGrounds(TextWriter output, TrialReport report)
    {
        output.WriteLine();
        output.WriteLine("Assumptions");
        WriteList(output, TrialStudy.Assumptions(report.Course));
        output.WriteLine();
        output.WriteLine("Cautions");
        WriteList(output, Findings.Cautions);
    }

    private static void WriteList(TextWriter output, IEnumerable<string> sentences)
    {
        foreach (string sentence in sentences)
        {
            output.WriteLine($"- {Wrapping.Fold(sentence, 100, 2)}");
        }
    }

    private static string Percent(double fraction) => Reports.FigureWords.Percent(fraction).Replace('\u00a0', ' ');

    private static string Listed(string[] names) => Reports.FigureWords.Listed(names);
}
