using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>The commands that show what receivers hear.</summary>
public sealed class WaveformCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void TraceLabelsEverySourceAndSaysWhatIsReported()
    {
        string folder = _bench.At("out");
        string[] command = ["trace", _bench.QuickScenario(), "--obstacle", "lamp-column", "--sensor", "brow", "--distance-m", "1.5", "--output", folder];
        ToolAnswer text = Workbench.Run(command);
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        Assert.StartsWith("What brow hears 1.50 m before lamp-column", text.Output, StringComparison.Ordinal);
        Assert.Contains("The device reports 1.8", text.Output, StringComparison.Ordinal);
        Assert.Contains("\nfloor of paving slabs ", text.Output, StringComparison.Ordinal);
        Assert.Contains("\nown ", text.Output, StringComparison.Ordinal);
        Assert.Equal(
            ["trace-brow-lamp-column-1.50m.csv", "trace-brow-lamp-column-1.50m.png", "trace-brow-lamp-column-1.50m.svg"],
            Directory.GetFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        string svg = File.ReadAllText(Path.Combine(folder, "trace-brow-lamp-column-1.50m.svg"));
        Assert.All(["lamp-column: side", "detection threshold", "noise", "dead zone", "first crossing"], word => Assert.Contains(word, svg, StringComparison.Ordinal));

        JsonElement json = Workbench.Run([.. command, "--json"]).Json;
        Assert.Equal("lamp-column: side", json.GetProperty("reported_source").GetString());
        double error = json.GetProperty("error_m").GetDouble();
        Assert.Equal(json.GetProperty("reported_m").GetDouble() - json.GetProperty("true_range_m").GetDouble(), error, 0.0011);

        // 58 µs/cm belongs to 344.8 m/s; at 15 °C sound is slower by 1.2 %, so the device reads long.
        Assert.InRange(json.GetProperty("error_by_air_m").GetDouble() / json.GetProperty("first_crossing_m").GetDouble(), 0.008, 0.016);

        string[] rows = File.ReadAllLines(Path.Combine(folder, "trace-brow-lamp-column-1.50m.csv"));
        string[] sources = [.. rows.Skip(1).Select(r => r.Split(',')[1]).Distinct()];
        Assert.All(["threshold", "noise", "all sources together", "lamp-column: side"], s => Assert.Contains(s, sources));
    }
}
