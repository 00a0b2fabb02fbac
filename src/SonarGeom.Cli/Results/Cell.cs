using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace SonarGeom.Cli.Results;

/// <summary>
/// One value of a result, rounded once, so that text, CSV and JSON show the same: a number with its decimals, text, a truth, a list of
/// names, or nothing.
/// </summary>
internal readonly struct Cell
{
    private readonly object? _value;
    private readonly int _decimals;

    private Cell(object? value, int decimals = 0)
    {
        _value = value;
        _decimals = decimals;
    }

    /// <summary>Gets whether the value is a number, which tables set to the right.</summary>
    internal bool IsNumber => _value is double or int;

    /// <summary>A number with fixed decimals; NaN and infinities are nothing.</summary>
    internal static Cell Of(double value, int decimals) =>
        double.IsFinite(value) ? new Cell(Rounded(value, decimals), decimals) : default;

    /// <summary>A number that may be missing.</summary>
    internal static Cell Of(double? value, int decimals) => value is { } number ? Of(number, decimals) : default;

    /// <summary>A whole number.</summary>
    internal static Cell Of(int value) => new(value);

    /// <summary>Text; empty text is nothing.</summary>
    internal static Cell Of(string? text) => new(string.IsNullOrEmpty(text) ? null : text);

    /// <summary>A truth.</summary>
    internal static Cell Of(bool value) => new(value);

    /// <summary>A list of names.</summary>
    internal static Cell Of(ImmutableArray<string> names) => new(names);

    /// <summary>Writes the value for people.</summary>
    internal string ToText() => _value switch
    {
        null => "–",
        double number => number.ToString("F" + _decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture),
        int whole => whole.ToString(CultureInfo.InvariantCulture),
        bool truth => truth ? "yes" : "no",
        ImmutableArray<string> names => names.IsEmpty ? "none" : string.Join(", ", names),
        _ => (string)_value,
    };

    /// <summary>Writes the value for a comma-separated table; nothing is an empty cell.</summary>
    internal string ToCsv() => _value switch
    {
        null => string.Empty,
        bool truth => truth ? "true" : "false",
        ImmutableArray<string> names => string.Join("; ", names),
        _ => ToText(),
    };

    /// <summary>Writes the value as JSON; nothing is null.</summary>
    internal void Write(Utf8JsonWriter json)
    {
        switch (_value)
        {
            case null:
                json.WriteNullValue();
                break;
            case double number:
                json.WriteNumberValue(number);
                break;
            case int whole:
                json.WriteNumberValue(whole);
                break;
            case bool truth:
                json.WriteBooleanValue(truth);
                break;
            case ImmutableArray<string> names:
                json.WriteStartArray();
                foreach (string name in names)
                {
                    json.WriteStringValue(name);
                }

                json.WriteEndArray();
                break;
            default:
                json.WriteStringValue((string)_value);
                break;
        }
    }

    // A negative zero would show a sign that means nothing.
    private static double Rounded(double value, int decimals) => Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0;
}
