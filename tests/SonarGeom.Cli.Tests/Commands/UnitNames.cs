using System.Text.Json;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>Every number in JSON has its unit at the end of its key, or counts something.</summary>
internal static class UnitNames
{
    private static readonly string[] Units =
    [
        "_m", "_mm", "_m2", "_cm2", "_s", "_ms", "_us", "_us_cm", "_deg", "_c", "_pa", "_khz", "_kg", "_db", "_db_m", "_db_re_1m", "_db_re_20upa", "_db_re_20upa_at_1m",
        "_percent", "_count", "_m_s", "_per_min", "_pa_s_m", "_kg_m3", "_unitless",
    ];

    // A value stands beside its unit.
    private static readonly string[] Bare = ["cells", "rank", "line", "column", "burst_cycles", "transmitter_q", "receiver_q", "stride_phase", "danger_m2", "value"];

    internal static void Check(JsonElement element, string name = "")
    {
        switch (element.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (JsonProperty member in element.EnumerateObject())
                {
                    Check(member.Value, member.Name);
                }

                break;
            case JsonValueKind.Array:
                foreach (JsonElement item in element.EnumerateArray())
                {
                    Check(item, name);
                }

                break;
            case JsonValueKind.Number:
                Assert.True(Bare.Contains(name) || Units.Any(u => name.EndsWith(u, StringComparison.Ordinal)), name);
                break;
        }
    }
}
