using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Layouts;

/// <summary>When each sensor fires: groups in turn, the sensors of a group together, the same in every cycle but for a jitter.</summary>
public sealed record FiringSchedule
{
    private const ulong Golden = 0x9E3779B97F4A7C15;

    /// <summary>Makes a schedule.</summary>
    /// <param name="groups">The groups in the order in which they fire; every sensor from 0 on in exactly one of them.</param>
    /// <param name="slotSeconds">The time from group to group, from 0.0001 to 5. [s]</param>
    /// <param name="jitterSeconds">The most by which a cycle is lengthened, drawn anew for each, from 0 to 1. [s]</param>
    /// <param name="seed">Seed of the jitter.</param>
    /// <exception cref="ArgumentException">A sensor is missing or named twice, a group is empty, or a time is outside its range.</exception>
    public FiringSchedule(ImmutableArray<ImmutableArray<int>> groups, double slotSeconds, double jitterSeconds = 0, ulong seed = 1)
        : this(groups, groups.IsDefault ? [] : [.. groups.Select(_ => slotSeconds)], jitterSeconds, seed)
    {
    }

    /// <summary>Makes a schedule whose groups do not all have the same time.</summary>
    /// <param name="groups">The groups in the order in which they fire; every sensor from 0 on in exactly one of them.</param>
    /// <param name="slotsSeconds">The time from each group to the next, from 0.0001 to 5. [s]</param>
    /// <param name="jitterSeconds">The most by which a cycle is lengthened, drawn anew for each, from 0 to 1. [s]</param>
    /// <param name="seed">Seed of the jitter.</param>
    /// <exception cref="ArgumentException">A sensor is missing or named twice, a group is empty, or a time is outside its range.</exception>
    public FiringSchedule(ImmutableArray<ImmutableArray<int>> groups, ImmutableArray<double> slotsSeconds, double jitterSeconds = 0, ulong seed = 1)
    {
        if (groups.IsDefaultOrEmpty || groups.Any(g => g.IsDefaultOrEmpty))
        {
            throw new ArgumentException("A schedule needs at least one group, and every group at least one sensor.", nameof(groups));
        }

        int[] all = [.. groups.SelectMany(g => g).Order()];
        if (!all.SequenceEqual(Enumerable.Range(0, all.Length)))
        {
            throw new ArgumentException($"A schedule must name every sensor from 0 on exactly once; it names {string.Join(", ", all)}.", nameof(groups));
        }

        if (slotsSeconds.Length != groups.Length)
        {
            throw new ArgumentException($"A schedule of {groups.Length} groups has {slotsSeconds.Length} slots; it must have as many.", nameof(slotsSeconds));
        }

        Groups = groups;
        SlotsSeconds = [.. slotsSeconds.Select(s => Finite.Within(s, 1e-4, 5, "Firing slot", "s"))];
        JitterSeconds = Finite.Within(jitterSeconds, 0, FiringPlan.MostJitterSeconds, "Firing jitter", "s");
        Seed = seed;
    }

    /// <summary>Gets the groups in the order in which they fire.</summary>
    public ImmutableArray<ImmutableArray<int>> Groups { get; }

    /// <summary>Gets the time from each group to the next. [s]</summary>
    public ImmutableArray<double> SlotsSeconds { get; }

    /// <summary>Gets the most by which a cycle is lengthened. [s]</summary>
    public double JitterSeconds { get; }

    /// <summary>Gets the seed of the jitter.</summary>
    public ulong Seed { get; }

    /// <summary>Gets the number of sensors.</summary>
    public int SensorCount => Groups.Sum(g => g.Length);

    /// <summary>Gets the time in which every sensor fires once, without jitter. [s]</summary>
    public double CycleSeconds => SlotsSeconds.Sum();

    /// <summary>Gets the mean time from one burst of a sensor to its next. [s]</summary>
    public double MeanCycleSeconds => CycleSeconds + (0.5 * JitterSeconds);

    /// <summary>Makes the schedule in which single sensors fire one after the other, in their order.</summary>
    /// <param name="sensors">Number of sensors.</param>
    /// <param name="slotSeconds">The time from sensor to sensor. [s]</param>
    public static FiringSchedule InTurn(int sensors, double slotSeconds) =>
        new([.. Enumerable.Range(0, sensors).Select(s => ImmutableArray.Create(s))], slotSeconds);

