using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Meshes;
using SonarGeom.Files.Shapes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>How an obstacle that is given by a mesh file is written.</summary>
internal static class MeshObstacleShape
{
    /// <summary>The word for the kind.</summary>
    internal const string Word = "mesh";

    /// <summary>The units of mesh files.</summary>
    internal static readonly ChoiceShape<LengthUnit> Unit = new(
        [("m", LengthUnit.Metre), ("cm", LengthUnit.Centimetre), ("mm", LengthUnit.Millimetre), ("in", LengthUnit.Inch)]);

    /// <summary>The axes that may point up.</summary>
    internal static readonly ChoiceShape<MeshAxis> Up = new([("y", MeshAxis.Y), ("z", MeshAxis.Z)]);

    /// <summary>The axes along which the front may look.</summary>
    internal static readonly ChoiceShape<MeshAxis> Front = new(
        [("x", MeshAxis.X), ("-x", MeshAxis.MinusX), ("y", MeshAxis.Y), ("-y", MeshAxis.MinusY), ("z", MeshAxis.Z), ("-z", MeshAxis.MinusZ)]);

    /// <summary>How much a mesh may be enlarged.</summary>
    internal static readonly NumberShape Scale = new(0, 1000, aboveLeast: true);

    private static readonly ObjectShape<MaterialLoss> Material = new("mesh_material", "The loss of one material of a mesh.", m =>
    {
        Member<string> name = m.Required("material", new TextShape(200), "The name of the material in the mesh file.");
        Member<double> loss = m.Required("reflection_loss_db", ObstacleShapes.Loss, "Its loss at one reflection. [dB]");
        return v => new MaterialLoss(name.From(v), loss.From(v));
    });

    /// <summary>Gets the shape.</summary>
    internal static ObjectShape<Obstacle> One { get; } = new(
        "mesh_obstacle", "A thing given by a mesh file, upright at a place. Its front faces the wearer before it is turned.", Describe);

    private static Func<MemberValues, Obstacle> Describe(MemberSet m)
    {
        Member<string> id = m.Required("id", ObstacleShapes.Id, "A short name of its own.");
        m.Required("kind", new ChoiceShape<string>([(Word, Word)]), "What it is.");
        Member<string> file = m.Required("file", new TextShape(1000), "The path of the mesh, relative to this file: .obj, .gltf or .glb.");
        Member<LengthUnit> unit = m.Maybe("unit", Unit, "The unit of its coordinates; must be given for .obj, which does not state it.");
        Member<MeshAxis> up = m.Maybe("up_axis", Up, "The axis that points up; must be given for .obj, which does not state it.");
        Member<MeshAxis> front = m.Maybe("front", Front, "The axis along which its front looks; z when y is up and -y when z is up, if left out.");
        Member<double> scale = m.Optional("scale", Scale, 1, "The factor by which it is enlarged.");
        Member<double> x = m.Required("x_m", ObstacleShapes.Position, "Where the origin of the mesh is, ahead of the start. [m]");
        Member<double> y = m.Required("y_m", ObstacleShapes.Position, "Where the origin of the mesh is, to the left. [m]");
        Member<double> z = m.Optional("z_m", ObstacleShapes.Position, 0, "Where the origin of the mesh is, above the ground. [m]");
        Member<double> yaw = m.Optional("yaw_deg", ObstacleShapes.Turn, 0, "The turn about the vertical through the origin, positive left. [°]");
        Member<double> loss = m.Optional("reflection_loss_db", ObstacleShapes.Loss, 0, "The loss at one reflection of materials that are not named; 0 for hard solids. [dB]");
        Member<ImmutableArray<MaterialLoss>> materials = m.Optional(
            "materials", new ListShape<MaterialLoss>(Material, 0, 200), [], null, "The losses of materials by name.");
        Member<bool> twoSided = m.Optional("two_sided", new FlagShape(), false, "Whether its facets stand for thin sheets that answer on both sides.");
        Member<double> roughness = m.Maybe("roughness_mm", ObstacleShapes.Roughness, "The root-mean-square height of its surface; 0 when left out. [mm]");
        Member<double> speed = m.Maybe("closing_speed_m_s", ObstacleShapes.Speed, "The speed at which it closes on a wearer who stands still. [m/s]");
        Member<string> note = m.Optional("note", ObstacleShapes.Words, string.Empty, "Free text.");
        Member<string> source = m.Optional("source", ObstacleShapes.Words, string.Empty, "Where it comes from.");
        return v =>
        {
            var options = new MeshFileOptions
            {
                Unit = unit.OrNull(v),
                Up = up.OrNull(v),
                Front = front.OrNull(v),
                ScaleRatio = scale.From(v),
                ReflectionLossDecibels = loss.From(v),
                Materials = materials.From(v),
                IsTwoSided = twoSided.From(v),
            };
            return Read(v, file, options) is not { } shape
                ? null!
                : (Obstacle.OfMesh(id.From(v), new Vec3(x.From(v), y.From(v), z.From(v)), shape) with
                {
                    Yaw = Angle.FromDegrees(yaw.From(v)),
                    RoughnessRmsMetres = roughness.OrNull(v) / 1000,
                    ClosingSpeedMetresPerSecond = speed.OrNull(v),
                    Note = note.From(v),
                    Source = source.From(v),
                }).Validated();
        };
    }

    private static MeshShape? Read(MemberValues v, Member<string> file, MeshFileOptions options)
    {
        PlacedValue place = v.PlaceOf(file);
        try
        {
            if (v.Reading.Store.ReadMesh(place) is { } text)
            {
                return MeshFiles.Read(text, options, name => v.Reading.Store.ReadNeighbour(text, name));
            }

            v.Fault(file, $"{place.Name} {place.Is}; it must be the path of a file that ends in {string.Join(", ", MeshFiles.Extensions)}.");
        }
        catch (InvalidInputException e) when (e.Faults is [{ Line: null } fault])
        {
            // What the file does not state or cannot give must be mended where it is named.
            v.Fault(file, $"{place.Name} is {fault.File}. {fault.Message}");
        }
        catch (InvalidInputException e)
        {
            v.Reading.Faults.AddRange(e);
        }

        return null;
    }
}
