using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>Places with nothing to hit, in which every alert is one too many: so that the widest beam does not win by shouting.</summary>
public static class NuisancePlaces
{
    private const double DoorMetres = 0.9;
    private const double CorridorMetres = 1.2;
    private const double WayMetres = 12;

    // Clothed people: the loss assumed for cloth over a body.
    private const double ClothLossDecibels = 4;

    /// <summary>Returns the places.</summary>
    public static ImmutableArray<ObstacleSet> All =>
    [
        Doorway, Corridor, Queue,
        new("empty tiled path", "Level tiles and nothing else.", Ground.SmoothTile, []),
        new("empty gravel path", "Level gravel and nothing else.", Ground.Gravel, []),
    ];

    /// <summary>Gets the length of the way through each. [m]</summary>
    public static double LengthMetres => WayMetres;

    private static ObstacleSet Doorway => new(
        "doorway of 0.9 m", "Two walls with an opening of 0.9 m between them, 6 m along the way, lintel at 2.03 m.", Ground.SmoothTile,
        [
            Obstacle.Box("wall left", new Vec3(6, (0.5 * DoorMetres) + 1, 0), 0.12, 2, 2.5),
            Obstacle.Box("wall right", new Vec3(6, (-0.5 * DoorMetres) - 1, 0), 0.12, 2, 2.5),
            Obstacle.Board("lintel", new Vec3(6, 0, 2.27), DoorMetres, 0.48) with { DepthMetres = 0.12 },
        ]);

    private static ObstacleSet Corridor => new(
        "corridor of 1.2 m", "Two walls along the way, 1.2 m apart.", Ground.SmoothTile,
        [
            Obstacle.Wall("wall left", new Vec3(8, 0.5 * CorridorMetres, 0), 24, 2.5) with { Yaw = Angle.FromDegrees(90) },
            Obstacle.Wall("wall right", new Vec3(8, -0.5 * CorridorMetres, 0), 24, 2.5) with { Yaw = Angle.FromDegrees(-90) },
        ]);

    private static ObstacleSet Queue => new(
        "queue of people", "Ten people in a line 0.9 m to the left of the way, 0.8 m apart.", Ground.Paving,
        [
            .. Enumerable.Range(0, 10).Select(i => Obstacle.Pole($"person {i + 1}", new Vec3(2 + (0.8 * i), 0.9, 0), 0.34, 1.7) with
            {
                ReflectionLossDecibels = ClothLossDecibels,
            }),
        ]);
}
