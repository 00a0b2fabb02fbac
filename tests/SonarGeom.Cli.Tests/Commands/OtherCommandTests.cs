using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

public sealed class OtherCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void CompareSetsTheLayoutsSideBySide()
    {
        string folder = _bench.At("out");
        ToolAnswer answer = Workbench.Run("compare", "brow-only", "single-chest", "--scenario", _bench.QuickScenario(), "--output", folder, "--json");
        JsonElement json = answer.Json;
        Assert.Equal(["brow only", "single chest module"], json.GetProperty("layouts").EnumerateArray().Select(l => l.GetProperty("layout").GetString()!));
        Assert.Equal(2 * 2 * 5, json.GetProperty("bands").GetArrayLength());
        Assert.Equal(2 * 16, json.GetProperty("verdicts").GetArrayLength());
        Assert.Equal(2, json.GetProperty("differences").GetArrayLength());
        Assert.Equal(2, Directory.GetFiles(folder, "difference-*.csv").Length);
        Assert.Equal(2, Directory.GetFiles(folder, "difference-*.png").Length);
        string text = File.ReadAllText(Path.Combine(folder, "report.txt"));
        Assert.Contains("low-branch", text, StringComparison.Ordinal);
        Assert.Matches(@"probe +band +brow only +single chest module", text);
    }

    [Fact]
    public void HeadReviewWritesASheetToSign()
    {
        string folder = _bench.At("out");
        ToolAnswer answer = Workbench.Run("head-review", _bench.QuickScenario(), "--output", folder);
        Assert.Equal(ExitCode.Done, answer.Code);
        Assert.StartsWith("%PDF-", File.ReadAllText(Path.Combine(folder, "head-review.pdf"))[..5], StringComparison.Ordinal);
        string text = File.ReadAllText(Path.Combine(folder, "head-review.txt"));
        Assert.Contains("Signature: ____", text, StringComparison.Ordinal);
        Assert.Contains("Assumptions\n- ", text, StringComparison.Ordinal);
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "head-review.json")));
        string flat = string.Join(' ', text.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        foreach (JsonElement finding in json.RootElement.GetProperty("findings").EnumerateArray())
        {
            Assert.Contains(finding.GetProperty("finding").GetString()!, flat, StringComparison.Ordinal);
        }

        Assert.Equal(
            ["shortest", "tallest", "head bowed"],
            json.RootElement.GetProperty("head_band").EnumerateArray().Select(r => r.GetProperty("wearer_role").GetString()!).Distinct());
    }

    [Fact]
    public void ExplainOpensAnObstacleSensorBySensor()
    {
        JsonElement json = Workbench.Run("explain", _bench.QuickScenario(), "--obstacle", "low-branch", "--distance-m", "1.5", "--json").Json;
        Assert.Equal(4, json.GetProperty("echoes").GetArrayLength());
        foreach (JsonElement echo in json.GetProperty("echoes").EnumerateArray())
        {
            bool always = echo.GetProperty("reported_phases_percent").GetDouble() >= 90;
            Assert.True(!always || echo.GetProperty("budget").GetProperty("margin_db").GetDouble() >= 0);
        }
    }

    [Fact]
    public void ExplainOpensANamedZone()
    {
        string scenario = _bench.QuickScenario();
        ToolAnswer answer = Workbench.Run("explain", scenario, "--zone", "head-centre-1", "--probe", "sphere-100mm");
        Assert.Equal(string.Empty, answer.Error);
        Assert.Contains("detection margin", answer.Output, StringComparison.Ordinal);
        Assert.Contains("brow at 1.52 m", answer.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void AStepDownHasNothingThatCounts()
    {
        ToolAnswer answer = Workbench.Run("explain", _bench.QuickScenario(), "--obstacle", "slipway-step");
        Assert.Contains("no part of it counts as detecting it", answer.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void MapAndSliceDrawOnePictureWithItsGrid()
    {
        string folder = _bench.At("one");
        JsonElement map = Workbench.Run("map", _bench.QuickScenario(), "--probe", "rod-25mm", "--wearer", "short-woman", "--output", folder, "--json").Json;
        Assert.Equal("short woman", map.GetProperty("wearer").GetString());
        Assert.Equal(5, map.GetProperty("bands").GetArrayLength());
        ToolAnswer slice = Workbench.Run("slice", _bench.QuickScenario(), "--height-m", "1.6", "--cell-m", "0.1", "--output", folder);
        Assert.Equal(ExitCode.Done, slice.Code);
        Assert.Contains("branch-30mm is heard", slice.Output, StringComparison.Ordinal);
        Assert.Equal(
            ["map-rod-25mm.csv", "map-rod-25mm.png", "map-rod-25mm.svg", "slice-plan-1.60m-high.csv", "slice-plan-1.60m-high.png", "slice-plan-1.60m-high.svg"],
            Directory.GetFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        Workbench.Run("slice", "--height-m", "1", "--offset-m", "0").IsRefused("a slice lies in one plane");
    }

    [Fact]
    public void AimSharesAreThoseOfTheMapAtTheSameTilt()
    {
        string folder = _bench.At("aim");
        JsonElement aim = Workbench.Run(
            "aim", _bench.QuickScenario(), "--sensor", "belt", "--from-deg", "-17", "--to-deg", "-14", "--output", folder, "--json").Json;
        JsonElement[] tilts = [.. aim.GetProperty("tilts").EnumerateArray()];
        Assert.Equal([-17.0, -17.0, -16.0, -16.0, -15.0, -15.0, -14.0, -14.0], tilts.Select(t => t.GetProperty("tilt_deg").GetDouble()));
        Assert.Equal(-15, aim.GetProperty("mounted_tilt_deg").GetDouble(), 9);

        // The belt sensor is mounted at 15° down: there the shares are those of the scenario's own map.
        JsonElement map = Workbench.Run("map", _bench.QuickScenario(), "--probe", "branch-30mm", "--output", _bench.At("own"), "--json").Json;
        double[] bands = [.. map.GetProperty("bands").EnumerateArray().Select(b => b.GetProperty("warned_in_time_percent").GetDouble())];
        JsonElement mounted = tilts[4];
        Assert.Equal("branch-30mm", mounted.GetProperty("probe").GetString());
        Assert.Equal(bands, new[] { "head", "chest", "waist", "knee", "foot" }.Select(b => mounted.GetProperty($"{b}_share_percent").GetDouble()));
        Assert.Equal(11, Directory.GetFiles(folder).Length);
    }

    [Fact]
    public void AimRefusesWhatItCannotTurn()
    {
        Workbench.Run("aim", "--sensor", "brwo").IsRefused("--sensor is 'brwo'");
        Workbench.Run("aim", "--from-deg", "5", "--to-deg", "5").IsRefused("it must be below --to-deg");
        Workbench.Run("aim", "--from-deg", "-90", "--to-deg", "90", "--step-deg", "0.1").IsRefused("makes 1801 tilts");
    }

    [Theory]
    [InlineData("swift-narrow-40")]
    [InlineData("plover-pair-40")]
    public void TransducerTellsWhatItsRangeIsFor(string name)
    {
        ToolAnswer answer = Workbench.Run("transducer", name);
        Assert.Contains("Figure of merit", answer.Output, StringComparison.Ordinal);
        Assert.Contains("Its range is for: ", answer.Output, StringComparison.Ordinal);
        JsonElement json = Workbench.Run("transducer", name, "--json").Json;
        string folder = _bench.At("beam");
        Assert.Equal(ExitCode.Done, Workbench.Run("transducer", name, "--output", folder).Code);
        Assert.Equal(3, Directory.GetFiles(folder, $"beam-{name}.*").Length);
        double?[] ranges = [.. json.GetProperty("hearing").EnumerateArray().Select(h => h.GetProperty("heard_to_m").GetDouble())];

        // A wall is heard farther than a pole, a pole farther than a sphere as thick: range depends on the target.
        Assert.True(ranges[0] > ranges[1] && ranges[1] > ranges[2] && ranges[2] > ranges[5]);
    }

    [Fact]
    public void BodyTellsLandmarksAndSites()
    {
        JsonElement json = Workbench.Run("body", "short-woman", "--json").Json;
        Assert.Contains("brow", json.GetProperty("sites").EnumerateArray().Select(s => s.GetProperty("site").GetString()));
        double crown = json.GetProperty("landmarks").EnumerateArray().First(l => l.GetProperty("landmark").GetString() == "crown").GetProperty("z_m").GetDouble();
        Assert.InRange(crown, 1.5, 1.6);
        Assert.Equal(5, json.GetProperty("height_bands").GetArrayLength());
    }

    [Fact]
    public void EditedBodyTablesAreUsed()
    {
        string tables = Path.Combine(_bench.Kit, "bodies");
        string[] command = ["body", "typical-man", "--json", "--body-tables", tables];
        double before = Workbench.Run(command).Json.GetProperty("crown_height_m").GetDouble();
        string line = File.ReadLines(Path.Combine(tables, "assumptions.csv")).First(l => l.StartsWith("footwear_thickness,", StringComparison.Ordinal));
        string[] cells = line.Split(',');
        double thickness = double.Parse(cells[1], System.Globalization.CultureInfo.InvariantCulture);
        cells[1] = (thickness + 0.02).ToString(System.Globalization.CultureInfo.InvariantCulture);
        _bench.Edit("bodies/assumptions.csv", line, string.Join(',', cells));
        Assert.Equal(before + 0.02, Workbench.Run(command).Json.GetProperty("crown_height_m").GetDouble(), 4);
        Workbench.Run("body", "typical-man", "--body-tables", _bench.At("nowhere")).IsRefused("nowhere");
    }

    [Fact]
    public void StarterCanBeStudiedAndIsNotReplacedUnasked()
    {
        string folder = _bench.At("mine");
        Assert.Equal(ExitCode.Done, Workbench.Run("starter", folder).Code);
        Assert.Equal(ExitCode.Done, Workbench.Run("check", Path.Combine(folder, "scenarios", "harbour-promenade.json")).Code);
        Workbench.Run("starter", folder).IsRefused("give --replace");
        Assert.Equal(ExitCode.Done, Workbench.Run("starter", folder, "--replace").Code);
    }

    [Fact]
    public void SchemasAreWritten()
    {
        string folder = _bench.At("schemas");
        Assert.Equal(ExitCode.Done, Workbench.Run("schemas", folder).Code);
        Assert.All(Directory.GetFiles(folder), f => JsonDocument.Parse(File.ReadAllText(f)).Dispose());
        Assert.Equal(5, Directory.GetFiles(folder).Length);
    }

    [Fact]
    public void CatalogueListsWhatShips()
    {
        JsonElement json = Workbench.Run("catalogue", "--json").Json;
        Assert.Contains("harbour-promenade", json.GetProperty("entries").EnumerateArray().Select(e => e.GetProperty("name").GetString()));
        Assert.Contains("swift-narrow-40", Workbench.Run("catalogue").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void AFaultOfTheToolSaysSo()
    {
        using var output = new BrokenWriter();
        using var error = new StringWriter();
        ExitCode code = Tool.Run(["catalogue"], new Session(output, error, false, CancellationToken.None));
        Assert.Equal(ExitCode.OurFault, code);
        Assert.Equal("sonargeom: A fault of the tool, not of your input: broken; run with --trace to see more.\n", error.ToString());
    }

    private sealed class BrokenWriter : StringWriter
    {
        public override void WriteLine(string? value) => throw new InvalidOperationException("broken");
    }
}
