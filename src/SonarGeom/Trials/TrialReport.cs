using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>What trials predict.</summary>
/// <param name="Course">What was walked, by whom.</param>
/// <param name="Layouts">One result for each layout.</param>
/// <param name="Comparisons">Each layout after the first, on the same walks as the first.</param>
/// <param name="Outings">Number of outings.</param>
/// <param name="Walks">Number of walks.</param>
public sealed record TrialReport(
    TrialCourse Course, ImmutableArray<LayoutTrials> Layouts, ImmutableArray<LayoutPair> Comparisons, int Outings, int Walks)
{
    /// <summary>Gathers the tallies of all outings, in their order.</summary>
    internal static TrialReport Of(TrialCourse course, ImmutableArray<SensorLayout> layouts, ImmutableArray<OutingTally> tallies)
    {
        ImmutableArray<Obstacle> obstacles = course.Obstacles.Obstacles;
        return new TrialReport(
            course,
            [.. layouts.Select((l, i) => LayoutTrials.Of(course, l, [.. tallies.Select(t => t.Layouts[i])], [.. tallies.Select(t => t.Walks)]))],
            [.. layouts.Skip(1).Select((l, i) => LayoutPair.Of(layouts[0], l, obstacles, tallies, i))],
            tallies.Length, tallies.Sum(t => t.Walks));
    }
}
