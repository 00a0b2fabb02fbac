using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A text of limited length, without control characters unless it is free text.</summary>
/// <param name="most">The most characters allowed.</param>
/// <param name="mayBeEmpty">Whether the empty text is allowed.</param>
internal sealed class TextShape(int most, bool mayBeEmpty = false) : Shape<string>, ICellShape<string>
{
    /// <inheritdoc/>
    internal override string Allowed => mayBeEmpty ? $"a text of at most {most} characters" : $"a text of 1 to {most} characters, not blank";

    /// <inheritdoc/>
    string ICellShape<string>.AllowedInCell => Allowed;

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out string result)
    {
        result = value.Text;
        if (value.Kind is not JsonValueKind.String)
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        if (HoldsControl(result))
        {
            reading.Fault(value, $"{value.Name} holds a control character; it must be {Allowed}.");
            return false;
        }

        if (result.Length > most || (!mayBeEmpty && string.IsNullOrWhiteSpace(result)))
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        return true;
    }

    /// <inheritdoc/>
    public bool TryParse(string text, out string result)
    {
        result = text;
        return text.Length <= most && !HoldsControl(text);
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions)
    {
        JsonObject schema = new() { ["type"] = "string", ["maxLength"] = most };
        if (!mayBeEmpty)
        {
            schema["minLength"] = 1;
            schema["pattern"] = @"\S";
        }

        return schema;
    }

    // Free text may run over lines; names and ids stand in sentences and tables.
    private bool HoldsControl(string text) =>
        text.Any(c => char.IsControl(c) && !(mayBeEmpty && (c is '\n' or '\t' or '\r')));
}
