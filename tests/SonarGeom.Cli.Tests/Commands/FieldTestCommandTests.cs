using System.Globalization;
using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>The loop of a field test: planned, printed, filled, read back.</summary>
public sealed class FieldTestCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void AFilledSheetGivesACalibratedTransducer()
    {
        string plan = _bench.At("plan"), result = _bench.At("result");
        ToolAnswer planned = Workbench.Run("field-test", "plan", "heron-strong-40", "--temperature-c", "15", "--output", plan);
        Assert.Equal((ExitCode.Done, string.Empty), (planned.Code, planned.Error));
        Assert.Contains("75 mm pole, 2 m tall", planned.Output, StringComparison.Ordinal);
        Assert.Equal("%PDF", System.Text.Encoding.ASCII.GetString(File.ReadAllBytes(Path.Combine(plan, "field-test.pdf"))[..4]));
        string sheet = Path.Combine(plan, "field-test.csv");
        Assert.Equal(ExitCode.Done, Workbench.Run("check", sheet).Code);

        // Filled as predicted, but for one row that went wrong and one that was not done.
        string[] rows = File.ReadAllLines(sheet);
        string[] header = rows[0].Split(',');
        int predicted = Array.IndexOf(header, "predicted_percent"), trials = Array.IndexOf(header, "planned_trials_count");
        for (int i = 1; i < rows.Length; i++)
        {
            // The purpose may hold a comma and is then quoted; it stands before both numbers.
            string[] cells = rows[i].Replace(", on the", " on the", StringComparison.Ordinal).Replace(", left", " left", StringComparison.Ordinal)
                .Replace(", right", " right", StringComparison.Ordinal).Replace(", square", " square", StringComparison.Ordinal).Replace(", turned", " turned", StringComparison.Ordinal).Split(',');
            int count = int.Parse(cells[trials], CultureInfo.InvariantCulture);
            int reports = (int)Math.Round(count * double.Parse(cells[predicted], CultureInfo.InvariantCulture) / 100);
            rows[i] = rows[i][..^4] + (i == 4 ? $"{count},{count},yes,a bus passed," : i == 6 ? ",,,," : $"{count},{reports},no,,");
        }

        File.WriteAllLines(sheet, rows);
        string[] command = ["field-test", "read", "heron-strong-40", sheet, "--output", result];
        ToolAnswer text = Workbench.Run(command);
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        Assert.Contains("Excluded: row 4, a bus passed.", text.Output, StringComparison.Ordinal);
        Assert.Contains("not done", text.Output, StringComparison.Ordinal);
        JsonElement json = Workbench.Run([.. command, "--json"]).Json;
        UnitNames.Check(json);
        JsonElement fit = json.GetProperty("fit")[0];
        Assert.Equal(45.1, fit.GetProperty("figure_of_merit_db").GetDouble(), 0.2);
        Assert.Equal(6.54, fit.GetProperty("radius_mm").GetDouble(), 0.15);
        Assert.True(fit.GetProperty("figure_of_merit_low_db").GetDouble() < 45.05 && fit.GetProperty("figure_of_merit_high_db").GetDouble() > 45.05);
        Assert.Equal(rows.Length - 1, json.GetProperty("rows").GetArrayLength());
        Assert.Equal(1, json.GetProperty("fit_with_excluded_rows").GetArrayLength());
        Assert.Equal(
            ["calibrated-transducer.json", "field-result.csv", "field-result.json", "reliability.png", "reliability.svg"],
            Directory.GetFiles(result).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        string svg = File.ReadAllText(Path.Combine(result, "reliability.svg"));
        Assert.All(["observed", "excluded rows", "as predicted", "1 excluded", "1 not done"], word => Assert.Contains(word, svg, StringComparison.Ordinal));
        ToolAnswer calibrated = Workbench.Run("transducer", Path.Combine(result, "calibrated-transducer.json"));
        Assert.Equal((ExitCode.Done, string.Empty), (calibrated.Code, calibrated.Error));
    }

    [Fact]
    public void WhatTheDataDoNotDecideIsNotWritten()
    {
        string plan = _bench.At("plan"), result = _bench.At("result");
        Assert.Equal(ExitCode.Done, Workbench.Run("field-test", "plan", "heron-strong-40", "--output", plan).Code);
        string sheet = Path.Combine(plan, "field-test.csv");
        string[] rows = File.ReadAllLines(sheet);
        File.WriteAllLines(sheet, rows.Select((r, i) => i == 0 ? r : r[..^4] + (i <= 5 ? $"20,{(i < 3 ? 20 : i == 3 ? 11 : 0)},no,," : ",,,,")));
        ToolAnswer answer = Workbench.Run("field-test", "read", "heron-strong-40", sheet, "--output", result);
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        Assert.Contains("do not decide the beam", answer.Output, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(result, "calibrated-transducer.json")));
    }

    [Theory]
    [InlineData("field-test", "field-test needs plan or read; for example: sonargeom field-test plan heron-strong-40")]
    [InlineData("field-test plan", "field-test plan needs TRANSDUCER; for example: sonargeom field-test plan")]
    [InlineData("field-test plan heron-strong-40 --required-hits 4 --window-pings 3", "--required-hits is 4; it must be at most --window-pings, which is 3.")]
    [InlineData("field-test plan heron-stron-40", "did you mean heron-strong-40?")]
    [InlineData("field-test read heron-strong-40", "field-test read needs SHEET")]
    [InlineData("field-test read heron-strong-40 nowhere.csv", "nowhere.csv: ")]
    [InlineData("field-test rad heron-strong-40", "did you mean read?")]
    public void WrongInputIsOneSentence(string words, string message) => Workbench.Run(words.Split(' ')).IsRefused(message);

    [Fact]
    public void BothHaveHelpWithAnExample()
    {
        foreach (string name in new[] { "plan", "read" })
        {
            ToolAnswer help = Workbench.Run("field-test", name, "--help");
            Assert.Equal(ExitCode.Done, help.Code);
            Assert.Contains($"  sonargeom field-test {name} TRANSDUCER", help.Output, StringComparison.Ordinal);
            Assert.Contains($"Example:\n  sonargeom field-test {name} heron-strong-40 ", help.Output, StringComparison.Ordinal);
        }
    }
}
