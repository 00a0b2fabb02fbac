using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using SonarGeom.Files.Catalogue;

namespace SonarGeom.Files.Tests;

/// <summary>The published schemas, judged by an independent validator.</summary>
public sealed class SchemaTests
{
    private static readonly JsonDocumentOptions Lenient = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    private static readonly Dictionary<string, JsonSchema> Schemas =
        FileSchemas.All.ToDictionary(s => s.Kind, s => JsonSchema.FromText(s.Text));

    public static TheoryData<string> Kinds => [.. FileSchemas.All.Select(s => s.Kind)];

    public static TheoryData<string> ShippedFiles => [.. CatalogueResources.All.Where(n => n.EndsWith(".json", StringComparison.Ordinal) && !n.StartsWith("bodies/", StringComparison.Ordinal))];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void EachSchemaIsASchemaOfItsDraft(string kind)
    {
        using JsonDocument schema = JsonDocument.Parse(TextOf(kind));
        Assert.True(MetaSchemas.Draft202012.Evaluate(schema.RootElement).IsValid);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void EachObjectOfASchemaDescribesItsMembersAndRefusesOthers(string kind)
    {
        JsonObject definitions = JsonNode.Parse(TextOf(kind))!["$defs"]!.AsObject();
        Assert.NotEmpty(definitions);
        foreach ((string name, JsonNode? definition) in definitions)
        {
            Assert.False((bool)definition!["additionalProperties"]!, name);
            Assert.False(string.IsNullOrWhiteSpace((string?)definition["description"]), name);
            foreach ((string member, JsonNode? schema) in definition["properties"]!.AsObject())
            {
                Assert.False(string.IsNullOrWhiteSpace((string?)schema!["description"]), $"{name}.{member}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(ShippedFiles))]
    public void EveryShippedFileFitsItsSchema(string file)
    {
        string kind = file.Split('/')[0].TrimEnd('s');
        Assert.True(Fits(kind, System.Text.Encoding.UTF8.GetString(CatalogueResources.Find(file)!)), file);
    }

    [Theory]
    [InlineData("probe", """{ "name": "a", "shape": "sphere", "diameter_m": 0.1 }""", true)]
    [InlineData("probe", """{ "name": "a", "shape": "sphere", "diameter_m": 0 }""", false)]
    [InlineData("probe", """{ "name": "a", "shape": "cube" }""", false)]
    [InlineData("probe", """{ "shape": "sphere", "diameter_m": 0.1 }""", false)]
    [InlineData("probe", """{ "based_on": "sphere-100mm", "diameter_m": 0.2 }""", true)]
    [InlineData("probe", """{ "name": "a", "shape": "sphere", "colour": 3 }""", false)]
    [InlineData("wearer", """{ "name": "a", "stature_m": 1.7, "waist_girth_m": 0.9 }""", true)]
    [InlineData("wearer", """{ "name": "a", "stature_m": 1.7, "stature_percentile": 50 }""", false)]
    [InlineData("wearer", """{ "name": "a", "stature_m": 17 }""", false)]
    [InlineData("wearer", """{ "name": "a", "posture": "bent" }""", false)]
    [InlineData("wearer", """{ "name": "a", "posture": { "head_down_deg": 15 } }""", true)]
    [InlineData("transducer", """{ "based_on": "swift-narrow-40", "burst_cycles": 2.5 }""", false)]
    [InlineData("transducer", """{ "based_on": "swift-narrow-40", "claims": [], "name": "x" }""", false)]
    [InlineData("layout", """{ "name": "a", "firing": { "cycle_ms": 60 }, "sensors": [] }""", false)]
    public void SchemasRefuseWhatTheReaderRefuses(string kind, string text, bool fits)
    {
        Assert.Equal(fits, Fits(kind, text));
        Assert.Equal(fits, FuzzTests.IsRead(kind, text));
    }

    internal static bool Fits(string kind, string text)
    {
        using JsonDocument document = JsonDocument.Parse(text, Lenient);
        return Schemas[kind].Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.Flag }).IsValid;
    }

    private static string TextOf(string kind) => FileSchemas.All.Single(s => s.Kind == kind).Text;
}
