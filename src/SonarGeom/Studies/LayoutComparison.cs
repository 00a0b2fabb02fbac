using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;

namespace SonarGeom.Studies;

/// <summary>One layout in a comparison.</summary>
/// <param name="Layout">The layout.</param>
/// <param name="TimeNeededSeconds">Time needed with its firing plan. [s]</param>
/// <param name="Maps">Approach maps, one for each probe.</param>
/// <param name="Verdicts">The verdict on each obstacle.</param>
public sealed record ComparedLayout(
    SensorLayout Layout, double TimeNeededSeconds, ImmutableArray<ApproachMap> Maps, ImmutableArray<ObstacleVerdict> Verdicts);

/// <summary>Warning time gained or lost, cell by cell, against the first layout.</summary>
/// <param name="LayoutName">The other layout.</param>
/// <param name="ProbeName">The probe.</param>
/// <param name="Grid">The grid.</param>
/// <param name="DifferenceSeconds">Warning time of the other layout less that of the first. [s]</param>
/// <param name="InSilhouette">Whether a cell lies inside the silhouette.</param>
/// <param name="BetterCells">Silhouette cells that only the other layout warns of in time.</param>
/// <param name="WorseCells">Silhouette cells that only the first layout warns of in time.</param>
public sealed record DifferenceMap(
    string LayoutName, string ProbeName, CoverageGrid Grid, ImmutableArray<float> DifferenceSeconds, ImmutableArray<bool> InSilhouette,
    int BetterCells, int WorseCells);

/// <summary>Two or more layouts side by side on one scenario: the first is the reference.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="Layouts">The layouts.</param>
/// <param name="Differences">Difference maps against the first layout.</param>
/// <param name="Assumptions">The assumptions.</param>
public sealed record LayoutComparison(
    Scenario Scenario, ImmutableArray<ComparedLayout> Layouts, ImmutableArray<DifferenceMap> Differences, ImmutableArray<string> Assumptions)
{
    /// <summary>Gets the largest absolute difference of any map, the one scale of all difference maps. [s]</summary>
    public double LargestDifferenceSeconds =>
        Differences.SelectMany(d => d.DifferenceSeconds.Where((_, i) => d.InSilhouette[i])).Select(d => Math.Abs((double)d)).DefaultIfEmpty(0).Max();

    /// <summary>Runs the comparison.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="layouts">Two or more layouts; the first is the reference.</param>
    /// <param name="resources">The body tables.</param>
    /// <param name="progress">Told of each stage; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">Fewer than two layouts.</exception>
    public static LayoutComparison Run(
        Scenario scenario, ImmutableArray<SensorLayout> layouts, StudyResources resources,
        IProgress<StudyProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(resources);
        if (layouts.Length < 2)
        {
            throw new ArgumentException($"A comparison needs at least two layouts; {layouts.Length} given.", nameof(layouts));
        }

        PosedLayout posed = ScenarioStudy.Pose(scenario with { Layout = layouts[0] }, scenario.MainWearer, resources.Tables);
        var compared = ImmutableArray.CreateBuilder<ComparedLayout>();
        for (int i = 0; i < layouts.Length; i++)
        {
            progress?.Report(new($"layout {layouts[i].Name}", (double)i / layouts.Length));
            PosedLayout one = i == 0 ? posed : posed.WithLayout(layouts[i]);
            var mapper = new ApproachMapper(one, scenario.Walk, scenario.Maps);
            compared.Add(new ComparedLayout(
                layouts[i],
                StoppingModel.TimeNeededSeconds(scenario.Walk, layouts[i].Firing),
                [.. scenario.Probes.Select(p => mapper.Map(p, cancellation))],
                VerdictBoard.Of(one, scenario.Walk, scenario.Maps, scenario.Obstacles, scenario.VerdictEngines, cancellation).Verdicts()));
        }

        progress?.Report(new("done", 1));
        return new LayoutComparison(
            scenario, compared.ToImmutable(),
            [.. compared.Skip(1).SelectMany(c => c.Maps.Select((m, k) => Difference(c.Layout.Name, compared[0].Maps[k], m)))],
            Findings.Assumptions(scenario, posed));
    }

    private static DifferenceMap Difference(string name, ApproachMap first, ApproachMap other)
    {
        var difference = new float[first.Grid.Count];
        int better = 0, worse = 0;
        for (int i = 0; i < difference.Length; i++)
        {
            difference[i] = other.WarningSeconds[i] - first.WarningSeconds[i];
            if (first.InSilhouette[i])
            {
                better += other.IsWarnedInTime(i) && !first.IsWarnedInTime(i) ? 1 : 0;
                worse += first.IsWarnedInTime(i) && !other.IsWarnedInTime(i) ? 1 : 0;
            }
        }

        return new DifferenceMap(name, first.Probe.Name, first.Grid, ImmutableArray.Create(difference), first.InSilhouette, better, worse);
    }
}
