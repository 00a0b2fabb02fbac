using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Obstacles;

public sealed class GroundCornerTests
{
    public static TheoryData<string> Kinds => ["pole", "wall", "box", "kerb", "bollard", "stairs"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void WhatStandsOnTheGroundMakesACornerWithItAndWhatHangsDoesNot(string kind)
    {
        Assert.NotEmpty(CornersOf(kind, 0));
        Assert.DoesNotContain(CornersOf(kind, 0.75), p => p.Name is not "corner below riser 2");
    }

    private static IEnumerable<TargetPart> CornersOf(string kind, double height)
    {
        Vec3 foot = new(2, 0, height);
        Obstacle obstacle = kind switch
        {
            "pole" => Obstacle.Pole(kind, foot, 0.1, 2),
            "wall" => Obstacle.Wall(kind, foot, 2, 2),
            "box" => Obstacle.Box(kind, foot, 0.3, 0.6, 0.8),
            "kerb" => Obstacle.KerbUp(kind, foot, 0.12, 2),
            "bollard" => Obstacle.Bollard(kind, foot, 0.15, 1, CapShape.Domed, 0.05),
            _ => Obstacle.Stairs(kind, foot, 2, 0.16, 0.29, 1.4),
        };
        return obstacle.Parts(Ground.SmoothTile).Where(p => p is CornerPart or PoleFootPart);
    }
}
