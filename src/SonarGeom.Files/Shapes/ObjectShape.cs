using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>Names of members that any document may have.</summary>
internal static class ObjectShapeNames
{
    /// <summary>Names the schema for the editor; not read.</summary>
    internal const string Schema = "$schema";

    /// <summary>Names a document whose members hold where this one gives none.</summary>
    internal const string BasedOn = "based_on";
}

/// <summary>An object of known members.</summary>
/// <typeparam name="T">What the object stands for.</typeparam>
internal sealed class ObjectShape<T> : Shape<T>
{
    private readonly MemberSet _members = new();
    private readonly Func<MemberValues, T> _make;
    private readonly string[] _known;

    /// <summary>Describes an object.</summary>
    /// <param name="name">One word for the kind of object; two kinds never share it.</param>
    /// <param name="description">What the object says, for the schema.</param>
    /// <param name="describe">Describes the members and returns how to make the result of their values.</param>
    internal ObjectShape(string name, string description, Func<MemberSet, Func<MemberValues, T>> describe)
    {
        Name = name;
        Description = description;
        _make = describe(_members);
        _known = [.. _members.All.Select(m => m.Name)];
    }

    /// <summary>Gets the word for the kind of object.</summary>
    internal string Name { get; }

    /// <summary>Gets the names of the members.</summary>
    internal IReadOnlyList<string> MemberNames => _known;

    /// <summary>Gets what the object says.</summary>
    internal string Description { get; }

    /// <summary>Gets the kind of document that this object may be based on; null where that makes no sense.</summary>
    internal IDocumentKind? Basis { get; init; }

    /// <inheritdoc/>
    internal override string Allowed => $"an object {{…}} that describes {(Name[0] is 'a' or 'e' or 'i' or 'o' or 'u' ? "an" : "a")} {Name.Replace('_', ' ')}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out T result)
    {
        result = default!;
        if (value.Kind is not JsonValueKind.Object)
        {
            reading.Refuse(value, Allowed);
            return false;
        }

        int faultsBefore = reading.Faults.Count;
        bool good = true;
        MemberValues values = new(value, reading);
        Dictionary<string, PlacedValue> given = Given(value, reading);
        foreach (Member member in _members.All)
        {
            if (given.TryGetValue(member.Name, out PlacedValue? its))
            {
                good &= member.TryRead(its, reading, out object? read);
                values.Set(member, its, read);
            }
            else if (member.IsRequired)
            {
                string whose = value.Parent is null ? string.Empty : $" in {value.Name}";
                reading.Fault(value, $"{member.Name} is missing{whose}; it must be {member.Allowed}.");
            }
        }

        HashSet<string> names = [.. given.Keys];
        foreach (MemberGroup group in _members.Groups)
        {
            group.Check(values, names);
        }

        // A fault told before, of a document that is referred to twice, is not told again: so count is not enough.
        if (!good || reading.Faults.Count > faultsBefore)
        {
            return false;
        }

        try
        {
            result = _make(values);
        }
        catch (ArgumentException) when (reading.Faults.Count > faultsBefore)
        {
            // What was refused follows from a fault already told.
            return false;
        }
        catch (ArgumentException e)
        {
            reading.Fault(value, $"{value.Name} cannot be used: {Sentences.Of(e)}");
        }

        return reading.Faults.Count == faultsBefore;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) =>
        definitions.Reference(Name, () => Written(definitions));

    private JsonObject Written(SchemaDefinitions definitions)
    {
        JsonObject properties = [];
        if (Basis is not null)
        {
            properties[ObjectShapeNames.Schema] = new JsonObject { ["type"] = "string", ["description"] = "The schema of this file, for the editor." };
            properties[ObjectShapeNames.BasedOn] = new JsonObject
            {
                ["type"] = "string",
                ["minLength"] = 1,
                ["description"] = $"A {Basis.Name} whose members hold wherever this one gives none: the name of one in the catalogue, or the path of a file.",
            };
        }

        foreach (Member member in _members.All)
        {
            properties[member.Name] = member.Schema(definitions);
        }

        JsonObject schema = new()
        {
            ["type"] = "object",
            ["description"] = Description,
            ["properties"] = properties,
            ["additionalProperties"] = false,
        };
        JsonArray required = [.. _members.All.Where(m => m.IsRequired).Select(m => (JsonNode)m.Name)];
        JsonArray rules = [.. _members.Groups.Select(g => (JsonNode)g.Schema(Basis is not null))];
        if (Basis is null)
        {
            schema["required"] = required;
        }
        else
        {
            rules.Insert(0, new JsonObject
            {
                ["anyOf"] = new JsonArray(
                    new JsonObject { ["required"] = new JsonArray(ObjectShapeNames.BasedOn) },
                    new JsonObject { ["required"] = required }),
            });
        }

        if (rules.Count > 0)
        {
            schema["allOf"] = rules;
        }

        return schema;
    }

    // The object's own members, then those of the document it is based on wherever it gives none.
    private Dictionary<string, PlacedValue> Given(PlacedValue value, Reading reading)
    {
        Dictionary<string, PlacedValue> given = new(StringComparer.Ordinal);
        PlacedValue? basis = null;
        foreach (PlacedValue member in value.Members)
        {
            string name = member.MemberName ?? string.Empty;
            if (_known.Contains(name))
            {
                given[name] = member;
            }
            else if (Basis is not null && name == ObjectShapeNames.BasedOn)
            {
                basis = member;
            }
            else if (Basis is null || name != ObjectShapeNames.Schema)
            {
                reading.Fault(member, $"{PlacedValue.Short(name)} is not known in {(value.Parent is null ? $"a {Name}" : value.Name)}; {NearestName.Advice(name, _known)}");
            }
        }

        if (basis is not null && Basis is not null && reading.Store.OpenReferenced(basis, Basis, reading) is { } document)
        {
            try
            {
                foreach ((string name, PlacedValue member) in Given(document, reading))
                {
                    if (!given.ContainsKey(name) && !IsReplaced(name, value))
                    {
                        given[name] = member;
                    }
                }
            }
            finally
            {
                reading.Store.Close();
            }
        }

        return given;
    }

    // A member that excludes another one takes the place of that other one of the basis.
    private bool IsReplaced(string name, PlacedValue value) =>
        _members.Groups.Any(g =>
            g.Members.Any(m => m.Name == name)
            && g.Members.Any(m => value.Member(m.Name) is not null));
}
