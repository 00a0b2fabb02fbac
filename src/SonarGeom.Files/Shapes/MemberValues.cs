using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>The values read for the members of one object.</summary>
internal sealed class MemberValues(PlacedValue holder, Reading reading)
{
    private readonly Dictionary<Member, (PlacedValue Value, object? Read)> _given = [];

    /// <summary>Gets the object itself.</summary>
    internal PlacedValue Holder { get; } = holder;

    /// <summary>Gets the reading.</summary>
    internal Reading Reading { get; } = reading;

    /// <summary>Sets the value of a member.</summary>
    internal void Set(Member member, PlacedValue value, object? read) => _given[member] = (value, read);

    /// <summary>Returns whether a member was given.</summary>
    internal bool Has(Member member) => _given.ContainsKey(member);

    /// <summary>Returns what was read for a member, if it was given.</summary>
    internal bool TryGet(Member member, out object? read)
    {
        bool has = _given.TryGetValue(member, out (PlacedValue Value, object? Read) given);
        read = given.Read;
        return has;
    }

    /// <summary>Adds a fault at the value of a member, or at the object when the member was not given.</summary>
    internal void Fault(Member member, string message) =>
        Reading.Fault(_given.TryGetValue(member, out (PlacedValue Value, object? Read) given) ? given.Value : Holder, message);

    /// <summary>Adds a fault at the object.</summary>
    internal void Fault(string message) => Reading.Fault(Holder, message);

    /// <summary>Returns where the value of a member stands; of the object when the member was not given.</summary>
    internal PlacedValue PlaceOf(Member member) =>
        _given.TryGetValue(member, out (PlacedValue Value, object? Read) given) ? given.Value : Holder;
}
