using System.Collections.Immutable;

namespace SonarGeom.Trials;

/// <summary>What one outing counted. Small, whatever the number of pings; tallies of all outings together make the report.</summary>
/// <param name="Outing">Number of the outing, from 0.</param>
/// <param name="Walks">Number of its walks.</param>
/// <param name="Layouts">One tally for each layout.</param>
/// <param name="Pairs">For each layout after the first, against the first.</param>
public sealed record OutingTally(int Outing, int Walks, ImmutableArray<LayoutTally> Layouts, ImmutableArray<PairTally> Pairs);

/// <summary>What one layout did on one outing.</summary>
/// <param name="WalkedSeconds">Time walked. [s]</param>
/// <param name="AwaySeconds">Of it, time in which the device did not look. [s]</param>
/// <param name="Obstacles">One tally for each obstacle.</param>
/// <param name="FalseAlerts">False alerts by <see cref="FalseAlertCause"/>.</param>
/// <param name="Nuisances">One tally for each nuisance place.</param>
public sealed record LayoutTally(
    double WalkedSeconds, double AwaySeconds, ImmutableArray<ObstacleTally> Obstacles, ImmutableArray<int> FalseAlerts, ImmutableArray<NuisanceTally> Nuisances);

/// <summary>What became of one obstacle.</summary>
/// <param name="Touched">Walks in which the body would run into it.</param>
/// <param name="Warned">Of them, walks with an alert in time on the right side.</param>
/// <param name="Alerted">Of them, walks with any alert.</param>
/// <param name="Sided">Alerts that told a side of something clearly to one side.</param>
/// <param name="WrongSide">Of them, those that told the other.</param>
/// <param name="Misses">Walks without a warning by <see cref="MissCause"/>.</param>
/// <param name="WarningTimes">Numbers of a bin of 20 ms and how many alerts fell into it, one after the other.</param>
public sealed record ObstacleTally(
    int Touched, int Warned, int Alerted, int Sided, int WrongSide, ImmutableArray<int> Misses, ImmutableArray<int> WarningTimes);

/// <summary>What a place with nothing to hit set off.</summary>
/// <param name="WalkedSeconds">Time walked. [s]</param>
/// <param name="FalseAlerts">Alerts by <see cref="FalseAlertCause"/>.</param>
public sealed record NuisanceTally(double WalkedSeconds, ImmutableArray<int> FalseAlerts);

/// <summary>Two layouts on the same walks, obstacle by obstacle.</summary>
/// <param name="OnlyFirst">Walks in which only the first layout warned in time.</param>
/// <param name="OnlyOther">Walks in which only the other did.</param>
public sealed record PairTally(ImmutableArray<int> OnlyFirst, ImmutableArray<int> OnlyOther);
