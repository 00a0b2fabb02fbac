using System.Collections.Immutable;

namespace SonarGeom.Obstacles;

/// <summary>Obstacles that stand together on one ground.</summary>
/// <param name="Name">Name of the set.</param>
/// <param name="Description">What place it stands for.</param>
/// <param name="Ground">The ground they stand on, or null for none.</param>
/// <param name="Obstacles">The obstacles, each of its own name.</param>
public sealed record ObstacleSet(string Name, string Description, Ground? Ground, ImmutableArray<Obstacle> Obstacles)
{
    /// <summary>Gets the obstacles, checked.</summary>
    /// <exception cref="ArgumentException">Two obstacles have the same name, or one is not valid.</exception>
    public ImmutableArray<Obstacle> Obstacles { get; init; } = Checked(Obstacles);

    private static ImmutableArray<Obstacle> Checked(ImmutableArray<Obstacle> obstacles)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (Obstacle obstacle in obstacles.IsDefault ? [] : obstacles)
        {
            obstacle.Validated();
            if (!seen.Add(obstacle.Id))
            {
                throw new ArgumentException($"Two obstacles are named '{obstacle.Id}'; each needs its own name.", nameof(obstacles));
            }
        }

        return obstacles.IsDefault ? [] : obstacles;
    }
}
