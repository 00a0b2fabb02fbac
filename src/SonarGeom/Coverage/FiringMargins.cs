using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Transducers;

namespace SonarGeom.Coverage;

/// <summary>The nearest thing to a false report that an earlier burst, or a neighbour's, can cause.</summary>
/// <param name="Listener">Index of the sensor that would report it.</param>
/// <param name="Sender">Index of the sensor whose burst it is.</param>
/// <param name="ElapsedSeconds">How long before the listener's own burst it was sent. [s]</param>
/// <param name="TrueRangeMetres">Where the wall is that returns it; for the direct way half of its length. [m]</param>
/// <param name="ApparentRangeMetres">Where the device would report it. [m]</param>
/// <param name="MarginDecibels">Detection threshold less its level: below 0 it is reported. [dB]</param>
public sealed record FiringMargin(
    int Listener, int Sender, double ElapsedSeconds, double TrueRangeMetres, double ApparentRangeMetres, double MarginDecibels);

/// <summary>Ghosts of earlier bursts and crosstalk of neighbours under a firing schedule, and the shortest schedule without them.</summary>
/// <remarks>Judged against the loudest thing there is, a large wall at the worst place and attitude, 0.1 m from the sensor or farther.</remarks>
public sealed class FiringMargins
{
    private const double StepSeconds = 2e-4;
    private const double LookBackSeconds = 0.6;
    private const double DirectLookBackSeconds = 0.05;
    private const double LongestSlotSeconds = 0.5;

    // Nearer to a sensor than this no wall is taken to stand (an assumption).
    private const double NearestWallMetres = 0.1;

    private readonly FiringCoupling _coupling;
    private readonly double _speed;

    /// <summary>Prepares the margins.</summary>
    /// <param name="coupling">How the sensors hear each other.</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound; the slowest of a climate range is the worst. [m/s]</param>
    public FiringMargins(FiringCoupling coupling, double soundSpeedMetresPerSecond)
    {
        ArgumentNullException.ThrowIfNull(coupling);
        _coupling = coupling;
        _speed = soundSpeedMetresPerSecond;
    }

    /// <summary>Returns the worst margin of each listener against each sender, by walls: ghosts where both are the same. None where
    /// nothing falls into the listening window.</summary>
    /// <param name="schedule">The schedule; jitter is left out, which is the worst case.</param>
    public ImmutableArray<FiringMargin> ByWalls(FiringSchedule schedule)
    {
        ArgumentNullException.ThrowIfNull(schedule);
        var all = ImmutableArray.CreateBuilder<FiringMargin>();
        for (int j = 0; j < _coupling.Count; j++)
        {
            foreach (IGrouping<int, FiringMargin> bySender in Bursts(schedule, j, LookBackSeconds).Select(b => Worst(j, b)).GroupBy(m => m.Sender))
            {
                all.Add(bySender.MinBy(m => m.MarginDecibels)!);
            }
        }

        return [.. all.OrderBy(m => m.Listener).ThenBy(m => m.Sender)];
    }

    /// <summary>Returns the worst margin of each listener against each neighbour, straight across. Infinite where the sound is over within
    /// the dead zone or comes when nobody listens.</summary>
    /// <param name="schedule">The schedule; jitter is left out.</param>
    public ImmutableArray<FiringMargin> Direct(FiringSchedule schedule)
    {
        ArgumentNullException.ThrowIfNull(schedule);
        return
        [
            .. Enumerable.Range(0, _coupling.Count).SelectMany(j => Bursts(schedule, j, DirectLookBackSeconds)
                .Where(b => b.Sensor != j).Select(b => DirectOf(j, b)).GroupBy(m => m.Sender).Select(g => g.MinBy(m => m.MarginDecibels)!)
                .OrderBy(m => m.Sender)),
        ];
    }

    /// <summary>Returns the smallest margin of a schedule. [dB]</summary>
    /// <param name="schedule">The schedule.</param>
    public double SmallestDecibels(FiringSchedule schedule) =>
        ByWalls(schedule).Concat(Direct(schedule)).Select(m => m.MarginDecibels).Append(double.PositiveInfinity).Min();

