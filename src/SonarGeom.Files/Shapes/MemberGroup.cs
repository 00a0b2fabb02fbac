using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace SonarGeom.Files.Shapes;

/// <summary>Members of which no two may be given together.</summary>
/// <param name="Members">The members.</param>
/// <param name="OneIsNeeded">Whether one of them must be given.</param>
internal sealed record MemberGroup(ImmutableArray<Member> Members, bool OneIsNeeded)
{
    private string Names => $"{string.Join(", ", Members.SkipLast(1).Select(m => m.Name))} and {Members[^1].Name}";

    /// <summary>Adds a fault if too many or none of the members are given; returns whether all is well.</summary>
    internal bool Check(MemberValues values, IReadOnlySet<string> given)
    {
        ImmutableArray<Member> present = [.. Members.Where(m => given.Contains(m.Name))];
        if (present.Length > 1)
        {
            values.Fault(
                present[1],
                $"{string.Join(" and ", present.Select(m => m.Name))} are given together; {(OneIsNeeded ? "exactly" : "at most")} one of {Names} must be given.");
            return false;
        }

        if (present.Length == 0 && OneIsNeeded)
        {
            values.Fault($"{values.Holder.Name} has none of {Names}; exactly one of them must be given.");
            return false;
        }

        return true;
    }

    /// <summary>Returns the schema of the rule; an object based on another may leave the choice to the other.</summary>
    internal JsonObject Schema(bool mayBeInherited)
    {
        JsonArray cases = [.. Members.Select(m => (JsonNode)new JsonObject { ["required"] = new JsonArray(m.Name) })];
        if (!OneIsNeeded || mayBeInherited)
        {
            JsonObject none = new()
            {
                ["not"] = new JsonObject
                {
                    ["anyOf"] = new JsonArray([.. Members.Select(m => (JsonNode)new JsonObject { ["required"] = new JsonArray(m.Name) })]),
                },
            };
            if (OneIsNeeded)
            {
                none["required"] = new JsonArray(ObjectShapeNames.BasedOn);
            }

            cases.Add((JsonNode)none);
        }

        return new JsonObject { ["oneOf"] = cases };
    }
}
