using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>One word of a few, or an object that says it in full.</summary>
/// <typeparam name="T">What either stands for.</typeparam>
internal sealed class WordOrObjectShape<T>(ChoiceShape<T> words, ObjectShape<T> full) : Shape<T>
{
    /// <inheritdoc/>
    internal override string Allowed => $"{words.Allowed}, or {full.Allowed}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out T result)
    {
        switch (value.Kind)
        {
            case JsonValueKind.Object:
                return full.TryRead(value, reading, out result);
            case JsonValueKind.String:
                return words.TryRead(value, reading, out result);
            default:
                result = default!;
                reading.Refuse(value, Allowed);
                return false;
        }
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["anyOf"] = new JsonArray(words.Schema(definitions), full.Schema(definitions)),
    };
}
