using System.Text;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>Wrong input ends with exit code 2, one sentence for each fault with its file and place, and nothing written.</summary>
public sealed class BadInputTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    private void Refuses(string scenario, params string[] parts)
    {
        string output = _bench.At("out/run");
        Workbench.Run(scenario, "--output", output).IsRefused(parts);
        Assert.False(Directory.Exists(_bench.At("out")), "something was written");
    }

    [Fact]
    public void UnknownKey() =>
        Refuses(_bench.QuickScenario("\"grounds\": \"paving\""), "quick.json:7:14: ", "grounds", "did you mean ground?");

    [Fact]
    public void ValueOutsideItsRange() =>
        Refuses(_bench.QuickScenario("\"air\": { \"temperature_c\": 400 }"), "quick.json:7:29: ", "temperature_c is 400", "from -20 to 50");

    [Fact]
    public void NotANumber() =>
        Refuses(_bench.QuickScenario("\"air\": { \"temperature_c\": NaN }"), "quick.json:7:");

    [Fact]
    public void NumberAsText() =>
        Refuses(_bench.QuickScenario("\"air\": { \"temperature_c\": \"20\" }"), "quick.json:7:29: ", "temperature_c");

    [Fact]
    public void MissingScenario() => Refuses(_bench.At("nowhere.json"), "nowhere.json: There is no such file");

    [Fact]
    public void MissingFileOfAReference() =>
        Refuses(_bench.QuickScenario("\"layout\": \"../layouts/nowhere.json\""), "quick.json:7:13: ", "nowhere.json");

    [Fact]
    public void AbsentNameOfTheCatalogue() =>
        Refuses(_bench.QuickScenario("\"layout\": \"brow-onl\""), "quick.json:7:13: ", "did you mean brow-only?");

    [Fact]
    public void ReferenceInACircle()
    {
        string first = _bench.Write("scenarios/a.json", """{ "based_on": "b.json" }""");
        _bench.Write("scenarios/b.json", """{ "based_on": "a.json" }""");
        Refuses(first, "a.json");
    }

    [Fact]
    public void EmptyTable()
    {
        _bench.Write("obstacles/empty.csv", string.Empty);
        Refuses(_bench.QuickScenario("\"obstacles\": \"../obstacles/empty.csv\""), "empty.csv");
    }

    [Fact]
    public void TableOfAMillionRows()
    {
        var table = new StringBuilder("id,kind,x_m,y_m,z_m,diameter_m\n");
        for (int i = 0; i < 1_000_000; i++)
        {
            table.Append('o').Append(i).Append(",sphere,2,0,1,0.1\n");
        }

        _bench.Write("obstacles/long.csv", table.ToString());
        Refuses(_bench.QuickScenario("\"obstacles\": \"../obstacles/long.csv\""), "long.csv", "100000");
    }

    [Fact]
    public void AbsurdStature() =>
        Refuses(Giant("17"), "giant.json:1:100: ", "stature_m is 17");

    [Fact]
    public void StatureThatTheSurveyDoesNotReach() =>
        Refuses(Giant("2.4"), "giant.json:1:", "2.4");

    [Fact]
    public void SensorInsideTheBody()
    {
        _bench.Edit("layouts/single-chest.json", "\"offset_m\": [0.015, 0, 0]", "\"offset_m\": [-0.06, 0, 0]");
        Refuses(_bench.QuickScenario("\"layout\": \"../layouts/single-chest.json\""), "inside");
    }

    [Fact]
    public void SiteThatTheBodyDoesNotHave()
    {
        _bench.Edit("layouts/single-chest.json", "\"site\": \"sternum\"", "\"site\": \"sternam\"");
        Refuses(_bench.QuickScenario("\"layout\": \"../layouts/single-chest.json\""), "single-chest.json:", "sternam");
    }

    [Fact]
    public void ObstacleOfNoSize()
    {
        _bench.Write("obstacles/none.csv", "id,kind,x_m,y_m,z_m,diameter_m\nball,sphere,2,0,1,0\n");
        Refuses(_bench.QuickScenario("\"obstacles\": \"../obstacles/none.csv\""), "none.csv:2: ", "diameter_m is 0");
    }

    [Fact]
    public void CommaForDecimals()
    {
        _bench.Write("obstacles/comma.csv", "id,kind,x_m,y_m,z_m,diameter_m\nball,sphere,\"1,5\",0,1,0.1\n");
        Refuses(_bench.QuickScenario("\"obstacles\": \"../obstacles/comma.csv\""), "comma.csv:2:", "x_m is 1,5");
    }

    [Fact]
    public void NotUtf8()
    {
        string path = _bench.QuickScenario();
        File.WriteAllBytes(path, [.. Encoding.UTF8.GetBytes("{ \"name\": \"caf"), 0xE9, .. Encoding.UTF8.GetBytes("\" }")]);
        Refuses(path, "quick.json:1:15", "UTF-8");
    }

    [Fact]
    public void CutOff()
    {
        string path = _bench.QuickScenario();
        string text = File.ReadAllText(path);
        File.WriteAllText(path, text[..(text.Length / 2)]);
        Refuses(path, "quick.json:");
    }

    private string Giant(string stature) => _bench.Write(
        "scenarios/giant.json",
        $$"""{ "based_on": "harbour-promenade.json", "wearers": [{ "name": "giant", "sex": "male", "stature_m": {{stature}} }] }""");

    [Fact]
    public void AllFaultsAreToldAtOnce()
    {
        string path = _bench.QuickScenario("\"air\": { \"temperature_c\": 400, \"relative_humidity_percent\": 120 }, \"colour\": 1");
        ToolAnswer answer = Workbench.Run(path, "--output", _bench.At("out"));
        answer.IsRefused("temperature_c", "relative_humidity_percent", "colour");
        Assert.Equal(3, answer.ErrorLines.Length);
    }

    [Fact]
    public void OutputThatIsAFile()
    {
        string file = _bench.Write("taken", "x");
        Workbench.Run(_bench.QuickScenario(), "--output", file).IsRefused("taken", "is a file");
        Assert.Equal("x", File.ReadAllText(file));
    }

    [Fact]
    public void CheckTellsFaultsWithoutComputing()
    {
        string bad = _bench.QuickScenario("\"air\": { \"temperature_c\": 400 }");
        ToolAnswer answer = Workbench.Run("check", bad, Path.Combine(_bench.Kit, "probes", "rod-25mm.json"));
        Assert.Equal(Cli.Shell.ExitCode.BadInput, answer.Code);
        Assert.Contains("rod-25mm.json: good probe", answer.Output, StringComparison.Ordinal);
        Assert.Contains("temperature_c is 400", Assert.Single(answer.ErrorLines), StringComparison.Ordinal);
    }
}
