using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A whole number within a range.</summary>
/// <param name="least">The least allowed.</param>
/// <param name="most">The most allowed.</param>
internal sealed class WholeNumberShape(int least, int most) : Shape<int>, ICellShape<int>
{
    /// <inheritdoc/>
    internal override string Allowed => $"a whole number from {least} to {most}";

    /// <inheritdoc/>
    string ICellShape<int>.AllowedInCell => Allowed;

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out int result)
    {
        result = 0;
        if (value.Kind is JsonValueKind.Number && TryParse(value.Text, out result))
        {
            return true;
        }

        reading.Refuse(value, Allowed);
        return false;
    }

    /// <inheritdoc/>
    public bool TryParse(string text, out int result)
    {
        bool good = NumberShape.TryParseFinite(text, out double number) && Math.Floor(number) == number && number >= least && number <= most;
        result = good ? (int)number : 0;
        return good;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["type"] = "integer",
        ["minimum"] = least,
        ["maximum"] = most,
    };
}