    /// <summary>Returns the range beyond which a wall brings no burst of a sensor back over the lowest threshold of any listener. [m]</summary>
    /// <param name="sender">Index of the sensor.</param>
    /// <param name="marginDecibels">How far below the threshold it must be. [dB]</param>
    public double SilentRangeMetres(int sender, double marginDecibels)
    {
        double farthest = 0;
        for (int j = 0; j < _coupling.Count; j++)
        {
            Transducer listener = _coupling.Transducers[j];
            double lowest = listener.Threshold.Points.Min(p => Math.Max(p.LevelDecibels, listener.NoiseLevelDecibels));
            double near = 0.02, far = 200;
            for (int i = 0; i < 60; i++)
            {
                double middle = 0.5 * (near + far);
                (near, far) = _coupling.WallLevelDecibels(sender, j, middle) > lowest - marginDecibels ? (middle, far) : (near, middle);
            }

            farthest = Math.Max(farthest, far);
        }

        return farthest;
    }

    /// <summary>Returns the slot that is long enough whatever the thresholds do over time. [s]</summary>
    /// <param name="marginDecibels">The margin. [dB]</param>
    /// <param name="guardSeconds">A guard time. [s]</param>
    /// <remarks>Formula: <c>2·R_g/c + N/f₀ + guard</c>, R_g from <see cref="SilentRangeMetres"/>.</remarks>
    public double SufficientSlotSeconds(double marginDecibels, double guardSeconds) =>
        Enumerable.Range(0, _coupling.Count).Max(i => (2 * SilentRangeMetres(i, marginDecibels) / _speed) + _coupling.Transducers[i].BurstSeconds) + guardSeconds;

    /// <summary>Returns the order, groups and slot of the shortest cycle that keeps a margin, or null when none up to half a second a slot does.</summary>
    /// <param name="marginDecibels">The least margin of ghosts and crosstalk. [dB]</param>
    /// <remarks>No sensor fires while another that is not in its group still listens. Sensors fire together only where neither the way
    /// straight across nor a wall lets one hear the other.</remarks>
    public FiringSchedule? Shortest(double marginDecibels)
    {
        ImmutableArray<ImmutableArray<int>> groups = Ordered(Grouped(marginDecibels));
        double low = 0, high = LongestSlotSeconds;
        if (!(SmallestDecibels(With(high)) >= marginDecibels))
        {
            return null;
        }

        if (SmallestDecibels(With(low)) >= marginDecibels)
        {
            return With(low);
        }

        // Longer slots only weaken what comes late.
        while (high - low > 5e-5)
        {
            double middle = 0.5 * (low + high);
            (low, high) = SmallestDecibels(With(middle)) >= marginDecibels ? (low, middle) : (middle, high);
        }

        return With(high);

        FiringSchedule With(double least) =>
            new(groups, [.. groups.Select(g => Math.Max(least, g.Max(i => _coupling.Transducers[i].ListeningWindowSeconds)))]);
    }

    private ImmutableArray<EarlierBurst> Bursts(FiringSchedule schedule, int listener, double backSeconds) =>
        schedule.Before(listener, backSeconds, _coupling.Transducers[listener].ListeningWindowSeconds);

    private FiringMargin Worst(int listener, EarlierBurst burst)
    {
        Transducer ear = _coupling.Transducers[listener];
        double from = Math.Max(ear.BlankingSeconds, ear.RingDownSeconds);
        FiringMargin worst = new(listener, burst.Sensor, burst.ElapsedSeconds, double.NaN, double.NaN, double.PositiveInfinity);
        int steps = (int)Math.Ceiling((ear.ListeningWindowSeconds - from) / StepSeconds);
        for (int s = 0; s <= steps; s++)
        {
            double time = Math.Min(from + (s * StepSeconds), ear.ListeningWindowSeconds);
            double range = 0.5 * _speed * (time + burst.ElapsedSeconds);
            if (range < NearestWallMetres)
            {
                continue;
            }

            double margin = ear.DetectionThresholdDecibels(time) - _coupling.WallLevelDecibels(burst.Sensor, listener, range);
            if (margin < worst.MarginDecibels)
            {
                worst = worst with
                {
                    TrueRangeMetres = range,
                    ApparentRangeMetres = ApparentRange.OfPathMetres(range, range, burst.ElapsedSeconds, _speed),
                    MarginDecibels = margin,
                };
            }
        }

        return worst;
    }

