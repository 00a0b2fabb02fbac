using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>One word of a few, each standing for something.</summary>
/// <typeparam name="T">What the words stand for.</typeparam>
/// <param name="choices">The words and what they stand for, in the order in which they are to be told.</param>
internal sealed class ChoiceShape<T>(ImmutableArray<(string Word, T Meaning)> choices) : Shape<T>, ICellShape<T>
{
    /// <inheritdoc/>
    internal override string Allowed => choices.Length == 1 ? choices[0].Word : $"one of {string.Join(", ", Words)}";

    /// <summary>Gets the words.</summary>
    internal ImmutableArray<string> Words => [.. choices.Select(c => c.Word)];

    /// <inheritdoc/>
    string ICellShape<T>.AllowedInCell => Allowed;

    /// <inheritdoc/>
    public bool TryParse(string text, out T result) => TryFind(text, out result);

    /// <summary>Returns what a word stands for.</summary>
    internal bool TryFind(string word, out T meaning)
    {
        foreach ((string known, T its) in choices)
        {
            if (known == word)
            {
                meaning = its;
                return true;
            }
        }

        meaning = default!;
        return false;
    }

    /// <summary>Returns the word for a meaning.</summary>
    internal string WordOf(T meaning)
    {
        foreach ((string word, T its) in choices)
        {
            if (EqualityComparer<T>.Default.Equals(its, meaning))
            {
                return word;
            }
        }

        throw new ArgumentOutOfRangeException(nameof(meaning), $"There is no word for {meaning}.");
    }

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out T result)
    {
        if (value.Kind is JsonValueKind.String && TryFind(value.Text, out result))
        {
            return true;
        }

        result = default!;
        string near = value.Kind is JsonValueKind.String && NearestName.Of(value.Text, Words) is { } name
            ? $"; did you mean {name}?"
            : ".";
        reading.Fault(value, $"{value.Name} {value.Is}; it must be {Allowed}{near}");
        return false;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => new()
    {
        ["enum"] = new JsonArray([.. Words.Select(w => (JsonNode)w)]),
    };
}

/// <summary>Makes choices of the members of an enumeration.</summary>
internal static class ChoiceShape
{
    /// <summary>Returns the choice of all members of an enumeration, written in small letters with underscores.</summary>
    /// <param name="but">A member that has no word; null for none.</param>
    internal static ChoiceShape<T> OfEnum<T>(T? but = null)
        where T : struct, Enum =>
        new([.. Enum.GetValues<T>().Where(v => !v.Equals(but)).Select(v => (WordOf(v.ToString()), v))]);

    private static string WordOf(string member)
    {
        StringBuilder word = new();
        foreach (char c in member)
        {
            if (char.IsUpper(c) && word.Length > 0)
            {
                word.Append('_');
            }

            word.Append(char.ToLowerInvariant(c));
        }

        return word.ToString();
    }
}
