using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Grids;
using SonarGeom.Rendering.Scenes;

namespace SonarGeom.Rendering.Tests.Scenes;

/// <summary>A made-up scene with every kind of item.</summary>
internal static class ExampleScenes
{
    public static SceneDocument Street()
    {
        var lateral = new GridAxis(-0.19, 0.02, 20);
        var height = new GridAxis(1.61, 0.02, 14);
        double[] from = new double[lateral.Count * height.Count];
        double[] to = new double[from.Length];
        for (int i = 0; i < from.Length; i++)
        {
            double y = lateral.Centre(i % lateral.Count);
            double z = height.Centre(i / lateral.Count) - 1.74;
            from[i] = (y * y) + (z * z) < 0.02 ? 0.12 : double.NaN;
            to[i] = 2.3;
        }

        return new(
            "example street",
            [
                SceneShapes.Ground(6, 1, 2),
                new SceneGroup(
                    "wearer",
                    [
                        new SceneSurface("trunk", SceneShapes.Cylinder(new(0, 0, 0.9), new(0, 0, 1.5), 0.16, 0.19), Colour.FromHex("b9a58f")),
                        new SceneSurface("head", SceneShapes.Sphere(new(0.02, 0, 1.74), 0.11), Colour.FromHex("b9a58f")),
                        new SceneSurface("leg, left", SceneShapes.Cylinder(new(0.1, 0.1, 0), new(0, 0.09, 0.9), 0.06, 0.08), Colour.FromHex("8a8f99")),
                        new SceneSurface("leg, right", SceneShapes.Cylinder(new(-0.1, -0.1, 0), new(0, -0.09, 0.9), 0.06, 0.08), Colour.FromHex("8a8f99")),
                    ]),
                new SceneGroup(
                    "sensors",
                    [
                        new SceneGroup(
                            "chest sensor",
                            [
                                new SceneSurface("can", SceneShapes.Cylinder(new(0.19, 0, 1.3), new(0.21, 0, 1.3), 0.012), Colour.Ink),
                                new SceneSurface("boresight", SceneShapes.Arrow(new(0.21, 0, 1.3), new(0.6, 0, 1.35), 0.006), Colour.FromHex("a83187")),
                            ])
                        {
                            Facts = [new("tilt (°)", "8"), new("announces", "ahead")],
                        },
                        new SceneGroup("an empty group", []),
                    ]),
                new SceneGroup(
                    "obstacles",
                    [
                        new SceneSurface("pole: caught", SceneShapes.Cylinder(new(3, 0.4, 0), new(3, 0.4, 2.4), 0.04), Colour.FromHex("1449e8")),
                        new SceneSurface("box: missed", SceneShapes.Box(new(4, -0.6, 0), new(4.4, -0.2, 0.6)), Colour.FromHex("eb6601")),
                        new SceneSurface("chain", SceneShapes.Tube([new(2, -1, 0.6), new(2, -0.5, 0.45), new(2, 0, 0.6)], 0.008), Colour.FromHex("eb6601")),
                    ]),
                SceneShapes.ScaleBar(new(0.5, -1.5, 0)),
                new SceneLines("silhouette", [[new(0.2, 0.3, 0), new(0.2, 0.3, 1.5), new(0.2, -0.3, 1.5), new(0.2, -0.3, 0)]], Colour.Ink),
                new SceneSurface("chest sensor: just detected", SceneShapes.Cylinder(new(0.21, 0, 1.3), new(3.2, 0, 1.6), 0.01, 0.5), Colour.FromHex("4da694").WithAlpha(70)),
                new SceneSurface("blind zone: head", CellExtrusion.Solid(lateral, height, from, to), Colour.FromHex("b00000").WithAlpha(90)) { SharpEdge = Angle.FromDegrees(0) },
            ])
        {
            Cameras = [("from ahead", new(new(6, 3, 2.2), new(1, 0, 1), Angle.FromDegrees(40)))],
        };
    }
}
