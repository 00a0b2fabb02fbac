using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>A member of an object: its name, whether it must be given, and what it says.</summary>
/// <param name="name">The name as written in files, with the unit.</param>
/// <param name="description">What it says, for the schema, with the unit.</param>
/// <param name="isRequired">Whether it must be given.</param>
internal abstract class Member(string name, string description, bool isRequired)
{
    /// <summary>Gets the name as written in files.</summary>
    internal string Name { get; } = name;

    /// <summary>Gets what the member says.</summary>
    internal string Description { get; } = description;

    /// <summary>Gets whether it must be given.</summary>
    internal bool IsRequired { get; } = isRequired;

    /// <summary>Gets what is allowed, to follow "it must be".</summary>
    internal abstract string Allowed { get; }

    /// <summary>Reads the member's value.</summary>
    internal abstract bool TryRead(PlacedValue value, Reading reading, out object? result);

    /// <summary>Returns the schema of the member's value, with its description and default.</summary>
    internal abstract JsonObject Schema(SchemaDefinitions definitions);

    /// <summary>Returns whether the member was given.</summary>
    internal bool IsGivenIn(MemberValues values) => values.Has(this);
}

/// <summary>A member of an object whose value is of a known shape.</summary>
/// <typeparam name="T">What the value stands for.</typeparam>
internal sealed class Member<T>(string name, Shape<T> shape, string description, bool isRequired, T? byDefault, JsonNode? defaultNode)
    : Member(name, description, isRequired)
{
    /// <inheritdoc/>
    internal override string Allowed => shape.Allowed;

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out object? result)
    {
        bool good = shape.TryRead(value, reading, out T read);
        result = read;
        return good;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions)
    {
        JsonObject schema = shape.Schema(definitions);
        schema["description"] = Description;
        if (defaultNode is not null)
        {
            schema["default"] = defaultNode.DeepClone();
        }

        return schema;
    }

    /// <summary>Returns the value as given, or the default.</summary>
    internal T From(MemberValues values) => values.TryGet(this, out object? given) ? (T)given! : byDefault!;
}

/// <summary>Values of members that need not be given.</summary>
internal static class OptionalMembers
{
    /// <summary>Returns the value, or null when the member was not given.</summary>
    internal static T? OrNull<T>(this Member<T> member, MemberValues values)
        where T : struct =>
        member.IsGivenIn(values) ? member.From(values) : null;
}
