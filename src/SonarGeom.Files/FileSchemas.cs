using System.Collections.Immutable;
using SonarGeom.Files.Kinds;

namespace SonarGeom.Files;

/// <summary>A JSON Schema of one kind of file.</summary>
/// <param name="Kind">The kind of file.</param>
/// <param name="FileName">The name under which the schema is written.</param>
/// <param name="Text">The schema, JSON Schema 2020-12.</param>
public sealed record FileSchema(string Kind, string FileName, string Text);

/// <summary>The JSON Schemas of all kinds of JSON files, made from the same descriptions that the reader uses.</summary>
public static class FileSchemas
{
    /// <summary>Gets the schemas.</summary>
    public static ImmutableArray<FileSchema> All { get; } =
    [
        Of("scenario", ScenarioKind.Kind.SchemaText()),
        Of("layout", LayoutKind.Kind.SchemaText()),
        Of("transducer", TransducerKind.Kind.SchemaText()),
        Of("wearer", WearerKind.Kind.SchemaText()),
        Of("probe", ProbeKind.Kind.SchemaText()),
    ];

    private static FileSchema Of(string kind, string text) => new(kind, $"{kind}.schema.json", text);
}
