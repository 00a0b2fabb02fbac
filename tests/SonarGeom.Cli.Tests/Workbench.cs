using System.Text.Json;
using SonarGeom.Cli.Shell;
using SonarGeom.Files.Catalogue;

namespace SonarGeom.Cli.Tests;

/// <summary>A scratch folder with the starter files, and the tool run inside the test process.</summary>
public sealed class Workbench : IDisposable
{
    public Workbench()
    {
        Root = Path.Combine(Path.GetTempPath(), $"sonargeom-cli-{Path.GetRandomFileName()}");
        Directory.CreateDirectory(Root);
        StarterKit.Write(Kit);
    }

    public string Root { get; }

    public string Kit => Path.Combine(Root, "kit");

    public void Dispose() => Directory.Delete(Root, recursive: true);

    public string At(string name) => Path.Combine(Root, name);

    /// <summary>Writes a file of the starter kit anew and returns its path.</summary>
    public string Write(string name, string text)
    {
        string path = Path.Combine(Kit, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Replaces one piece of text in a file of the starter kit, which must hold it.</summary>
    public string Edit(string name, string old, string text)
    {
        string path = Path.Combine(Kit, name);
        string before = File.ReadAllText(path);
        Assert.Contains(old, before, StringComparison.Ordinal);
        File.WriteAllText(path, before.Replace(old, text, StringComparison.Ordinal));
        return path;
    }

    /// <summary>Writes a scenario that computes quickly: coarse cells, few phases, one probe, and what else is given.</summary>
    public string QuickScenario(string more = "") => Write("scenarios/quick.json", $$"""
        {
          "based_on": "harbour-promenade.json",
          "name": "quick walk",
          "wearers": ["../wearers/typical-man.json", "../wearers/short-woman.json"],
          "walk": { "stride_phases": 4, "hold_to": "time_needed" },
          "maps": { "cell_m": 0.08, "distance_step_m": 0.1, "probes": ["../probes/branch-30mm.json", "../probes/sphere-100mm.json"] }{{(more.Length == 0 ? "" : ",")}}
          {{more}}
        }
        """);

    /// <summary>Runs the tool.</summary>
    internal static ToolAnswer Run(params string[] arguments) => Run(CancellationToken.None, arguments);

    /// <summary>Runs the tool with a token that may stop it.</summary>
    internal static ToolAnswer Run(CancellationToken cancellation, params string[] arguments)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        ExitCode code = Tool.Run(arguments, new Session(output, error, false, cancellation));
        return new ToolAnswer(code, output.ToString(), error.ToString());
    }
}

/// <summary>What a run of the tool said.</summary>
internal sealed record ToolAnswer(ExitCode Code, string Output, string Error)
{
    internal JsonElement Json
    {
        get
        {
            using var document = JsonDocument.Parse(Output);
            return document.RootElement.Clone();
        }
    }

    internal string[] ErrorLines => Error.Split('\n', StringSplitOptions.RemoveEmptyEntries);

    /// <summary>Checks that the run refused its input: one sentence a line, no stack, nothing on the output.</summary>
    internal void IsRefused(params string[] parts)
    {
        Assert.Equal(ExitCode.BadInput, Code);
        Assert.Equal(string.Empty, Output);
        Assert.NotEmpty(ErrorLines);
        Assert.All(ErrorLines, line =>
        {
            Assert.Matches(@"[.?]$|for example: sonargeom .*$", line);
            Assert.DoesNotContain("   at ", line, StringComparison.Ordinal);
            Assert.DoesNotContain("Exception", line, StringComparison.Ordinal);
            Assert.DoesNotContain("(Parameter", line, StringComparison.Ordinal);
        });
        Assert.All(parts, part => Assert.Contains(part, Error, StringComparison.Ordinal));
    }
}
