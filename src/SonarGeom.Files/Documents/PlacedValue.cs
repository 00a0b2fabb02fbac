using System.Collections.Immutable;
using System.Text.Json;

namespace SonarGeom.Files.Documents;

/// <summary>A value of a JSON document that knows where it stands.</summary>
internal sealed class PlacedValue
{
    internal PlacedValue(InputText source, JsonValueKind kind, int offset, PlacedValue? parent, string? name, int index)
    {
        Source = source;
        Kind = kind;
        Offset = offset;
        Parent = parent;
        MemberName = name;
        Index = index;
    }

    /// <summary>Gets the file in which the value stands.</summary>
    internal InputText Source { get; }

    /// <summary>Gets what the value is.</summary>
    internal JsonValueKind Kind { get; }

    /// <summary>Gets where the value begins in its file. [bytes]</summary>
    internal int Offset { get; }

    /// <summary>Gets the object or list that holds the value.</summary>
    internal PlacedValue? Parent { get; }

    /// <summary>Gets the name of the member whose value this is, if its holder is an object.</summary>
    internal string? MemberName { get; }

    /// <summary>Gets the place in the list, from 0, if the holder is a list.</summary>
    internal int Index { get; }

    /// <summary>Gets the text of a string, or a number as written.</summary>
    internal string Text { get; set; } = string.Empty;

    /// <summary>Gets the members of an object, by the order in which they were written.</summary>
    internal ImmutableArray<PlacedValue> Members { get; set; } = [];

    /// <summary>Gets the items of a list.</summary>
    internal ImmutableArray<PlacedValue> Items { get; set; } = [];

    /// <summary>Gets the name of the value for use in a sentence.</summary>
    internal string Name => MemberName ?? (Parent is null ? "the document" : $"{Parent.Name}[{Index}]");

    /// <summary>Gets the way from the document to the value, such as <c>sensors[1].tilt_deg</c>; null for the document itself.</summary>
    internal string? Path => Parent switch
    {
        null => null,
        { Path: null } => MemberName ?? $"[{Index}]",
        { Path: string holder } => MemberName is null ? $"{holder}[{Index}]" : $"{holder}.{MemberName}",
    };

    /// <summary>Gets a description of the value for a sentence that begins with its name: "is 95", "is a list".</summary>
    internal string Is => Kind switch
    {
        JsonValueKind.Object => "is an object {…}",
        JsonValueKind.Array => Items.IsEmpty ? "is an empty list" : "is a list […]",
        JsonValueKind.String => $"is \"{Short(Text)}\"",
        JsonValueKind.Number => $"is {Short(Text)}",
        JsonValueKind.True => "is true",
        JsonValueKind.False => "is false",
        _ => "is null",
    };

    /// <summary>Returns the member of that name, if the object has it.</summary>
    internal PlacedValue? Member(string name)
    {
        foreach (PlacedValue member in Members)
        {
            if (member.MemberName == name)
            {
                return member;
            }
        }

        return null;
    }

    /// <summary>Returns a text fit for a sentence: one line, not too long.</summary>
    internal static string Short(string text, int most = 60)
    {
        string line = string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
        return line.Length <= most ? line : $"{line[..(most - 3)]}...";
    }
}
