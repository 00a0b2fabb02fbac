using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>An obstacle of a kind that has sizes, or one that is given by a mesh file.</summary>
/// <param name="sized">The shape of those that have sizes.</param>
internal sealed class EitherObstacleShape(ObjectShape<Obstacle> sized) : Shape<Obstacle>
{
    /// <inheritdoc/>
    internal override string Allowed => sized.Allowed;

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out Obstacle result)
    {
        if (value.Kind is JsonValueKind.Object && value.Member("kind") is { Kind: JsonValueKind.String } kind)
        {
            if (kind.Text == MeshObstacleShape.Word)
            {
                return MeshObstacleShape.One.TryRead(value, reading, out result);
            }

            if (NearestName.Of(kind.Text, [.. ObstacleShapes.Kind.Words, MeshObstacleShape.Word]) == MeshObstacleShape.Word)
            {
                reading.Fault(kind, $"kind {kind.Is}; it must be {ObstacleShapes.Kind.Allowed}, {MeshObstacleShape.Word}; did you mean {MeshObstacleShape.Word}?");
                result = null!;
                return false;
            }
        }

        return sized.TryRead(value, reading, out result);
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["oneOf"] = new JsonArray(sized.Schema(definitions), MeshObstacleShape.One.Schema(definitions)),
    };
}
