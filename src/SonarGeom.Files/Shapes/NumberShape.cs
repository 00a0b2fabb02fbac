using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A finite number within a range.</summary>
/// <param name="least">The least allowed.</param>
/// <param name="most">The most allowed.</param>
/// <param name="aboveLeast">Whether the least itself is refused.</param>
internal sealed class NumberShape(double least, double most, bool aboveLeast = false) : Shape<double>, ICellShape<double>
{
    /// <inheritdoc/>
    internal override string Allowed => $"a number {Range}";

    /// <inheritdoc/>
    string ICellShape<double>.AllowedInCell => Allowed;

    private string Range => aboveLeast
        ? $"above {Digits(least)} and at most {Digits(most)}"
        : $"from {Digits(least)} to {Digits(most)}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out double result)
    {
        result = 0;
        if (value.Kind is not JsonValueKind.Number)
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        if (!TryParse(value.Text, out result))
        {
            reading.Refuse(value, Range);
            return false;
        }

        return true;
    }

    /// <inheritdoc/>
    public bool TryParse(string text, out double result) =>
        TryParseFinite(text, out result) && (aboveLeast ? result > least : result >= least) && result <= most;

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["type"] = "number",
        [aboveLeast ? "exclusiveMinimum" : "minimum"] = least,
        ["maximum"] = most,
    };

    /// <summary>Reads a finite number with a point for decimals; thousands separators, blanks and words are refused.</summary>
    internal static bool TryParseFinite(string text, out double result) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out result)
        && double.IsFinite(result);

    /// <summary>Writes a number for a sentence.</summary>
    internal static string Digits(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
