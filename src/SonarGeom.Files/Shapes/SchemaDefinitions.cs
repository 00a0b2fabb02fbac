using System.Text.Json.Nodes;

namespace SonarGeom.Files.Shapes;

/// <summary>The named parts of a JSON Schema, each written once and referred to by name.</summary>
internal sealed class SchemaDefinitions
{
    private readonly SortedDictionary<string, JsonObject> _definitions = new(StringComparer.Ordinal);

    /// <summary>Returns a reference to a named part, writing the part when it is first asked for.</summary>
    internal JsonObject Reference(string name, Func<JsonObject> write)
    {
        if (!_definitions.ContainsKey(name))
        {
            _definitions[name] = [];
            _definitions[name] = write();
        }

        return new JsonObject { ["$ref"] = $"#/$defs/{name}" };
    }

    /// <summary>Returns all parts written so far.</summary>
    internal JsonObject All()
    {
        JsonObject all = [];
        foreach ((string name, JsonObject definition) in _definitions)
        {
            all[name] = definition;
        }

        return all;
    }
}
