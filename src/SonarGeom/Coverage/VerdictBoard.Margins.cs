using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Layouts;

namespace SonarGeom.Coverage;

/// <content>Margins, computed when first asked for, and what follows from them at one distance.</content>
public sealed partial class VerdictBoard
{
    // Stands for no margin, but that of an echo that would be reported if the dead zone were shorter.
    private const float InDeadZone = float.MinValue;

    private const int MeshPhases = 4;

    /// <summary>Returns whether an obstacle is warned of in time, as its verdict says, without asking what does not decide that.</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    public bool IsWarnedInTime(int obstacle)
    {
        Entry entry = _entries[obstacle];
        if (entry.Withheld.Length > 0 || !entry.Contact.IsOnCourse || !IsHeld(obstacle, _need))
        {
            return false;
        }

        // One distance past the last useful one decides what rounding may do to the time that is left.
        bool heldToNeed = IsReliable(obstacle, _need);
        int chosen = heldToNeed && _walk.Hold == HoldRule.TimeNeeded
            ? _need < _last && IsReliable(obstacle, _need + 1) ? _need + 1 : _need
            : UnbrokenTop(obstacle, _need);
        return chosen >= _need
            && OutcomeOf(
                entry.Contact,
                entry.DistancesMetres[chosen] / entry.ClosingSpeed,
                SideOf(entry.Contact) == HazardSide.Centre ? AnnouncedSide.Ahead : _layout.Layout.Sensors[BestAt(obstacle, chosen).Sensor].Announces,
                breaksOff: false) == VerdictOutcome.WarnedInTime;
    }

    // The farthest distance from which on reports hold, −1 if none; inside the dead zone nothing is reported: such a distance holds, and
    // is no first report. Past a distance beyond the one that is enough it looks no further.
    private int UnbrokenTop(int obstacle, int enough)
    {
        int top = -1;
        for (int i = HoldIndex(_entries[obstacle], _need); i <= _last && top <= enough && IsHeld(obstacle, i); i++)
        {
            top = IsReliable(obstacle, i) ? i : top;
        }

        return top;
    }

    private bool IsReliable(int obstacle, int index) => Holds(obstacle, index, isDeafnessExcused: false);

    // Reported, or so near that the sensor that would report it is still deaf: the alert was given farther off.
    private bool IsHeld(int obstacle, int index) => Holds(obstacle, index, isDeafnessExcused: true);

    private bool Holds(int obstacle, int index, bool isDeafnessExcused)
    {
        int phases = _layout.PhaseCount, allowed = CellSearch.AllowedMisses(phases, _walk.ReliableShare), every = EveryPhase(_entries[obstacle]);

        // Phases in between hear no more than the one before them: what is missed there is missed up to the next one.
        int misses = 0;
        for (int phase = 0; every > 1 && phase < phases; phase += every)
        {
            misses += IsHeard(obstacle, index, phase, isDeafnessExcused) ? 0 : every;
            if (misses > allowed)
            {
                return false;
            }
        }

        misses = 0;
        for (int phase = 0; phase < phases && misses <= allowed; phase++)
        {
            misses += IsHeard(obstacle, index, phase, isDeafnessExcused) ? 0 : 1;
        }

        return misses <= allowed;
    }

    // By any sensor: those that have answered are asked first.
    private bool IsHeard(int obstacle, int index, int phase, bool isDeafnessExcused)
    {
        int cell = Start(obstacle, index) + phase;
        foreach (SensorMargins sensor in _margins)
        {
            if (!float.IsNaN(sensor.Values[cell]) && Counts(sensor.Weakened(sensor.Values[cell])))
            {
                return true;
            }
        }

        for (int s = 0; s < _margins.Length; s++)
        {
            if (float.IsNaN(_margins[s].Values[cell]) && !double.IsPositiveInfinity(_margins[s].LossDecibels) && Counts(MarginOf(s, obstacle, index, phase)))
            {
                return true;
            }
        }

        return false;

        bool Counts(float margin) => margin >= 0 || (isDeafnessExcused && margin == InDeadZone);
    }

    private float MarginOf(int sensor, int obstacle, int index, int phase) => _margins[sensor].Weakened(Asked(_margins[sensor], obstacle, index, phase));

    /// <summary>
    /// The margin of one sensor. What is integrated over is looked at in four stride phases, those in between get the lesser of their neighbours', and at
    /// every second distance, and between two distances the lesser holds. All are taken lower by the estimated error.
    /// </summary>
    private float Asked(SensorMargins sensor, int obstacle, int index, int phase)
    {
        // Whoever asks first computes; two that ask at once get the same.
        int cell = Start(obstacle, index) + phase;
        float margin = Volatile.Read(ref sensor.Values[cell]);
        if (!float.IsNaN(margin))
        {
            return margin;
        }

        Entry entry = _entries[obstacle];
        int every = EveryPhase(entry), before = phase / every * every;
        if (entry.Withheld.Length > 0)
        {
            margin = float.NegativeInfinity;
        }
        else if (entry.IsIntegral && index % 2 != 0 && index != _last)
        {
            margin = Lesser(Asked(sensor, obstacle, index + 1, phase), Asked(sensor, obstacle, index - 1, phase));
        }
        else if (phase != before)
        {
            margin = Lesser(Asked(sensor, obstacle, index, before), Asked(sensor, obstacle, index, (before + every) % _layout.PhaseCount));
        }
        else
        {
            double exact = sensor.Layout.MarginWithDeadZone(
                sensor.Sensor, phase, entry.Parts.AsSpan(), OffsetAt(entry, index), entry.Others, out bool isInDeadZone) - ErrorDecibels(entry);
            margin = exact < 0 && isInDeadZone ? InDeadZone : (float)exact;
        }

        Volatile.Write(ref sensor.Values[cell], margin);
        return margin;
    }

    private int EveryPhase(Entry entry) =>
        entry.IsIntegral && _layout.PhaseCount % MeshPhases == 0 ? _layout.PhaseCount / MeshPhases : 1;

    private static double ErrorDecibels(Entry entry) => entry.IsIntegral ? MeshEcho.EstimatedErrorDecibels : 0;

    // What the dead zone hides counts as heard where deafness is excused: less than a report, more than silence.
    private static float Lesser(float one, float other) =>
        one == InDeadZone ? (other >= 0 ? one : other)
        : other == InDeadZone ? (one >= 0 ? other : one)
        : Math.Min(one, other);

    private int Start(int obstacle, int index) => ((obstacle * (_last + 1)) + index) * _layout.PhaseCount;

    /// <summary>What one sensor has answered, by obstacle, distance and stride phase; not a number where nobody has asked yet.</summary>
    /// <param name="Layout">The layout that it belongs to.</param>
    /// <param name="Sensor">Its index there.</param>
    /// <param name="Values">The margins. [dB]</param>
    private sealed record SensorMargins(PosedLayout Layout, int Sensor, float[] Values)
    {
        /// <summary>Gets what it loses out and back together. [dB]</summary>
        internal double LossDecibels { get; init; }

        internal static SensorMargins Unasked(PosedLayout layout, int sensor, int cells)
        {
            var values = new float[cells];
            values.AsSpan().Fill(float.NaN);
            return new SensorMargins(layout, sensor, values);
        }

        internal float Weakened(float margin) => LossDecibels == 0 ? margin : (float)(margin - LossDecibels);
    }
}
