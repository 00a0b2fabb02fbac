using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Documents;

/// <summary>Parses JSON text, with comments and trailing commas, into values that know where they stand.</summary>
internal static class JsonParser
{
    /// <summary>The most values one document may hold.</summary>
    internal const int MostValues = 1_000_000;

    private const int DeepestNesting = 64;

    /// <summary>Parses a document; members given twice are added to the faults.</summary>
    /// <exception cref="InvalidInputException">The text is not JSON.</exception>
    internal static PlacedValue Parse(InputText text, FaultList faults)
    {
        Utf8JsonReader reader = new(text.Utf8.Span, new JsonReaderOptions
        {
            CommentHandling = JsonCommentHandling.Skip,
            AllowTrailingCommas = true,
            MaxDepth = DeepestNesting,
        });
        Stack<Open> open = new();
        try
        {
            PlacedValue root = Values(ref reader, text, faults, open);
            return root;
        }
        catch (JsonException e)
        {
            throw NotJson(text, e, ref reader, open);
        }
        catch (InvalidOperationException)
        {
            // The reader refuses escapes such as \ud800 that stand for half a character.
            throw At(text, (int)reader.TokenStartIndex, PathOf(open), "The text holds an escape for half a character; write the character itself in UTF-8.");
        }
    }

    private static PlacedValue Values(ref Utf8JsonReader reader, InputText text, FaultList faults, Stack<Open> open)
    {
        PlacedValue? root = null;
        int count = 0;
        string? name = null;
        while (reader.Read())
        {
            int offset = (int)reader.TokenStartIndex;
            switch (reader.TokenType)
            {
                case JsonTokenType.PropertyName:
                    name = reader.GetString();
                    open.Peek().Pending = name;
                    continue;
                case JsonTokenType.EndObject or JsonTokenType.EndArray:
                    open.Pop().Close();
                    continue;
            }

            if (++count > MostValues)
            {
                throw At(text, offset, null, $"The document holds more than {MostValues:#\\ ###\\ ###} values; no larger one is read.");
            }

            open.TryPeek(out Open? holder);
            PlacedValue value = new(text, KindOf(reader.TokenType), offset, holder?.Value, name, holder?.Values.Count ?? 0);
            name = null;
            if (reader.TokenType is JsonTokenType.String)
            {
                value.Text = reader.GetString() ?? string.Empty;
            }
            else if (reader.TokenType is JsonTokenType.Number)
            {
                value.Text = Encoding.UTF8.GetString(reader.ValueSpan);
            }

            if (holder is null)
            {
                root = value;
            }
            else
            {
                holder.Add(value, faults);
            }

            if (reader.TokenType is JsonTokenType.StartObject or JsonTokenType.StartArray)
            {
                open.Push(new Open(value));
            }
        }

        return root ?? throw At(text, 0, null, "The file holds no value, only comments or blanks; it must hold a JSON object.");
    }

    private static JsonValueKind KindOf(JsonTokenType token) => token switch
    {
        JsonTokenType.StartObject => JsonValueKind.Object,
        JsonTokenType.StartArray => JsonValueKind.Array,
        JsonTokenType.String => JsonValueKind.String,
        JsonTokenType.Number => JsonValueKind.Number,
        JsonTokenType.True => JsonValueKind.True,
        JsonTokenType.False => JsonValueKind.False,
        _ => JsonValueKind.Null,
    };

