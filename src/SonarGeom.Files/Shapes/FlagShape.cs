using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>True or false.</summary>
internal sealed class FlagShape : Shape<bool>
{
    /// <inheritdoc/>
    internal override string Allowed => "true or false";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out bool result)
    {
        result = value.Kind is JsonValueKind.True;
        if (value.Kind is JsonValueKind.True or JsonValueKind.False)
        {
            return true;
        }

        reading.Refuse(value, Allowed);
        return false;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new() { ["type"] = "boolean" };
}
