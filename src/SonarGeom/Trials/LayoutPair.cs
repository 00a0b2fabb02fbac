using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>Two layouts on the same walks.</summary>
/// <param name="First">The reference.</param>
/// <param name="Other">The other layout.</param>
/// <param name="All">All obstacles together.</param>
/// <param name="Obstacles">One difference for each obstacle.</param>
public sealed record LayoutPair(SensorLayout First, SensorLayout Other, PairedDifference All, ImmutableArray<PairedDifference> Obstacles)
{
    internal static LayoutPair Of(
        SensorLayout first, SensorLayout other, ImmutableArray<Obstacle> obstacles, ImmutableArray<OutingTally> outings, int pair) => new(
        first, other,
        PairedDifference.Of("all obstacles", outings.Select(o => (
            o.Pairs[pair].OnlyFirst.Sum(), o.Pairs[pair].OnlyOther.Sum(), o.Layouts[0].Obstacles.Sum(t => t.Touched)))),
        [
            .. obstacles.Select((obstacle, i) => PairedDifference.Of(obstacle.Id, outings.Select(o => (
                o.Pairs[pair].OnlyFirst[i], o.Pairs[pair].OnlyOther[i], o.Layouts[0].Obstacles[i].Touched)))),
        ]);
}

/// <summary>By how much more often the other layout warns in time than the first, walk by walk.</summary>
/// <param name="Name">What of.</param>
/// <param name="OnlyFirst">Walks in which only the first warned.</param>
/// <param name="OnlyOther">Walks in which only the other did.</param>
/// <param name="Cases">Walks that would run into it.</param>
/// <param name="LowFraction">Lower end of the 95 % interval of the difference of the shares. [unitless]</param>
/// <param name="HighFraction">Upper end. [unitless]</param>
public sealed record PairedDifference(string Name, int OnlyFirst, int OnlyOther, int Cases, double LowFraction, double HighFraction)
{
    /// <summary>Gets the difference of the shares, positive when the other layout warns more often; not a number without cases. [unitless]</summary>
    public double Fraction => Cases == 0 ? double.NaN : (double)(OnlyOther - OnlyFirst) / Cases;

    /// <summary>Gets whether the interval leaves out zero.</summary>
    public bool IsClear => Cases > 0 && (LowFraction > 0 || HighFraction < 0);

    /// <summary>Works out the difference and its interval from outings that are independent of each other.</summary>
    /// <param name="outings">Walks in which only the first warned, only the other, and all that would touch.</param>
    /// <param name="name">What of.</param>
    /// <remarks>Interval of Student's t over outings, the whole range for a single one; variance the larger of that between outings and that of independent walks,
    /// <c>(b + c − (c − b)²/n)/n²</c> with b and c the walks in which only one warned (McNemar 1947, from memory).</remarks>
    public static PairedDifference Of(string name, IEnumerable<(int OnlyFirst, int OnlyOther, int Cases)> outings)
    {
        (int First, int Other, int Cases)[] all = [.. outings.Where(o => o.Cases > 0)];
        int first = all.Sum(o => o.First), other = all.Sum(o => o.Other), cases = all.Sum(o => o.Cases);
        if (cases == 0)
        {
            return new PairedDifference(name, 0, 0, 0, -1, 1);
        }

        // One outing tells nothing of what differs between outings.
        if (all.Length == 1)
        {
            return new PairedDifference(name, first, other, cases, -1, 1);
        }

        double difference = (double)(other - first) / cases;
        double variance = Math.Max(
            first + other - (difference * difference * cases),
            all.Sum(o => Math.Pow(o.Other - o.First - (difference * o.Cases), 2)) * all.Length / (all.Length - 1));

        // Walks that all end alike prove little when they are few: half a walk is added to the deviation.
        double half = ((OutingQuantile.Of(all.Length) * Math.Sqrt(Math.Max(0, variance))) + 0.5) / cases;
        return new PairedDifference(name, first, other, cases, Math.Max(-1, difference - half), Math.Min(1, difference + half));
    }
}
