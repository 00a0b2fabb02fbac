using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Scenes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The animated scene of one stride: the wearer with the sensors, on ground that goes by.</summary>
internal static class StrideScene
{
    private const double TileMetres = 0.5;
    private const int Tiles = 6;

    private static readonly Colour Skin = Colour.FromHex("b9a58f");
    private static readonly Colour Clothes = Colour.FromHex("8a8f99");
    private static readonly Colour CaneColour = Colour.FromHex("615511");
    private static readonly Colour Axis = Colour.FromHex("a83187");
    private static readonly Colour GroundLine = Colour.FromHex("9a9a9a");

    /// <summary>Returns the scene.</summary>
    internal static SceneDocument Of(StrideStudy stride, SensorLayout? layout)
    {
        double[] seconds = [.. Enumerable.Range(0, stride.Poses.Length + 1).Select(i => stride.Motion.StrideSeconds * i / stride.Poses.Length)];
        PosedBody[] poses = [.. stride.Poses, stride.Poses[0]];
        Body body = stride.Motion.Body;
        return new SceneDocument(
            $"a stride of {body.Spec.Name}",
            [
                SceneShapes.ScaleBar(new(0.5, -1, 0)),
                new SceneMotion("ground", new SceneLines("ground lines", Lines(), GroundLine), [.. seconds.Select(s => new SceneKey(s, Gone(stride, s)))]),
                new SceneGroup($"wearer: {body.Spec.Name}", [.. body.Segments.Select(part => (SceneItem)new SceneMotion(
                    Words.Of(part.Id), new SceneSurface($"{Words.Of(part.Id)}: surface", part.Surface, ColourOf(part.Id)), Keys(t => poses[t].WorldFromSegment(part.Id))))]),
                new SceneGroup("sensors", [.. (layout?.Sensors ?? []).Select(sensor => (SceneItem)Sensor(sensor))]),
            ])
        {
            MotionName = "one stride",
            Cameras =
            [
                ("from the right", new(new(0.2, -4, 1.1), new(0.2, 0, 0.9), Angle.FromDegrees(40))),
                ("from ahead, left", new(new(3.2, 2, 1.6), new(0.2, 0, 0.9), Angle.FromDegrees(40))),
            ],
        };

        ImmutableArray<SceneKey> Keys(Func<int, RigidTransform> at) => [.. seconds.Select((s, t) => new SceneKey(s, at(t)))];

        SceneMotion Sensor(SensorPlacement placement)
        {
            SegmentId carrier = body.Site(placement.Mount.Site).Segment;
            RigidTransform segmentFromSensor = Mounter.SegmentFromSensor(body, placement.Mount);
            return new SceneMotion(
                placement.Name,
                new SceneGroup($"{placement.Name}: parts",
                [
                    new SceneSurface($"{placement.Name}: body", SceneShapes.Cylinder(-0.015 * Vec3.UnitX, Vec3.Zero, 0.012), Colour.Ink),
                    new SceneSurface($"{placement.Name}: boresight", SceneShapes.Arrow(Vec3.Zero, 0.45 * Vec3.UnitX, 0.005), Axis),
                ]),
                Keys(t => poses[t].WorldFromSegment(carrier) * Mounter.Swayed(segmentFromSensor, placement.Mount, (double)t / stride.Poses.Length)));
        }
    }

    // Lines across and along, of which enough are behind that the ground can go by for a stride.
    private static ImmutableArray<ImmutableArray<Vec3>> Lines() =>
    [
        .. Enumerable.Range(-Tiles, (3 * Tiles) + 1).Select(i => ImmutableArray.Create(new Vec3(i * TileMetres, -1, 0), new Vec3(i * TileMetres, 1, 0))),
        .. Enumerable.Range(-2, 5).Select(i => ImmutableArray.Create(new Vec3(-Tiles * TileMetres, i * TileMetres, 0), new Vec3(2 * Tiles * TileMetres, i * TileMetres, 0))),
    ];

    private static RigidTransform Gone(StrideStudy stride, double seconds) => new(Rotation.Identity, new Vec3(-stride.Motion.SpeedMetresPerSecond * seconds, 0, 0));

    private static Colour ColourOf(SegmentId id) => id switch
    {
        SegmentId.Cane => CaneColour,
        SegmentId.Head or SegmentId.Neck or SegmentId.HandLeft or SegmentId.HandRight => Skin,
        _ => Clothes,
    };
}