    // The loudest moment is the end of the burst as it passes; judged at the lowest threshold while it is heard.
    private FiringMargin DirectOf(int listener, EarlierBurst burst)
    {
        int sender = burst.Sensor;
        Transducer ear = _coupling.Transducers[listener];
        double distance = _coupling.DirectDistanceMetres(sender, listener);
        double start = (distance / _speed) - burst.ElapsedSeconds;
        double length = _coupling.Transducers[sender].BurstSeconds;
        double end = start + length + (2 * BurstBuildUp.TimeConstantSeconds(ear.ReceiverQ, ear.NominalFrequency));
        double dead = Math.Max(ear.BlankingSeconds, ear.RingDownSeconds);
        double margin = end <= dead || start > ear.ListeningWindowSeconds
            ? double.PositiveInfinity
            : ear.DetectionThresholdDecibels(Math.Clamp(start + length, dead, ear.ListeningWindowSeconds)) - _coupling.DirectLevelDecibels(sender, listener);
        return new FiringMargin(
            listener, sender, burst.ElapsedSeconds, 0.5 * distance, ApparentRange.OfDirectMetres(distance, burst.ElapsedSeconds, _speed), margin);
    }

    // Sensors that can share a moment do, in the order of the layout.
    private ImmutableArray<ImmutableArray<int>> Grouped(double marginDecibels)
    {
        List<List<int>> groups = [];
        for (int sensor = 0; sensor < _coupling.Count; sensor++)
        {
            List<int>? together = groups.FirstOrDefault(g => g.All(other => MayShare(other, sensor, marginDecibels)));
            if (together is null)
            {
                groups.Add([sensor]);
            }
            else
            {
                together.Add(sensor);
            }
        }

        return [.. groups.Select(g => g.ToImmutableArray())];
    }

    private bool MayShare(int a, int b, double marginDecibels) =>
        Math.Min(Math.Min(Worst(a, new EarlierBurst(b, 0)).MarginDecibels, Worst(b, new EarlierBurst(a, 0)).MarginDecibels),
            Math.Min(DirectOf(a, new EarlierBurst(b, 0)).MarginDecibels, DirectOf(b, new EarlierBurst(a, 0)).MarginDecibels)) >= marginDecibels;

    // The order in which those that follow each other hear each other least; up to six groups every order is tried.
    private ImmutableArray<ImmutableArray<int>> Ordered(ImmutableArray<ImmutableArray<int>> groups)
    {
        if (groups.Length is < 3 or > 6)
        {
            return groups;
        }

        double slot = _coupling.Transducers.Max(t => t.ListeningWindowSeconds);
        double[,] margin = new double[groups.Length, groups.Length];
        for (int a = 0; a < groups.Length; a++)
        {
            for (int b = 0; b < groups.Length; b++)
            {
                margin[a, b] = a == b ? double.PositiveInfinity : groups[b].Min(l => groups[a].Min(s => Worst(l, new EarlierBurst(s, slot)).MarginDecibels));
            }
        }

        int[] best = [.. Enumerable.Range(0, groups.Length)];
        double bestLeast = double.NegativeInfinity;
        foreach (int[] order in Orders(groups.Length))
        {
            double least = Enumerable.Range(0, order.Length).Min(i => margin[order[i], order[(i + 1) % order.Length]]);
            if (least > bestLeast + 1e-9)
            {
                (bestLeast, best) = (least, order);
            }
        }

        return [.. best.Select(i => groups[i])];
    }

    // Every order that begins with the first group, in a fixed sequence.
    private static IEnumerable<int[]> Orders(int count)
    {
        return Extend([0], [.. Enumerable.Range(1, count - 1)]);

        static IEnumerable<int[]> Extend(int[] begun, int[] left) => left.Length == 0
            ? [begun]
            : left.SelectMany(next => Extend([.. begun, next], [.. left.Where(l => l != next)]));
    }
}