    private static InvalidInputException NotJson(InputText text, JsonException e, ref Utf8JsonReader reader, Stack<Open> open)
    {
        ReadOnlySpan<byte> body = text.Utf8.Span;
        int offset = OffsetOf(text, e);
        ReadOnlySpan<byte> rest = body[Math.Min(offset, body.Length)..];
        string? field = PathOf(open);
        string subject = open.TryPeek(out Open? holder) ? holder.Pending ?? holder.Value.Name : "the document";
        if (reader.TokenType is JsonTokenType.None && rest.IsEmpty)
        {
            return At(text, 0, null, "The file holds no value, only comments or blanks; it must hold a JSON object.");
        }

        if (rest.TrimStart(" \t\r\n"u8).IsEmpty)
        {
            string unclosed = open.TryPeek(out Open? innermost)
                ? $"the {(innermost.Value.Kind is JsonValueKind.Object ? "object" : "list")} begun in line {text.PlaceOf(innermost.Value.Offset).Line} is not closed"
                : "its one value is not complete";
            return At(text, body.TrimEnd(" \t\r\n"u8).Length, field, $"The file ends too early: {unclosed}; is the file cut off?");
        }

        // The reader may point behind the sign of -Infinity or the first letters of nan.
        ReadOnlySpan<byte> word = Word(body, offset);
        if (NotANumber(word) is { } wrong)
        {
            return At(text, offset, field, $"{subject} is {wrong}; it must be a finite number.");
        }

        if (open.Count >= DeepestNesting && word is [(byte)'{' or (byte)'[', ..])
        {
            return At(text, offset, field, $"Objects and lists are nested deeper than {DeepestNesting} here; no deeper nesting is read.");
        }

        return At(text, offset, field, "This is not JSON here: something else than what belongs in this place; look for a comma, colon, quotation mark or bracket that is missing or too many just before it.");
    }

    private static string? NotANumber(ReadOnlySpan<byte> word)
    {
        string text = Encoding.UTF8.GetString(word[..Math.Min(word.Length, 12)]);
        string plain = text.TrimStart('-', '+').ToLowerInvariant();
        return plain is "nan" or "inf" or "infinity" ? text : null;
    }

    private static ReadOnlySpan<byte> Word(ReadOnlySpan<byte> body, int offset)
    {
        int start = offset;
        while (start > 0 && char.IsAsciiLetter((char)body[start - 1]))
        {
            start--;
        }

        if (start > 0 && body[start - 1] is (byte)'-' or (byte)'+')
        {
            start--;
        }

        int end = Math.Min(offset + 1, body.Length);
        while (end < body.Length && char.IsAsciiLetter((char)body[end]))
        {
            end++;
        }

        return body[start..end];
    }

    private static int OffsetOf(InputText text, JsonException e)
    {
        ReadOnlySpan<byte> body = text.Utf8.Span;
        int offset = 0;
        for (long line = e.LineNumber ?? 0; line > 0; line--)
        {
            int feed = body[offset..].IndexOf((byte)'\n');
            if (feed < 0)
            {
                break;
            }

            offset += feed + 1;
        }

        return (int)Math.Min(offset + (e.BytePositionInLine ?? 0), body.Length);
    }

    private static string? PathOf(Stack<Open> open)
    {
        if (!open.TryPeek(out Open? holder))
        {
            return null;
        }

        string? path = holder.Value.Path;
        return holder.Pending is null ? path : path is null ? holder.Pending : $"{path}.{holder.Pending}";
    }

    private static InvalidInputException At(InputText text, int offset, string? field, string message)
    {
        (int line, int column) = text.PlaceOf(offset);
        return new InvalidInputException(new Fault(text.Name, line, column, field, message));
    }

    private sealed class Open(PlacedValue value)
    {
        private readonly Dictionary<string, PlacedValue> _byName = new(StringComparer.Ordinal);

        internal PlacedValue Value { get; } = value;

        internal List<PlacedValue> Values { get; } = [];

        internal string? Pending { get; set; }

        internal void Add(PlacedValue child, FaultList faults)
        {
            Pending = null;
            if (child.MemberName is { } name && !_byName.TryAdd(name, child))
            {
                if (faults.IsFull)
                {
                    faults.AddUntold();
                    return;
                }

                (int line, int column) = child.Source.PlaceOf(child.Offset);
                int first = child.Source.PlaceOf(_byName[name].Offset).Line;
                faults.Add(new Fault(child.Source.Name, line, column, child.Path, $"{name} is given twice, first in line {first}; keep one of them."));
                return;
            }

            Values.Add(child);
        }

        internal void Close()
        {
            ImmutableArray<PlacedValue> values = [.. Values];
            if (Value.Kind is JsonValueKind.Object)
            {
                Value.Members = values;
            }
            else
            {
                Value.Items = values;
            }
        }
    }
}
