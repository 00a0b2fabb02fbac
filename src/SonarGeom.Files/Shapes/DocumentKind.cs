using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Bodies;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>A kind of JSON document and what it stands for.</summary>
/// <typeparam name="T">What a document of the kind stands for.</typeparam>
internal sealed class DocumentKind<T> : IDocumentKind
    where T : class
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Describes a kind of document.</summary>
    /// <param name="name">The word for the kind.</param>
    /// <param name="catalogueFolder">The folder of the catalogue that holds documents of the kind.</param>
    /// <param name="description">What such a document says.</param>
    /// <param name="describe">Describes the members and returns how to make the result of their values.</param>
    internal DocumentKind(string name, string catalogueFolder, string description, Func<MemberSet, Func<MemberValues, T>> describe)
    {
        Name = name;
        CatalogueFolder = catalogueFolder;
        Inline = new ObjectShape<T>(name, description, describe) { Basis = this };
        Reference = new ReferenceShape<T>(this);
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public string CatalogueFolder { get; }

    /// <inheritdoc/>
    public string Extension => ".json";

    /// <summary>Gets the shape of the document itself.</summary>
    internal ObjectShape<T> Inline { get; }

    /// <summary>Gets the shape of a value that names such a document or holds it.</summary>
    internal ReferenceShape<T> Reference { get; }

    /// <summary>Reads a document and all that it refers to.</summary>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    internal T Read(DocumentLocation location, InputText? text = null) => Read(location, text, null, out _);

    /// <summary>Reads a document and all that it refers to, and tells which files those are.</summary>
    /// <param name="location">Where the document is.</param>
    /// <param name="text">Its text, if it is at hand.</param>
    /// <param name="bodyTables">The tables from which wearers are built, to check that they can be; null to leave that out.</param>
    /// <param name="sources">The files read.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    internal T Read(DocumentLocation location, InputText? text, BodyTables? bodyTables, out IReadOnlyCollection<InputText> sources)
    {
        DocumentStore store = new();
        Reading reading = new(store, bodyTables);
        T? made = null;
        if (store.OpenFirst(location, text) is { } document && Inline.TryRead(document, reading, out T read))
        {
            made = read;
        }

        store.Faults.ThrowIfAny();
        sources = store.Sources;
        return made ?? throw new InvalidInputException(location.Name, $"The {Name} cannot be read.");
    }

    /// <summary>Writes the JSON Schema (2020-12) of the kind.</summary>
    internal string SchemaText()
    {
        SchemaDefinitions definitions = new();
        JsonObject reference = Inline.Schema(definitions);
        JsonObject all = definitions.All();
        JsonObject schema = new()
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = $"SonarGeom {Name}",
            ["description"] = Inline.Description,
            ["$ref"] = reference["$ref"]!.DeepClone(),
            ["$defs"] = all,
        };
        return schema.ToJsonString(Indented) + "\n";
    }
}