    /// <summary>Makes the schedule of a layout's firing plan. Each group has the time of its longest listening window and an equal share of
    /// what the cycle leaves; where groups may overlap, a share of the cycle as its window.</summary>
    /// <param name="layout">The layout.</param>
    /// <param name="seed">Seed of the jitter.</param>
    /// <exception cref="ArgumentException">The cycle is too short for the listening windows.</exception>
    public static FiringSchedule Of(SensorLayout layout, ulong seed = 1)
    {
        ArgumentNullException.ThrowIfNull(layout);
        double cycle = layout.Firing.CycleSeconds;
        if (!layout.HasTimeToListen)
        {
            throw new ArgumentException(
                $"The firing cycle of {layout.Name} is {cycle} s; its listening windows need at least {layout.ShortestCycleSeconds} s.", nameof(layout));
        }

        ImmutableArray<ImmutableArray<int>> groups = layout.FiringGroups;
        double[] windows = [.. groups.Select(layout.GroupWindowSeconds)];
        double sum = windows.Sum();
        double spare = Math.Max(0, cycle - sum) / windows.Length;
        return new FiringSchedule(groups, [.. windows.Select(w => cycle >= sum ? w + spare : w * cycle / sum)], layout.Firing.JitterSeconds, seed);
    }

    /// <summary>Returns when a sensor fires within a cycle. [s]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double OffsetSeconds(int sensor)
    {
        double start = 0;
        for (int g = 0; g < Groups.Length; g++)
        {
            if (Groups[g].Contains(sensor))
            {
                return start;
            }

            start += SlotsSeconds[g];
        }

        throw new ArgumentOutOfRangeException(nameof(sensor), $"There is no sensor {sensor} in the schedule.");
    }

    /// <summary>Returns the bursts of the first cycles, in time.</summary>
    /// <param name="cycles">Number of cycles.</param>
    public ImmutableArray<Burst> Bursts(int cycles)
    {
        var bursts = ImmutableArray.CreateBuilder<Burst>(cycles * SensorCount);
        double start = 0;
        for (int cycle = 0; cycle < cycles; cycle++)
        {
            double at = start;
            for (int g = 0; g < Groups.Length; g++)
            {
                foreach (int sensor in Groups[g])
                {
                    bursts.Add(new Burst(sensor, cycle, at));
                }

                at += SlotsSeconds[g];
            }

            start += CycleSeconds + (JitterSeconds * Share(cycle));
        }

        return bursts.ToImmutable();
    }

    /// <summary>Returns the bursts that were sent up to a time before a sensor's own burst, or together with it, without jitter: the
    /// latest first. Below 0 are those sent after it, while it still listens.</summary>
    /// <param name="listener">Index of the sensor.</param>
    /// <param name="withinSeconds">How far back to look. [s]</param>
    /// <param name="aheadSeconds">How long after its own burst to look for others, from 0: the listening window where groups overlap. [s]</param>
    public ImmutableArray<EarlierBurst> Before(int listener, double withinSeconds, double aheadSeconds = 0)
    {
        // Bursts of one moment must not drop out by the last digit of a sum.
        const double Tie = 1e-9;
        double own = OffsetSeconds(listener), cycle = CycleSeconds;
        var earlier = new List<EarlierBurst>();
        for (int sensor = 0; sensor < SensorCount; sensor++)
        {
            double latest = own - OffsetSeconds(sensor);
            latest -= cycle * Math.Floor((latest + aheadSeconds + Tie) / cycle);
            for (double elapsed = latest; elapsed <= withinSeconds; elapsed += cycle)
            {
                double at = Math.Abs(elapsed) < Tie ? 0 : elapsed;
                if (at == 0 ? sensor != listener : at > Tie - aheadSeconds)
                {
                    earlier.Add(new EarlierBurst(sensor, at));
                }
            }
        }

        return [.. earlier.OrderBy(e => e.ElapsedSeconds).ThenBy(e => e.Sensor)];
    }

    // A number from 0 to 1 for each cycle (SplitMix64, public domain algorithm of Steele, Lea and Flood 2014, from memory).
    private double Share(int cycle)
    {
        ulong x = unchecked(Seed + (Golden * ((ulong)cycle + 1)));
        x = unchecked((x ^ (x >> 30)) * 0xBF58476D1CE4E5B9);
        x = unchecked((x ^ (x >> 27)) * 0x94D049BB133111EB);
        return ((x ^ (x >> 31)) >> 11) * (1.0 / (1UL << 53));
    }
}
