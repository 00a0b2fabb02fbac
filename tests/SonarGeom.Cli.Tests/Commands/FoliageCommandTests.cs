using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>A leafy branch, from the command line to the scene.</summary>
public sealed class FoliageCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    private string Street() => _bench.Write("scenarios/leafy-street.json", """
        {
          "based_on": "market-street.json",
          "name": "leafy street",
          "layout": "../layouts/brow-only.json",
          "wearers": ["../wearers/typical-man.json"],
          "walk": { "stride_phases": 4, "hold_to": "time_needed" },
          "maps": { "cell_m": 0.1, "distance_step_m": 0.1, "probes": ["../probes/sphere-100mm.json"] },
          "obstacles": [
            { "id": "branch", "kind": "foliage", "form": "ellipsoid", "x_m": 5, "y_m": 0, "z_m": 1.5, "width_m": 1.0, "height_m": 0.6,
              "depth_m": 0.8, "leaf_radius_mm": 30, "leaves_per_m3": 900 },
            { "id": "wall", "kind": "wall", "x_m": 7, "y_m": 0, "width_m": 4, "height_m": 3 }
          ]
        }
        """);

    [Fact]
    public void ABranchGetsAVerdictASceneAndTheNoteOfWhatIsLeftOut()
    {
        string folder = _bench.At("out");
        ToolAnswer answer = Workbench.Run(Street(), "--output", folder);
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "verdicts.json")));
        JsonElement branch = document.RootElement.GetProperty("verdicts").EnumerateArray().Single(v => v.GetProperty("obstacle").GetString() == "branch");
        Assert.Equal("closed_form", branch.GetProperty("engine").GetString());
        Assert.True(branch.GetProperty("is_on_course").GetBoolean());
        Assert.Contains("nine pings in ten", File.ReadAllText(Path.Combine(folder, "report.html")), StringComparison.Ordinal);
        Assert.Contains("branch: leaves", System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(Directory.EnumerateFiles(folder, "*.glb").Single())), StringComparison.Ordinal);
    }

    [Fact]
    public void TracesAndWalkUpsHoldTheLeaves()
    {
        string[] at = [Street(), "--obstacle", "branch", "--sensor", "brow"];
        JsonElement trace = Workbench.Run(["trace", .. at, "--distance-m", "1", "--output", _bench.At("trace"), "--json"]).Json;
        Assert.Contains("branch: foliage", trace.ToString(), StringComparison.Ordinal);
        JsonElement walk = Workbench.Run(["walk-up", .. at, "--from-m", "2", "--to-m", "1", "--step-m", "0.5", "--output", _bench.At("walk"), "--json"]).Json;
        Assert.Contains(walk.GetProperty("points").EnumerateArray(), p => p.GetProperty("object").GetString() == "branch");
    }

    // Every ping draws its own loudness: the same seed, the same walks; a hedge of hard leaves is warned of in more of them than one
    // that swallows 25 dB.
    [Fact]
    public void TrialsDrawEveryPingAtLeaves()
    {
        double[] first = Warned("one"), second = Warned("two");
        Assert.Equal(first, second);
        Assert.True(first[0] > first[1], $"{first[0]} % and {first[1]} %");

        double[] Warned(string name)
        {
            string folder = _bench.At(name), path = _bench.Write("scenarios/leafy-trials.json", """
                {
                  "based_on": "market-street.json",
                  "name": "leafy trials",
                  "layout": "../layouts/brow-only.json",
                  "wearers": ["../wearers/typical-man.json"],
                  "obstacles": [
                    { "id": "hard", "kind": "foliage", "form": "box", "x_m": 6, "y_m": 0, "width_m": 2.4, "height_m": 2, "depth_m": 1, "leaf_radius_mm": 30, "leaves_per_m3": 3000 },
                    { "id": "soft", "kind": "foliage", "form": "box", "x_m": 12, "y_m": 0, "width_m": 2.4, "height_m": 2, "depth_m": 1, "leaf_radius_mm": 30, "leaves_per_m3": 3000,
                      "reflection_loss_db": 25 }
                  ]
                }
                """);
            Assert.Equal(ExitCode.Done, Workbench.Run("trials", path, "--walks", "12", "--walks-per-outing", "4", "--output", folder).Code);
            string[][] rows = [.. File.ReadAllLines(Path.Combine(folder, "obstacles.csv")).Skip(1).Select(l => l.Split(','))];
            Assert.Equal(["hard", "soft"], rows.Select(r => r[1]).Order());
            Assert.All(rows, r => Assert.True(int.Parse(r[2], System.Globalization.CultureInfo.InvariantCulture) > 0));
            return [.. rows.OrderBy(r => r[1]).Select(r => double.Parse(r[3], System.Globalization.CultureInfo.InvariantCulture))];
        }
    }

    [Fact]
    public void EchoTellsTheMeanAndTheSwing()
    {
        string cases = _bench.Write("cases.csv", """
            id,kind,x_m,y_m,z_m,width_m,height_m,depth_m,form,leaf_radius_mm,leaves_per_m3,sensor_z_m
            hedge,foliage,1.5,0,0,2,1.6,0.6,box,20,3000,1.2
            """);
        ToolAnswer told = Workbench.Run("echo", "--poses", cases);
        Assert.Equal((ExitCode.Done, string.Empty), (told.Code, told.Error));
        JsonElement json = Workbench.Run("echo", "--poses", cases, "--json").Json;
        JsonElement row = json.GetProperty("cases").EnumerateArray().Single();
        Assert.InRange(row.GetProperty("swing_db").GetDouble(), -20, -2);
        Assert.Equal("foliage", row.GetProperty("answering_part").GetString());
    }
}
