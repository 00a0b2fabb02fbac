using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>An obstacle of a place, made ready for many walks.</summary>
internal sealed class Hazard
{
    // Parts may answer from just outside the solid: rims, corner lines and lips.
    private const double BoxMarginMetres = 0.05;

    private Hazard(Obstacle obstacle, ImmutableArray<TargetPart> parts, Screen? others, ImmutableArray<TouchFront> fronts)
    {
        Obstacle = obstacle;
        Parts = parts;
        Others = others;
        Fronts = fronts;
        OwnSpeed = obstacle.ClosingSpeedMetresPerSecond ?? 0;
        BoundingBox box = obstacle.Bounds();
        var margin = new Vec3(BoxMarginMetres, BoxMarginMetres, BoxMarginMetres);
        Vec3 low = box.LowMetres - margin, high = box.HighMetres + margin;
        foreach (DomePart dome in parts.OfType<DomePart>())
        {
            // The echo of a flat dome is told from the sphere it is cut from, also where the sphere is no longer part of it.
            var radius = new Vec3(dome.RadiusMetres, dome.RadiusMetres, dome.RadiusMetres);
            (Vec3 from, Vec3 to) = (dome.CentreMetres - radius, dome.CentreMetres + radius);
            low = new Vec3(Math.Min(low.X, from.X), Math.Min(low.Y, from.Y), Math.Min(low.Z, from.Z));
            high = new Vec3(Math.Max(high.X, to.X), Math.Max(high.Y, to.Y), Math.Max(high.Z, to.Z));
        }

        Box = new BoundingBox(low, high);
    }

    internal Obstacle Obstacle { get; }

    internal ImmutableArray<TargetPart> Parts { get; }

    internal Screen? Others { get; }

    /// <summary>Gets its front seen along each stretch of the path.</summary>
    internal ImmutableArray<TouchFront> Fronts { get; }

    /// <summary>Gets the speed at which it comes by itself, against the direction of the stretch. [m/s]</summary>
    internal double OwnSpeed { get; }

    internal BoundingBox Box { get; }

    /// <summary>Gets whether its echo differs from ping to ping by itself.</summary>
    internal bool IsFoliage => Obstacle.Kind == ObstacleKind.Foliage;

    internal static ImmutableArray<Hazard> Of(ObstacleSet set, Ground? ground, TrialPath path)
    {
        var hazards = new Hazard[set.Obstacles.Length];
        Parallel.For(0, hazards.Length, i => hazards[i] = new Hazard(
            set.Obstacles[i],
            [.. set.Obstacles[i].Parts(ground).Where(p => p.CountsAsDetection)],
            ScreenFor(set, i),
            [.. Enumerable.Range(0, path.StretchCount).Select(s => TouchFront.Of(set.Obstacles[i], path.WorldFromStretch(s)))]));
        return [.. hazards];
    }

    // Beside what moves, and from what moves, nothing hides: where the two are is not the same for two moments.
    private static Screen? ScreenFor(ObstacleSet set, int index)
    {
        Obstacle one = set.Obstacles[index];
        if (one.ClosingSpeedMetresPerSecond is not null)
        {
            return null;
        }

        ImmutableArray<Obstacle> still = [.. set.Obstacles.Where(o => o.ClosingSpeedMetresPerSecond is null)];
        return Screen.OthersThan(set with { Obstacles = still }, still.IndexOf(one));
    }
}
