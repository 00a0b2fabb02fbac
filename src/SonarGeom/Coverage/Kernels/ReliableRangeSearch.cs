namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Finds how far away a hazard is reliably reported: the farthest distance of a row of distances such that there, and at every
/// nearer one down to a hold distance, it is reported in a required number of stride phases.
/// </summary>
/// <remarks>
/// <para>Nothing is assumed of the answers: a hazard may be heard, lost and heard again as it comes nearer. Every distance from
/// the hold outward must therefore be settled, and the search goes outward and ends at the first one that is not reliable. It
/// asks only until a distance is settled either way: the required number of reports, or one more failure than may be. It asks
/// first those phases that answered in the expected sense at the last distance; what it asks never changes what it finds.</para>
/// <para>An instance holds scratch memory and the order of the last search: one for each thread, reused from cell to cell.
/// Neighbouring cells fail in the same phases, so that the order pays from one cell to the next.</para>
/// </remarks>
public sealed class ReliableRangeSearch
{
    private const int NotReliable = -1;

    private readonly int[] _order;
    private readonly int[] _knownUntil;
    private readonly bool[] _known;
    private bool _lastHoldWasReliable;
    private bool _lastWasReliable;

    /// <summary>Makes a search over a number of stride phases.</summary>
    /// <param name="phases">Number of stride phases, at least 1.</param>
    /// <param name="reliableShare">Share of the phases that must report, above 0 and at most 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public ReliableRangeSearch(int phases, double reliableShare)
    {
        Phases = phases;
        RequiredPhases = RequiredOf(phases, reliableShare);
        _order = [.. Enumerable.Range(0, phases)];
        _knownUntil = new int[phases];
        _known = new bool[phases];
    }

    /// <summary>Gets the number of stride phases.</summary>
    public int Phases { get; }

    /// <summary>Gets the number of phases that must report at a distance for it to be reliable.</summary>
    public int RequiredPhases { get; }

    /// <summary>Gets how many times a test was asked, over all searches of this instance.</summary>
    public long Evaluations { get; private set; }

    /// <summary>Returns the least number of phases that is at least a share of them; a share of 0.9 of 16 is 15.</summary>
    /// <param name="phases">Number of stride phases, at least 1.</param>
    /// <param name="reliableShare">The share, above 0 and at most 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static int RequiredOf(int phases, double reliableShare)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(phases, 1);
        if (!(reliableShare > 0 && reliableShare <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(reliableShare), $"reliableShare is {reliableShare}; it must be above 0 and at most 1.");
        }

