using System.Collections.Immutable;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>A place that is walked through: what stands there, and the line.</summary>
internal sealed class TrialPlace
{
    private TrialPlace(string name, ObstacleSet set, TrialPath path)
    {
        Name = name;
        Ground = set.Ground;
        Path = path;
        Hazards = Hazard.Of(set, Ground, path);
    }

    internal string Name { get; }

    internal Ground? Ground { get; }

    internal TrialPath Path { get; }

    internal ImmutableArray<Hazard> Hazards { get; }

    internal static TrialPlace Of(string name, ObstacleSet set, TrialPath? path) => new(name, set, path ?? Past(set));

    // Straight ahead until the last obstacle is two metres behind.
    private static TrialPath Past(ObstacleSet set) =>
        TrialPath.Ahead(set.Obstacles.Select(o => o.Bounds().HighMetres.X).Append(8).Max() + 2);
}
