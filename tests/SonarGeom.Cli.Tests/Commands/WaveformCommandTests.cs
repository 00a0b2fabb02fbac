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

    [Fact]
    public void WalkUpTellsFromWhereAndWhatComesBefore()
    {
        string folder = _bench.At("out");
        string[] command = ["walk-up", _bench.QuickScenario(), "--obstacle", "lamp-column", "--sensor", "brow", "--from-m", "2", "--to-m", "0.5", "--step-m", "0.5", "--output", folder];
        ToolAnswer text = Workbench.Run(command);
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        Assert.Contains("Brow reports lamp-column in 90\u00a0% of the stride or more from 2.00 m on", text.Output, StringComparison.Ordinal);
        string svg = File.ReadAllText(Path.Combine(folder, "walk-up-brow-lamp-column.svg"));
        Assert.All(["lamp-column", "floor of paving slabs", "reported at every stride phase", "warning needed by"], word => Assert.Contains(word, svg, StringComparison.Ordinal));
        JsonElement json = Workbench.Run([.. command, "--json"]).Json;
        JsonElement[] points = [.. json.GetProperty("points").EnumerateArray().Where(p => p.GetProperty("object").GetString() == "lamp-column")];
        Assert.Equal([2.0, 1.5, 1.0, 0.5], points.Select(p => p.GetProperty("distance_m").GetDouble()));
        Assert.Equal(File.ReadAllLines(Path.Combine(folder, "walk-up-brow-lamp-column.csv")).Length - 1, json.GetProperty("points").GetArrayLength());
    }

    [Fact]
    public void FalseAlertsNameTheThresholdAndTheTiltThatRemoveThem()
    {
        string layout = _bench.Write("layouts/down.json", File.ReadAllText(Path.Combine(_bench.Kit, "layouts", "brow-only.json")).Replace("\"tilt_deg\": 18", "\"tilt_deg\": -55", StringComparison.Ordinal));
        Assert.Contains("-55", File.ReadAllText(layout), StringComparison.Ordinal);
        string folder = _bench.At("out");
        ToolAnswer text = Workbench.Run("false-alerts", _bench.QuickScenario("\"layout\": \"../layouts/down.json\""), "--output", folder);
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        string flat = string.Join(' ', text.Output.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.Matches(@"Brow reports smooth tile from \d\.\d\d m on \(\d+\.\d dB over the threshold; a threshold higher by as much removes it, or a tilt above \d+(\.\d)?° down\)", flat);
        Assert.Equal(
            ["floor-by-tilt-brow.png", "floor-by-tilt-brow.svg", "floor-by-tilt.csv", "floors.csv", "own-body.csv"],
            Directory.GetFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        string svg = File.ReadAllText(Path.Combine(folder, "floor-by-tilt-brow.svg"));
        Assert.All(["smooth tile", "gravel", "grass", "asphalt", "false alert from here up", "as mounted, 55° down"], word => Assert.Contains(word, svg, StringComparison.Ordinal));
    }

    [Fact]
    public void EnginesListsEveryPartOfEveryObstacle()
    {
        ToolAnswer text = Workbench.Run("engines", _bench.QuickScenario());
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        Assert.Matches(@"The engines agree on \d+ of \d+ parts that both can\s+compute", text.Output);
        Assert.All(["lamp-column", "kerb-to-pier", "cyclist", "guy-wire"], id => Assert.Contains($"\n{id} ", text.Output, StringComparison.Ordinal));
        Assert.Contains("guy-wire: side: ka is below 5", text.Output, StringComparison.Ordinal);
    }
}
