using System.Text.Json.Nodes;

namespace SonarGeom.Files.Shapes;

/// <summary>The members that an object may have, as they are being described.</summary>
internal sealed class MemberSet
{
    private readonly List<Member> _members = [];
    private readonly List<MemberGroup> _groups = [];

    /// <summary>Gets the members in the order of their description.</summary>
    internal IReadOnlyList<Member> All => _members;

    /// <summary>Gets the groups of members that exclude one another.</summary>
    internal IReadOnlyList<MemberGroup> Groups => _groups;

    /// <summary>Describes a member that must be given.</summary>
    internal Member<T> Required<T>(string name, Shape<T> shape, string description) =>
        Added(new Member<T>(name, shape, description, true, default, null));

    /// <summary>Describes a member that may be left out, with nothing in its place.</summary>
    internal Member<T> Maybe<T>(string name, Shape<T> shape, string description) =>
        Added(new Member<T>(name, shape, description, false, default, null));

    /// <summary>Describes a number that may be left out, and its value then.</summary>
    internal Member<double> Optional(string name, NumberShape shape, double byDefault, string description) =>
        Added(new Member<double>(name, shape, description, false, byDefault, JsonValue.Create(byDefault)));

    /// <summary>Describes a whole number that may be left out, and its value then.</summary>
    internal Member<int> Optional(string name, WholeNumberShape shape, int byDefault, string description) =>
        Added(new Member<int>(name, shape, description, false, byDefault, JsonValue.Create(byDefault)));

    /// <summary>Describes a text that may be left out, and its value then.</summary>
    internal Member<string> Optional(string name, TextShape shape, string byDefault, string description) =>
        Added(new Member<string>(name, shape, description, false, byDefault, byDefault.Length == 0 ? null : JsonValue.Create(byDefault)));

    /// <summary>Describes a flag that may be left out, and its value then.</summary>
    internal Member<bool> Optional(string name, FlagShape shape, bool byDefault, string description) =>
        Added(new Member<bool>(name, shape, description, false, byDefault, JsonValue.Create(byDefault)));

    /// <summary>Describes a choice that may be left out, and its value then.</summary>
    internal Member<T> Optional<T>(string name, ChoiceShape<T> shape, T byDefault, string description) =>
        Added(new Member<T>(name, shape, description, false, byDefault, JsonValue.Create(shape.WordOf(byDefault))));

    /// <summary>Describes any member that may be left out, and its value then.</summary>
    /// <param name="name">The name as written in files.</param>
    /// <param name="shape">The shape of the value.</param>
    /// <param name="byDefault">The value when it is left out.</param>
    /// <param name="defaultNode">That value as JSON for the schema, if it can be told there.</param>
    /// <param name="description">What it says.</param>
    internal Member<T> Optional<T>(string name, Shape<T> shape, T byDefault, JsonNode? defaultNode, string description) =>
        Added(new Member<T>(name, shape, description, false, byDefault, defaultNode));

    /// <summary>Demands that exactly one of some members is given.</summary>
    internal void ExactlyOne(params Member[] members) => _groups.Add(new MemberGroup([.. members], true));

    /// <summary>Demands that no two of some members are given.</summary>
    internal void AtMostOne(params Member[] members) => _groups.Add(new MemberGroup([.. members], false));

    private Member<T> Added<T>(Member<T> member)
    {
        _members.Add(member);
        return member;
    }
}
