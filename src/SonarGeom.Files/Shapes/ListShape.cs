using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A list of values of one shape.</summary>
/// <typeparam name="T">What each value stands for.</typeparam>
/// <param name="item">The shape of each value.</param>
/// <param name="fewest">The fewest values allowed.</param>
/// <param name="most">The most values allowed.</param>
internal sealed class ListShape<T>(Shape<T> item, int fewest, int most) : Shape<ImmutableArray<T>>
{
    /// <inheritdoc/>
    internal override string Allowed => fewest == most
        ? $"a list of {most} values, each {item.Allowed}"
        : $"a list of {fewest} to {most} values, each {item.Allowed}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out ImmutableArray<T> result)
    {
        result = [];
        if (value.Kind is not JsonValueKind.Array)
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        if (value.Items.Length < fewest || value.Items.Length > most)
        {
            string count = fewest == most ? $"{most}" : $"from {fewest} to {most}";
            reading.Fault(value, $"{value.Name} has {value.Items.Length} values; it must have {count}.");
            return false;
        }

        ImmutableArray<T>.Builder all = ImmutableArray.CreateBuilder<T>(value.Items.Length);
        bool good = true;
        foreach (PlacedValue one in value.Items)
        {
            good &= item.TryRead(one, reading, out T read);
            all.Add(read);
        }

        result = all.MoveToImmutable();
        return good;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["type"] = "array",
        ["minItems"] = fewest,
        ["maxItems"] = most,
        ["items"] = item.Schema(definitions),
    };
}
