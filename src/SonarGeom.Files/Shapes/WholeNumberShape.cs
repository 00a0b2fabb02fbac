using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A whole number within a range.</summary>
/// <param name="least">The least allowed.</param>
/// <param name="most">The most allowed.</param>
internal sealed class WholeNumberShape(int least, int most) : Shape<int>
{
    /// <inheritdoc/>
    internal override string Allowed => $"a whole number from {least} to {most}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out int result)
    {
        result = 0;
        if (value.Kind is not JsonValueKind.Number
            || !double.TryParse(value.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            || Math.Floor(number) != number
            || !(number >= least && number <= most))
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        result = (int)number;
        return true;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["type"] = "integer",
        ["minimum"] = least,
        ["maximum"] = most,
    };
}
