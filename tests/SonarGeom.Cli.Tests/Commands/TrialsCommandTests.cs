using System.Diagnostics;
using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>Trials on the command line: what is told, what is written, and that nothing is lost when they are stopped or killed.</summary>
public sealed class TrialsCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void Writes_tables_pictures_and_a_report_and_compares_on_the_same_walks()
    {
        string path = _bench.At("out");
        ToolAnswer answer = Workbench.Run("trials", Short(), "--walks", "6", "--walks-per-outing", "3", "--compare", "single-chest", "--output", path, "--not-looking-percent", "20");
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        foreach (string file in new[]
        {
            "report.txt", "trials.json", "obstacles.csv", "misses.csv", "false-alerts.csv", "convergence.csv", "comparison.csv", "convergence.png",
            "walk-0-brow-chest-and-belt.png", "walk-0-single-chest-module.svg",
        })
        {
            Assert.True(File.Exists(Path.Combine(path, file)), file);
        }

        Assert.False(File.Exists(path + ".in-work"));
        Assert.Contains("On the same walks single chest module", answer.Output, StringComparison.Ordinal);
        Assert.Contains("doorway of 0.9 m", answer.Output, StringComparison.Ordinal);
        Assert.Contains("does not look during 20 %", File.ReadAllText(Path.Combine(path, "report.txt")), StringComparison.Ordinal);
        string[] rows = File.ReadAllLines(Path.Combine(path, "obstacles.csv"));
        Assert.StartsWith("layout,obstacle,touched_count,warned_percent,", rows[0], StringComparison.Ordinal);
        Assert.Equal(1 + (2 * 2), rows.Length);
    }

    // The process itself is killed, as when the power fails; the same command then ends with the same bytes as one that ran through.
    [Fact]
    public void Killed_trials_go_on_and_lose_nothing()
    {
        string scenario = Short(), through = _bench.At("through"), killed = _bench.At("killed");
        string[] common = ["trials", scenario, "--walks", "48", "--walks-per-outing", "2", "--output"];
        Assert.Equal(ExitCode.Done, Workbench.Run([.. common, through]).Code);
        string tool = typeof(Tool).Assembly.Location, kept = killed + ".in-work";
        using (Process process = Process.Start(new ProcessStartInfo("dotnet", ["exec", tool, .. common, killed, "--quiet"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!)
        {
            while (!process.HasExited && Lines(kept) < 4)
            {
                Thread.Sleep(20);
            }

            process.Kill();
            process.WaitForExit();
        }

        int before = Lines(kept);
        Assert.True(before >= 4, $"{before} lines were kept");
        Assert.False(Directory.Exists(killed), "nothing appears before all is done");
        File.AppendAllText(kept, "{\"Outing\":7,\"Wal");
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        ToolAnswer stopped = Workbench.Run(stop.Token, [.. common, killed]);
        Assert.Equal(ExitCode.Stopped, stopped.Code);
        Assert.Contains($"{before - 1} of 24 outings are kept", stopped.Error, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, Workbench.Run([.. common, killed]).Code);
        foreach (string file in Directory.GetFiles(through).Select(f => Path.GetFileName(f)!))
        {
            Assert.True(File.ReadAllBytes(Path.Combine(through, file)).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(killed, file))), file);
        }
    }

    // What was kept of other trials must not be taken for these.
    [Fact]
    public void Other_settings_begin_anew()
    {
        string scenario = Short(), path = _bench.At("out");
        using (var stop = new CancellationTokenSource())
        {
            stop.Cancel();
            Assert.Equal(ExitCode.Stopped, Workbench.Run(stop.Token, "trials", scenario, "--walks", "2", "--output", path).Code);
        }

        string first = File.ReadAllLines(path + ".in-work")[0];
        ToolAnswer other = Workbench.Run("trials", scenario, "--walks", "2", "--seed", "2", "--output", path, "--json");
        Assert.Equal(ExitCode.Done, other.Code);
        Assert.Equal("2", other.Json.GetProperty("seed").GetString());
        Assert.StartsWith("sonargeom trials ", first, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--path 0,0", "--path is '0,0'; it must be 2 to 100 corners such as 0,0;20,0;20,10")]
    [InlineData("--walks 2 --show-walk 2", "--show-walk is 2; it must be below the number of walks, which is 2")]
    [InlineData("--compare brow-chest-belt", "Two of the layouts are named brow, chest and belt")]
    [InlineData("--walks 0", "--walks is '0'; it must be a whole number from 1 to 1000000.")]
    public void Wrong_options_are_one_sentence(string options, string sentence) =>
        Workbench.Run(["trials", Short(), .. options.Split(' '), "--output", _bench.At("out")]).IsRefused(sentence);

    private string Short()
    {
        string obstacles = _bench.Write("obstacles/two.csv", """
            id,kind,x_m,y_m,z_m,length_m,height_m,diameter_m
            column,pole,4,0.1,,,3,0.1
            branch,bar,7,-0.1,1.7,0.8,,0.03

            """);
        return _bench.QuickScenario($"\"obstacles\": {JsonSerializer.Serialize(obstacles)}");
    }

    private static int Lines(string path)
    {
        try
        {
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            using var reader = new StreamReader(stream);
            return reader.ReadToEnd().Count(c => c == '\n');
        }
        catch (IOException)
        {
            return 0;
        }
    }
}
