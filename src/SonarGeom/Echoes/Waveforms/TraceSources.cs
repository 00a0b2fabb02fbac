using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>Lists everything in a scene that a receiver may hear, each with a label of its own.</summary>
public static class TraceSources
{
    /// <summary>Lists the parts of obstacles, and the ground.</summary>
    /// <param name="obstacles">The obstacles.</param>
    /// <param name="ground">The ground; null leaves it out, and the corners with it.</param>
    /// <param name="occludersOf">What can stand in the way of an obstacle: the others and the wearer; null when nothing can.</param>
    /// <param name="leavesOf">What foliage can stand in the way of an obstacle; null when none can.</param>
    /// <returns>For each part of each obstacle a source "obstacle: part", then the ground under its own name.</returns>
    public static ImmutableArray<TraceSource> Of(
        IReadOnlyList<Obstacle> obstacles, Ground? ground, Func<Obstacle, IRayScene?>? occludersOf = null,
        Func<Obstacle, ImmutableArray<FoliagePart>>? leavesOf = null)
    {
        ArgumentNullException.ThrowIfNull(obstacles);
        var sources = ImmutableArray.CreateBuilder<TraceSource>();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (Obstacle obstacle in obstacles)
        {
            ImmutableArray<FoliagePart> veils = leavesOf?.Invoke(obstacle) ?? [];
            IRayScene? occluders = occludersOf?.Invoke(obstacle);
            foreach (TargetPart part in obstacle.Parts(ground))
            {
                string label = Unused(taken, $"{obstacle.Id}: {part.Name}");
                TraceSource source = part switch
                {
                    MeshPart mesh => new MeshSource(label, mesh),
                    FoliagePart leaves => new FoliageSource(label, leaves),
                    _ => new PartSource(label, part),
                };
                sources.Add(source with { Occluders = occluders, Leaves = veils });
            }
        }

        if (ground is not null)
        {
            sources.Add(new FloorSource(Unused(taken, ground.Name), ground));
        }

        return sources.ToImmutable();
    }

    private static string Unused(HashSet<string> taken, string label)
    {
        string free = label;
        for (int i = 2; !taken.Add(free); i++)
        {
            free = $"{label} ({i})";
        }

        return free;
    }
}
