using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>What trials predict of one layout.</summary>
/// <param name="Layout">The layout.</param>
/// <param name="AllTouches">Of all obstacles that would be touched, the share warned of in time on the right side.</param>
/// <param name="Obstacles">One result for each obstacle.</param>
/// <param name="FalseAlerts">False alerts while walking the course, for each cause.</param>
/// <param name="AllFalseAlerts">All of them together.</param>
/// <param name="Nuisances">What places with nothing to hit set off.</param>
/// <param name="Convergence">The share of all touches warned of, after more and more walks.</param>
/// <param name="AwayFraction">The share of time in which the device did not look. [unitless]</param>
public sealed record LayoutTrials(
    SensorLayout Layout,
    ShareEstimate AllTouches,
    ImmutableArray<ObstacleTrials> Obstacles,
    ImmutableArray<FalseAlertRate> FalseAlerts,
    RateEstimate AllFalseAlerts,
    ImmutableArray<NuisanceTrials> Nuisances,
    ImmutableArray<ConvergencePoint> Convergence,
    double AwayFraction)
{
    internal static LayoutTrials Of(TrialCourse course, SensorLayout layout, ImmutableArray<LayoutTally> outings, ImmutableArray<int> walks)
    {
        ImmutableArray<Obstacle> obstacles = course.Obstacles.Obstacles;
        (int Hits, int Cases)[] all = [.. outings.Select(o => (o.Obstacles.Sum(t => t.Warned), o.Obstacles.Sum(t => t.Touched)))];
        double walked = outings.Sum(o => o.WalkedSeconds);
        return new LayoutTrials(
            layout,
            ShareEstimate.Of(all),
            [.. obstacles.Select((o, i) => ObstacleTrials.Of(o, [.. outings.Select(t => t.Obstacles[i])]))],
            [.. Enum.GetValues<FalseAlertCause>().Select(c => new FalseAlertRate(c, RateEstimate.Of(outings.Select(o => (o.FalseAlerts[(int)c], o.WalkedSeconds)))))],
            RateEstimate.Of(outings.Select(o => (o.FalseAlerts.Sum(), o.WalkedSeconds))),
            [.. course.Nuisances.Select((p, i) => NuisanceTrials.Of(p.Name, [.. outings.Select(o => o.Nuisances[i])]))],
            ConvergencePoint.Of(all, walks),
            walked > 0 ? outings.Sum(o => o.AwaySeconds) / walked : 0);
    }
}

/// <summary>How often a cause sets off false alerts.</summary>
/// <param name="Cause">The cause.</param>
/// <param name="Rate">How often.</param>
public sealed record FalseAlertRate(FalseAlertCause Cause, RateEstimate Rate);

/// <summary>What a place with nothing to hit sets off.</summary>
/// <param name="Place">The place.</param>
/// <param name="All">All alerts.</param>
/// <param name="Causes">The same for each cause.</param>
public sealed record NuisanceTrials(string Place, RateEstimate All, ImmutableArray<FalseAlertRate> Causes)
{
    internal static NuisanceTrials Of(string place, ImmutableArray<NuisanceTally> outings) => new(
        place,
        RateEstimate.Of(outings.Select(o => (o.FalseAlerts.Sum(), o.WalkedSeconds))),
        [.. Enum.GetValues<FalseAlertCause>().Select(c => new FalseAlertRate(c, RateEstimate.Of(outings.Select(o => (o.FalseAlerts[(int)c], o.WalkedSeconds)))))]);
}

/// <summary>The share of all touches warned of after some of the walks.</summary>
/// <param name="Walks">Number of walks.</param>
/// <param name="Share">The share.</param>
public sealed record ConvergencePoint(int Walks, ShareEstimate Share)
{
    // After 1, 2, 4, … outings, and all of them.
    internal static ImmutableArray<ConvergencePoint> Of((int Hits, int Cases)[] outings, ImmutableArray<int> walks)
    {
        var points = ImmutableArray.CreateBuilder<ConvergencePoint>();
        for (int n = 1; n < outings.Length; n *= 2)
        {
            points.Add(new(walks.Take(n).Sum(), ShareEstimate.Of(outings.Take(n))));
        }

        points.Add(new(walks.Sum(), ShareEstimate.Of(outings)));
        return points.ToImmutable();
    }
}
