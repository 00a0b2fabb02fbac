using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>Obstacles as the name of a set in the catalogue, the path of a table, or a list in place.</summary>
internal sealed class ObstacleListShape : Shape<ImmutableArray<Obstacle>>
{
    /// <summary>The kind of table.</summary>
    internal static readonly TableKind Table = new("set of obstacles", "obstacles");

    private static readonly ObjectShape<Obstacle> One = new("obstacle", "An obstacle at a pose. It faces the wearer; X is ahead of the wearer's start, Y left, Z up.", Describe);

    private static readonly ListShape<Obstacle> Inline = new(new EitherObstacleShape(One), 1, 10_000);

    /// <inheritdoc/>
    internal override string Allowed => "the name of a set of obstacles of the catalogue, the path of a table (CSV), or a list of obstacles";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out ImmutableArray<Obstacle> result)
    {
        int before = reading.Faults.Count;
        result = [];
        switch (value.Kind)
        {
            case JsonValueKind.String:
                if (reading.Store.ReadReferenced(value, Table, reading) is { } text)
                {
                    result = ObstacleTable.Read(text, reading.Store, reading.Faults);
                }

                return reading.Faults.Count == before && !result.IsEmpty;
            case JsonValueKind.Array:
                return Inline.TryRead(value, reading, out result) && NamesDiffer(value, result, reading);
            default:
                reading.Refuse(value, Allowed);
                return false;
        }
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["anyOf"] = new JsonArray(
            new JsonObject
            {
                ["type"] = "string",
                ["minLength"] = 1,
                ["description"] = "The name of a set of obstacles of the catalogue, or the path of a table (CSV) relative to this file.",
            },
            Inline.Schema(definitions)),
    };

    private static bool NamesDiffer(PlacedValue value, ImmutableArray<Obstacle> obstacles, Reading reading)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        bool good = true;
        for (int i = 0; i < obstacles.Length; i++)
        {
            if (!seen.Add(obstacles[i].Id))
            {
                reading.Fault(value.Items[i], $"id is {obstacles[i].Id}, as of an obstacle before it; each must have its own.");
                good = false;
            }
        }

        return good;
    }

    private static Func<MemberValues, Obstacle> Describe(MemberSet m)
    {
        Member<string> id = m.Required("id", ObstacleShapes.Id, "A short name of its own.");
        Member<ObstacleKind> kind = m.Required("kind", ObstacleShapes.Kind, "What it is.");
        Member<double> x = m.Required("x_m", ObstacleShapes.Position, "Where its reference point is, ahead of the start. [m]");
        Member<double> y = m.Required("y_m", ObstacleShapes.Position, "Where its reference point is, to the left. [m]");
        Member<double> z = m.Optional("z_m", ObstacleShapes.Position, 0, "Where its reference point is, above the ground. [m]");
        Member<double> yaw = m.Optional("yaw_deg", ObstacleShapes.Turn, 0, "The turn about the vertical, positive left. [°]");
        Member<double> pitch = m.Optional("pitch_deg", ObstacleShapes.Turn, 0, "The rise of its axis that points away from the wearer. [°]");
        Member<double> roll = m.Optional("roll_deg", ObstacleShapes.Turn, 0, "The right-handed turn about that axis; raises the left end of a level bar. [°]");
        Dictionary<string, Member<double>> sizes = new(StringComparer.Ordinal)
        {
            [ObstacleRules.Length] = m.Maybe(ObstacleRules.Length, ObstacleShapes.Size, "The length of a bar, chain, kerb or step, across the path. [m]"),
            [ObstacleRules.Width] = m.Maybe(ObstacleRules.Width, ObstacleShapes.Size, "The size from left to right. [m]"),
            [ObstacleRules.Height] = m.Maybe(ObstacleRules.Height, ObstacleShapes.Size, "The size from bottom to top. [m]"),
            [ObstacleRules.Depth] = m.Maybe(ObstacleRules.Depth, ObstacleShapes.Size, "The size from front to back. [m]"),
            [ObstacleRules.Diameter] = m.Maybe(ObstacleRules.Diameter, ObstacleShapes.Size, "The diameter of what is round, or of a rounded lip. [m]"),
            [ObstacleRules.CapRise] = m.Maybe(ObstacleRules.CapRise, ObstacleShapes.Size, "The rise of a domed or chamfered cap. [m]"),
            [ObstacleRules.Sag] = m.Maybe(ObstacleRules.Sag, ObstacleShapes.SizeOrNone, "How far the middle of a chain hangs below its ends. [m]"),
            [ObstacleRules.Riser] = m.Maybe(ObstacleRules.Riser, ObstacleShapes.Size, "The rise of one step of a stair. [m]"),
            [ObstacleRules.LeafRadius] = m.Maybe(ObstacleRules.LeafRadius, ObstacleShapes.LeafRadius, "The radius of a leaf of foliage, a disc of the area of a leaf. [mm]"),
            [ObstacleRules.Leaves] = m.Maybe(ObstacleRules.Leaves, ObstacleShapes.Leaves, "The number of leaves in a cubic metre of foliage. [1/m³]"),
            [ObstacleRules.Going] = m.Maybe(ObstacleRules.Going, ObstacleShapes.Size, "The going of one step of a stair. [m]"),
        };
        Member<CapShape> cap = m.Maybe(ObstacleRules.Cap, ObstacleShapes.Cap, "The top of a bollard; flat when left out.");
        Member<int> steps = m.Maybe(ObstacleRules.Steps, ObstacleShapes.Steps, "The number of steps of a stair.");
        Member<FoliageForm> form = m.Maybe(ObstacleRules.Form, ObstacleShapes.Form, "The shape that the leaves of foliage fill: a bush or crown is an ellipsoid, a clipped hedge a box.");
        Member<double> loss = m.Optional("reflection_loss_db", ObstacleShapes.Loss, 0, "The loss of the material at one reflection; 0 for hard solids. [dB]");
        Member<double> roughness = m.Maybe("roughness_mm", ObstacleShapes.Roughness, "The root-mean-square height of its surface; by kind when left out. [mm]");
        Member<double> speed = m.Maybe("closing_speed_m_s", ObstacleShapes.Speed, "The speed at which it closes on a wearer who stands still. [m/s]");
        Member<string> note = m.Optional("note", ObstacleShapes.Words, string.Empty, "Free text.");
        Member<string> source = m.Optional("source", ObstacleShapes.Words, string.Empty, "Where its sizes come from.");
        return v =>
        {
            ObstacleKind what = kind.From(v);
            Member MemberOf(string size) => size is ObstacleRules.Cap ? cap : size is ObstacleRules.Steps ? steps : size is ObstacleRules.Form ? form : sizes[size];
            bool good = true;
            ObstacleRules.Check(what, ObstacleShapes.Kind.WordOf(what), size => v.Has(MemberOf(size)), (size, message) =>
            {
                v.Fault(MemberOf(size), message);
                good = false;
            });
            double? Size(string size) => sizes[size].OrNull(v);
            ObstacleDraft draft = new(id.From(v), what, new Vec3(x.From(v), y.From(v), z.From(v)))
            {
                YawDegrees = yaw.From(v),
                PitchDegrees = pitch.From(v),
                RollDegrees = roll.From(v),
                LengthMetres = Size(ObstacleRules.Length),
                WidthMetres = Size(ObstacleRules.Width),
                HeightMetres = Size(ObstacleRules.Height),
                DepthMetres = Size(ObstacleRules.Depth),
                DiameterMetres = Size(ObstacleRules.Diameter),
                Cap = cap.OrNull(v),
                CapRiseMetres = Size(ObstacleRules.CapRise),
                SagMetres = Size(ObstacleRules.Sag),
                RiserMetres = Size(ObstacleRules.Riser),
                GoingMetres = Size(ObstacleRules.Going),
                Steps = steps.OrNull(v),
                Form = form.OrNull(v),
                LeafRadiusMillimetres = Size(ObstacleRules.LeafRadius),
                LeavesPerCubicMetre = Size(ObstacleRules.Leaves),
                ReflectionLossDecibels = loss.From(v),
                RoughnessMillimetres = roughness.OrNull(v),
                ClosingSpeedMetresPerSecond = speed.OrNull(v),
                Note = note.From(v),
                Source = source.From(v),
            };
            return good ? draft.Make() : null!;
        };
    }
}
