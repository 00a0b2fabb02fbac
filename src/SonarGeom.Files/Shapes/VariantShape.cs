using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>An object of one of several kinds, told by its member <c>kind</c>.</summary>
/// <typeparam name="T">What the object stands for.</typeparam>
/// <param name="what">What the object describes, for a sentence.</param>
/// <param name="variants">The kinds; each must itself have a member <c>kind</c> of one word, see <see cref="Variant"/>.</param>
internal sealed class VariantShape<T>(string what, ImmutableArray<(string Word, ObjectShape<T> Shape)> variants) : Shape<T>
{
    /// <inheritdoc/>
    internal override string Allowed => $"an object {{…}} that describes {what}, of kind {string.Join(", ", variants.Select(v => v.Word))}";

    /// <summary>Describes one kind, with its member <c>kind</c>.</summary>
    /// <param name="family">A word before the kind in the schema, so that two families may have kinds of one word.</param>
    /// <param name="word">The kind.</param>
    /// <param name="description">What the object says.</param>
    /// <param name="describe">Describes the other members.</param>
    internal static (string Word, ObjectShape<T> Shape) Variant(string family, string word, string description, Func<MemberSet, Func<MemberValues, T>> describe) =>
        (word, new ObjectShape<T>($"{family}_{word}", description, m =>
        {
            m.Required("kind", new ChoiceShape<string>([(word, word)]), "The kind of object.");
            return describe(m);
        }));

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out T result)
    {
        result = default!;
        if (value.Kind is not JsonValueKind.Object)
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        string[] words = [.. variants.Select(v => v.Word)];
        if (value.Member("kind") is not { } kind)
        {
            reading.Fault(value, $"kind is missing in {value.Name}; it must be one of {string.Join(", ", words)}.");
            return false;
        }

        foreach ((string word, ObjectShape<T> shape) in variants)
        {
            if (kind.Kind is JsonValueKind.String && kind.Text == word)
            {
                return shape.TryRead(value, reading, out result);
            }
        }

        string near = kind.Kind is JsonValueKind.String && NearestName.Of(kind.Text, words) is { } name ? $"; did you mean {name}?" : ".";
        reading.Fault(kind, $"kind {kind.Is}; it must be one of {string.Join(", ", words)}{near}");
        return false;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["oneOf"] = new JsonArray([.. variants.Select(v => (JsonNode)v.Shape.Schema(definitions))]),
    };
}
