using System.Globalization;
using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>One quick run of the main job that several tests look at.</summary>
public sealed class QuickRun : IDisposable
{
    public QuickRun()
    {
        Scenario = Bench.QuickScenario();
        Folder = Bench.At("out");
        Answer = Workbench.Run(Scenario, "--output", Folder);
    }

    internal Workbench Bench { get; } = new();

    internal string Scenario { get; }

    internal string Folder { get; }

    internal ToolAnswer Answer { get; }

    public void Dispose() => Bench.Dispose();

    internal JsonElement Json(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, file)));
        return document.RootElement.Clone();
    }
}

public sealed class StudyCommandTests(QuickRun run) : IClassFixture<QuickRun>
{
    private static readonly string[] Tables =
    [
        "verdicts.csv", "verdicts.json", "blind-zones.csv", "blind-zones.json", "bands.csv", "requirements.csv", "wearers.csv", "tilt-curves.csv",
        "approach-directions.csv", "turning-on-the-spot.csv", "sensor-outages.csv", "self-echoes.csv", "map-branch-30mm.csv", "map-sphere-100mm.csv",
        "study.json", "report.txt",
    ];

    [Fact]
    public void WritesAllTables()
    {
        Assert.Equal(ExitCode.Done, run.Answer.Code);
        Assert.Equal(string.Empty, run.Answer.Error);
        Assert.All(Tables, t => Assert.True(new FileInfo(Path.Combine(run.Folder, t)).Length > 0, t));
        Assert.Equal(3, Directory.GetFiles(run.Folder, "slice-*.csv").Length);
    }

    [Fact]
    public void LeadsWithTheWorstFinding()
    {
        string worst = run.Json("study.json").GetProperty("worst_finding").GetString()!;
        string[] lines = run.Answer.Output.Split('\n');
        Assert.StartsWith("Scenario quick walk", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("Worst: " + worst[..20], lines[2], StringComparison.Ordinal);
    }

    [Fact]
    public void TheTextNamesEveryBlindZoneAsTheJsonDoes()
    {
        string[] text = [.. File.ReadAllLines(Path.Combine(run.Folder, "report.txt")).Select(Spaced)];
        JsonElement zones = run.Json("blind-zones.json").GetProperty("blind_zones");
        Assert.NotEqual(0, zones.GetArrayLength());
        foreach (JsonElement zone in zones.EnumerateArray())
        {
            string row = string.Join(' ', [
                zone.GetProperty("zone").GetString(), zone.GetProperty("probe").GetString(), zone.GetProperty("band").GetString(),
                zone.GetProperty("side").GetString(), Number(zone, "low_z_m", "0.00"), Number(zone, "high_z_m", "0.00"), Number(zone, "area_m2", "0.0000"),
                Number(zone, "inscribed_diameter_m", "0.00"), zone.GetProperty("cause_words").GetString(), Number(zone, "never_heard_share_percent", "0.0"),
            ]);
            Assert.Contains(row, text);
        }
    }

    [Fact]
    public void TheTextTellsEveryVerdictAsTheJsonDoes()
    {
        string text = string.Join('\n', File.ReadAllLines(Path.Combine(run.Folder, "report.txt")).Select(Spaced));
        foreach (JsonElement verdict in run.Json("verdicts.json").GetProperty("verdicts").EnumerateArray())
        {
            string outcome = verdict.GetProperty("outcome").GetString() switch
            {
                "missed" => "MISSED",
                "lost_again" => "LOST AGAIN",
                "passed_beside_heard" => "beside, heard",
                "passed_beside_silent" => "beside, silent",
                var other => other!.Replace('_', ' '),
            };
            Assert.Contains($"\n{verdict.GetProperty("obstacle").GetString()} {outcome} ", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void TheSameInputGivesTheSameBytes()
    {
        string again = run.Bench.At("again");
        Assert.Equal(ExitCode.Done, Workbench.Run(run.Scenario, "--output", again, "--quiet").Code);
        string[] names = [.. Directory.GetFiles(run.Folder).Select(f => Path.GetFileName(f)).Order()];
        Assert.Equal(names, Directory.GetFiles(again).Select(f => Path.GetFileName(f)).Order());
        Assert.All(names, n => Assert.Equal(File.ReadAllBytes(Path.Combine(run.Folder, n)), File.ReadAllBytes(Path.Combine(again, n))));
    }

    [Fact]
    public void JsonIsAllThatIsPrinted()
    {
        ToolAnswer answer = Workbench.Run(run.Scenario, "--output", run.Bench.At("json"), "--json");
        Assert.Equal("study_summary", answer.Json.GetProperty("result").GetString());
        Assert.Equal(64, answer.Json.GetProperty("inputs_sha256").GetString()!.Length);
        Assert.Equal(
            run.Json("blind-zones.json").GetProperty("blind_zones").GetRawText(), answer.Json.GetProperty("blind_zones").GetRawText().Replace("\n  ", "\n  ", StringComparison.Ordinal));
    }

    [Fact]
    public void QuietPrintsNothing()
    {
        ToolAnswer answer = Workbench.Run(run.Scenario, "--output", run.Bench.At("quiet"), "--quiet");
        Assert.Equal((ExitCode.Done, string.Empty, string.Empty), (answer.Code, answer.Output, answer.Error));
    }

    [Fact]
    public void EveryNumberNamesItsUnit() => UnitNames.Check(run.Json("study.json"));

    [Theory]
    [InlineData(0.1, 1, 0, "Met: ")]
    [InlineData(60, 100, 1, "Not met: ")]
    public void ARequirementDecidesTheExitCode(double seconds, double percent, int code, string word)
    {
        using var bench = new Workbench();
        string scenario = bench.QuickScenario(
            $$"""
            "requirements": [{ "text": "the head is warned of a branch", "band": "head", "probe": "branch-30mm", "warning_s": {{seconds.ToString(CultureInfo.InvariantCulture)}}, "share_percent": {{percent.ToString(CultureInfo.InvariantCulture)}} }]
            """);
        ToolAnswer answer = Workbench.Run(scenario, "--output", bench.At("out"));
        Assert.Equal(code, (int)answer.Code);
        Assert.Contains($"the head is warned of a branch: {word}", answer.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(bench.At("out/requirements.csv")));
    }

    [Fact]
    public void StoppedLeavesNothing()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        ToolAnswer answer = Workbench.Run(stop.Token, run.Scenario, "--output", run.Bench.At("stopped/run"));
        Assert.Equal(ExitCode.Stopped, answer.Code);
        Assert.Equal("sonargeom: Stopped; nothing was written.\n", answer.Error);
        Assert.False(Directory.Exists(run.Bench.At("stopped")));
    }

    private static string Spaced(string line) => string.Join(' ', line.Split(' ', StringSplitOptions.RemoveEmptyEntries));

    private static string Number(JsonElement zone, string key, string format) => zone.GetProperty(key).GetDouble().ToString(format, CultureInfo.InvariantCulture);
}