        // 0.7 times 10 is 7.000000000000001 in binary: a share that names a whole number of phases means that number.
        return Math.Max(1, (int)Math.Ceiling((reliableShare * phases) - 1e-9));
    }

    /// <summary>Returns the length of the run of equal answers that a margin and the steepest slope of the margin prove, for
    /// <see cref="IReportRunTest"/>: positive when the margin is at least 0, else negative.</summary>
    /// <param name="marginDecibels">Detection margin at this distance; reported means at least 0. [dB]</param>
    /// <param name="steepestDecibelsPerStep">Largest change of the margin from one distance to the next, from here outward; not negative. [dB]</param>
    /// <param name="longest">Longest run to return, at least 1.</param>
    public static int RunOf(double marginDecibels, double steepestDecibelsPerStep, int longest)
    {
        bool reported = marginDecibels >= 0;
        double steps = Math.Abs(marginDecibels) / steepestDecibelsPerStep;

        // One step is held back for rounding, and because a margin that has fallen to exactly 0 is still reported.
        int run = steps < longest ? Math.Max(1, (int)steps) : longest;
        return reported ? run : -run;
    }

    /// <summary>Searches every distance and every phase: the meaning of the search, and the reference of its tests.</summary>
    /// <param name="test">The test.</param>
    /// <param name="holdIndex">The nearest distance that must be reliable, from 0.</param>
    /// <param name="distances">Number of distances.</param>
    /// <returns>The number of the farthest reliable distance, or −1 when the hold distance is not reliable.</returns>
    public int FindExhaustively<TTest>(ref TTest test, int holdIndex, int distances)
        where TTest : struct, IReportTest
    {
        int farthest = NotReliable;
        bool unbroken = true;
        for (int d = holdIndex; d < distances; d++)
        {
            int reports = 0;
            for (int p = 0; p < Phases; p++)
            {
                reports += test.IsReported(p, d) ? 1 : 0;
                Evaluations++;
            }

            unbroken &= reports >= RequiredPhases;
            farthest = unbroken ? d : farthest;
        }

        return farthest;
    }

    /// <summary>Finds the farthest distance that is reliable together with every nearer one.</summary>
    /// <param name="test">The test.</param>
    /// <param name="holdIndex">The nearest distance that must be reliable, from 0.</param>
    /// <param name="distances">Number of distances.</param>
    /// <returns>The number of the farthest reliable distance, or −1 when the hold distance is not reliable.</returns>
    public int Find<TTest>(ref TTest test, int holdIndex, int distances)
        where TTest : struct, IReportTest
    {
        ArgumentOutOfRangeException.ThrowIfNegative(holdIndex);
        int d = holdIndex;
        bool expected = _lastHoldWasReliable;
        while (d < distances)
        {
            bool reliable = expected ? SettleReportsFirst(ref test, d) : SettleFailuresFirst(ref test, d);
            if (d == holdIndex)
            {
                _lastHoldWasReliable = reliable;
            }

            if (!reliable)
            {
                break;
            }

            expected = true;
            d++;
        }

        return d > holdIndex ? d - 1 : NotReliable;
    }

    /// <summary>Finds the same as <see cref="Find"/> from answers that hold for runs of distances.</summary>
    /// <param name="test">The test.</param>
    /// <param name="holdIndex">The nearest distance that must be reliable, from 0.</param>
    /// <param name="distances">Number of distances.</param>
    /// <returns>The number of the farthest reliable distance, or −1 when the hold distance is not reliable.</returns>
    public int FindByRuns<TTest>(ref TTest test, int holdIndex, int distances)
        where TTest : struct, IReportRunTest
    {
        ArgumentOutOfRangeException.ThrowIfNegative(holdIndex);
        Array.Clear(_knownUntil);
        int d = holdIndex;
        while (d < distances)
        {
            int settledUntil = SettleByRuns(ref test, d);
            if (d == holdIndex)
            {
                _lastHoldWasReliable = settledUntil > d;
            }

            if (settledUntil <= d)
            {
                break;
            }

            d = Math.Min(settledUntil, distances);
        }

        return d > holdIndex ? d - 1 : NotReliable;
    }

    /// <summary>Returns whether one distance is reliable, for searches that choose the distances themselves.</summary>
    /// <param name="test">The test.</param>
    /// <param name="distanceIndex">The number of the distance; it is only handed to the test.</param>
    /// <remarks>Asks first the phases that answered in the sense of the last distance settled, reports or failures as that one
    /// was reliable or not. What it asks never changes the answer.</remarks>
    public bool IsReliable<TTest>(ref TTest test, int distanceIndex)
        where TTest : struct, IReportTest
    {
        _lastWasReliable = _lastWasReliable ? SettleReportsFirst(ref test, distanceIndex) : SettleFailuresFirst(ref test, distanceIndex);
        return _lastWasReliable;
    }

    /// <summary>Settles a distance that is expected to be reliable: phases that failed go to the back of the order.</summary>
    private bool SettleReportsFirst<TTest>(ref TTest test, int distance)
        where TTest : struct, IReportTest
    {
        int[] order = _order;
        int next = 0;
        int end = order.Length;
        int mayFail = order.Length - RequiredPhases;
        while (next < RequiredPhases)
        {
            int phase = order[next];
            Evaluations++;
            if (test.IsReported(phase, distance))
            {
                next++;
                continue;
            }

            end--;
            (order[next], order[end]) = (order[end], phase);
            if (order.Length - end > mayFail)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Settles a distance that is expected to fail: phases that reported go to the front of the order.</summary>
    private bool SettleFailuresFirst<TTest>(ref TTest test, int distance)
        where TTest : struct, IReportTest
    {
        int[] order = _order;
        int next = order.Length - 1;
        int begin = 0;
        int failuresThatSettle = order.Length - RequiredPhases + 1;
        while (order.Length - 1 - next < failuresThatSettle)
        {
            int phase = order[next];
            Evaluations++;
            if (!test.IsReported(phase, distance))
            {
                next--;
                continue;
            }

            (order[next], order[begin]) = (order[begin], phase);
            begin++;
            if (begin >= RequiredPhases)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Returns the first distance that is not yet known to be reliable, given that all before this one are; this one
    /// itself when it is not reliable.</summary>
    private int SettleByRuns<TTest>(ref TTest test, int distance)
        where TTest : struct, IReportRunTest
    {
        int reports = 0;
        int failures = 0;
        for (int p = 0; p < _known.Length; p++)
        {
            bool isKnown = _knownUntil[p] > distance;
            reports += isKnown && _known[p] ? 1 : 0;
            failures += isKnown && !_known[p] ? 1 : 0;
        }

        int mayFail = _known.Length - RequiredPhases;
        for (int i = 0; i < _order.Length && reports < RequiredPhases && failures <= mayFail; i++)
        {
            int phase = _order[_lastHoldWasReliable ? i : _order.Length - 1 - i];
            if (_knownUntil[phase] > distance)
            {
                continue;
            }

            int run = test.ReportedRun(phase, distance);
            Evaluations++;
            _known[phase] = run > 0;
            _knownUntil[phase] = (int)Math.Min((long)distance + Math.Abs((long)run), int.MaxValue);
            reports += run > 0 ? 1 : 0;
            failures += run > 0 ? 0 : 1;
        }

        if (reports < RequiredPhases)
        {
            MoveFailuresToTheBack(distance);
            return distance;
        }

        // Reliable as long as enough of the runs that prove it last.
        int until = int.MaxValue;
        for (int p = 0; p < _known.Length; p++)
        {
            if (_known[p] && _knownUntil[p] > distance)
            {
                until = Math.Min(until, _knownUntil[p]);
            }
        }

        return until;
    }

    private void MoveFailuresToTheBack(int distance)
    {
        int end = _order.Length;
        for (int i = 0; i < end;)
        {
            int phase = _order[i];
            if (!_known[phase] && _knownUntil[phase] > distance)
            {
                end--;
                (_order[i], _order[end]) = (_order[end], phase);
            }
            else
            {
                i++;
            }
        }
    }
}
