using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Echoes;

/// <summary>Obstacles of every kind at seeded poses ahead of a wearer at the origin.</summary>
internal static class RandomObstacles
{
    /// <summary>The kinds that have closed forms: all but meshes.</summary>
    internal static IEnumerable<ObstacleKind> Kinds => Enum.GetValues<ObstacleKind>().Where(k => k != ObstacleKind.Mesh);

    internal static Obstacle Any(Random random) => Of(Kinds.ElementAt(random.Next(Kinds.Count())), random);

    internal static Obstacle Of(ObstacleKind kind, Random random)
    {
        double x = 0.6 + (3 * random.NextDouble());
        double y = 1.5 * (random.NextDouble() - 0.5);
        var foot = new Vec3(x, y, 0);
        var air = new Vec3(x, y, 0.3 + (1.7 * random.NextDouble()));
        Angle yaw = Angle.FromDegrees(80 * (random.NextDouble() - 0.5));
        Angle pitch = Angle.FromDegrees(80 * (random.NextDouble() - 0.5));
        Angle roll = Angle.FromDegrees(80 * (random.NextDouble() - 0.5));
        double size = 0.05 + (0.5 * random.NextDouble());
        double diameter = 0.01 + (0.15 * random.NextDouble());
        return kind switch
        {
            ObstacleKind.Pole => Obstacle.Pole("a", foot, diameter, 2 + size),
            ObstacleKind.Bar => Obstacle.Bar("a", air, diameter, size) with { Yaw = yaw, Roll = roll },
            ObstacleKind.Sphere => Obstacle.Sphere("a", air, diameter),
            ObstacleKind.Board => Obstacle.Board("a", air, size, size + 0.1) with { Yaw = yaw, Pitch = pitch, Roll = roll },
            ObstacleKind.Sign => (Obstacle.Board("a", air, size, 0.3) with { Kind = ObstacleKind.Sign, DiameterMetres = diameter, Yaw = yaw }).Validated(),
            ObstacleKind.Wall => Obstacle.Wall("a", foot, 3, 2.5) with { Yaw = yaw },
            ObstacleKind.WallFloorCorner => Obstacle.Wall("a", foot, 3, 2.5) with { Kind = ObstacleKind.WallFloorCorner, Yaw = yaw },
            ObstacleKind.Box => Obstacle.Box("a", foot, size, size, size + 0.3) with { Yaw = yaw },
            ObstacleKind.KerbUp => Obstacle.KerbUp("a", foot, 0.12, 4) with { Yaw = yaw },
            ObstacleKind.StepDown => Obstacle.StepDown("a", foot, 0.15, 4),
            ObstacleKind.Stairs => Obstacle.Stairs("a", foot, 4, 0.16, 0.3, 1.6) with { Yaw = yaw },
            ObstacleKind.Bollard => Obstacle.Bollard("a", foot, 0.15 + diameter, 0.5 + size, (CapShape)random.Next(3), 0.04),
            ObstacleKind.Chain => Obstacle.Chain("a", air, 0.02, 1.5, 0.2) with { Yaw = yaw },
            ObstacleKind.Foliage => Obstacle.Foliage(
                "a", foot + new Vec3(0.4, 0, 1.2 * random.NextDouble()), (FoliageForm)random.Next(2), 0.3 + size, 0.4 + (2 * size), 0.4 + size, 0.02, 3000)
                with
            { Yaw = yaw },
            _ => new Obstacle("a", kind, air) { WidthMetres = 1, DepthMetres = 0.6, DiameterMetres = 0.03, Yaw = yaw, Pitch = pitch },
        };
    }
}
