using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A document named by its catalogue name or its path, or written in place.</summary>
/// <typeparam name="T">What the document stands for.</typeparam>
/// <param name="kind">The kind of document.</param>
internal sealed class ReferenceShape<T>(DocumentKind<T> kind) : Shape<T>
    where T : class
{
    /// <inheritdoc/>
    internal override string Allowed => $"the name of a {kind.Name} of the catalogue, the path of a {kind.Name} file, or {kind.Inline.Allowed}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out T result)
    {
        result = null!;
        switch (value.Kind)
        {
            case JsonValueKind.Object:
                return kind.Inline.TryRead(value, reading, out result);
            case JsonValueKind.String:
                return TryReadReferenced(value, reading, out result);
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
                ["description"] = $"The name of a {kind.Name} of the catalogue, or the path of a file relative to this one.",
            },
            kind.Inline.Schema(definitions)),
    };

    private bool TryReadReferenced(PlacedValue value, Reading reading, out T result)
    {
        result = null!;
        if (reading.Store.OpenReferenced(value, kind, reading) is not { } document)
        {
            return false;
        }

        try
        {
            if (!reading.Store.TryGetMade(kind, document.Source, out T? made))
            {
                made = kind.Inline.TryRead(document, reading, out T read) ? read : null;
                reading.Store.KeepMade(kind, document.Source, made);
            }

            result = made!;
            return made is not null;
        }
        finally
        {
            reading.Store.Close();
        }
    }
}
