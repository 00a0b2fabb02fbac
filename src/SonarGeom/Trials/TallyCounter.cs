using System.Collections.Immutable;

namespace SonarGeom.Trials;

/// <summary>Counts the walks of one layout on one outing.</summary>
internal sealed class TallyCounter
{
    internal const double BinSeconds = 0.02;

    private static readonly int FalseKinds = Enum.GetValues<FalseAlertCause>().Length;
    private static readonly int MissKinds = Enum.GetValues<MissCause>().Length;

    private readonly OneObstacle[] _obstacles;
    private readonly int[] _falseAlerts = new int[FalseKinds];
    private readonly double[] _nuisanceSeconds;
    private readonly int[][] _nuisanceAlerts;
    private double _seconds;
    private double _awaySeconds;

    internal TallyCounter(int obstacles, int nuisances)
    {
        _obstacles = [.. Enumerable.Range(0, obstacles).Select(_ => new OneObstacle())];
        _nuisanceSeconds = new double[nuisances];
        _nuisanceAlerts = [.. Enumerable.Range(0, nuisances).Select(_ => new int[FalseKinds])];
    }

    /// <summary>Counts a walk through the main place.</summary>
    internal void Count(TrialWalk walk, WalkRun run, ReadOnlySpan<WalkOutcome> outcomes)
    {
        _seconds += walk.Seconds;
        _awaySeconds += run.AwayFraction * walk.Seconds;
        CountFalse(walk, run, _falseAlerts);
        for (int h = 0; h < outcomes.Length; h++)
        {
            if (outcomes[h].IsTouched)
            {
                _obstacles[h].Count(outcomes[h]);
            }
        }
    }

    /// <summary>Counts a walk through a nuisance place.</summary>
    internal void CountNuisance(int place, TrialWalk walk, WalkRun run)
    {
        _nuisanceSeconds[place] += walk.Seconds;
        CountFalse(walk, run, _nuisanceAlerts[place]);
    }

    internal LayoutTally Done() => new(
        _seconds, _awaySeconds,
        [.. _obstacles.Select(o => o.Done())],
        [.. _falseAlerts],
        [.. _nuisanceSeconds.Select((s, i) => new NuisanceTally(s, [.. _nuisanceAlerts[i]]))]);

    // An alert of what the walk then runs into is a true one, however early.
    private static void CountFalse(TrialWalk walk, WalkRun run, int[] counts)
    {
        foreach (Alert alert in run.Alerts)
        {
            FalseAlertCause? cause = alert.Source switch
            {
                AlertSource.Obstacle => walk.Touches[alert.Hazard].IsTouched ? null : FalseAlertCause.PassedBeside,
                AlertSource.Floor => FalseAlertCause.Floor,
                AlertSource.OwnLimb => FalseAlertCause.OwnLimb,
                AlertSource.Ghost => FalseAlertCause.Ghost,
                AlertSource.Crosstalk => FalseAlertCause.Crosstalk,
                AlertSource.OtherDevice => FalseAlertCause.OtherDevice,
                _ => FalseAlertCause.Noise,
            };
            if (cause is { } known)
            {
                counts[(int)known]++;
            }
        }
    }

    private sealed class OneObstacle
    {
        private readonly int[] _misses = new int[MissKinds];
        private readonly SortedDictionary<int, int> _bins = [];
        private int _touched;
        private int _warned;
        private int _alerted;
        private int _sided;
        private int _wrong;

        internal void Count(in WalkOutcome outcome)
        {
            _touched++;
            _warned += outcome.IsWarned ? 1 : 0;
            _sided += outcome.IsSided ? 1 : 0;
            _wrong += outcome.IsWrongSide ? 1 : 0;
            if (outcome.IsAlerted)
            {
                _alerted++;
                int bin = (int)(outcome.WarningSeconds / BinSeconds);
                _bins[bin] = _bins.GetValueOrDefault(bin) + 1;
            }

            if (!outcome.IsWarned)
            {
                _misses[(int)(outcome.Cause ?? MissCause.TooWeak)]++;
            }
        }

        internal ObstacleTally Done() => new(
            _touched, _warned, _alerted, _sided, _wrong, [.. _misses], [.. _bins.SelectMany(b => new[] { b.Key, b.Value })]);
    }
}
