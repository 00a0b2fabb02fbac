using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>The firmware pack, and its header under a C compiler. A C compiler named cc must be there.</summary>
public sealed class FirmwareCommandTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void EveryNumberHasItsUnitAndItsReason()
    {
        string folder = _bench.At("out");
        string[] command = ["firmware", _bench.QuickScenario(), "--from-c", "0", "--to-c", "30", "--output", folder];
        ToolAnswer text = Workbench.Run(command);
        Assert.Equal((ExitCode.Done, string.Empty), (text.Code, text.Error));
        Assert.StartsWith("Firmware of brow, chest and belt on typical man, 0 °C to 30 °C", text.Output, StringComparison.Ordinal);
        Assert.Contains("adds to a long cane or guide dog", text.Output, StringComparison.Ordinal);
        Assert.Equal(["firmware.csv", "firmware.h", "firmware.json"], Directory.GetFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        JsonElement json = Workbench.Run([.. command, "--json"]).Json;
        JsonElement[] values = [.. json.GetProperty("values").EnumerateArray()];
        Assert.All(values, v => Assert.NotEqual(string.Empty, v.GetProperty("unit").GetString()));
        Assert.All(values, v => Assert.True(v.GetProperty("reason").GetString()!.Length > 3));
        Assert.Equal(values.Length, File.ReadAllLines(Path.Combine(folder, "firmware.csv")).Length - 1);
        Assert.Equal(Workbench.Run([.. command, "--json"]).Output, File.ReadAllText(Path.Combine(folder, "firmware.json")));
        string[] wanted = ["round trip", "speed of sound at 0 °C", "worked check: range", "firing cycle", "shortest safe cycle", "blanking", "threshold", "distance of the alert"];
        Assert.All(wanted, w => Assert.Contains(values, v => v.GetProperty("name").GetString() == w));
        Assert.NotEmpty(json.GetProperty("cautions").EnumerateArray());
    }

    // Names that would end a comment, or be a trigraph, must not break the header; sensors may share what is left of their names.
    [Fact]
    public void TheHeaderCompilesWithWarningsAsErrorsAndGivesTheSameNumbers()
    {
        string layout = _bench.Edit("layouts/brow-chest-belt.json", "\"name\": \"chest left\"", "\"name\": \"*/ #error Brüst??/\"");
        _bench.Edit("layouts/brow-chest-belt.json", "\"name\": \"chest right\"", "\"name\": \"__ #error br st___\"");
        _bench.Edit("layouts/brow-chest-belt.json", "\"sensor\": \"chest left\"", "\"sensor\": \"*/ #error Brüst??/\"");
        _bench.Edit("layouts/brow-chest-belt.json", "\"sensor\": \"chest right\"", "\"sensor\": \"__ #error br st___\"");
        string folder = _bench.At("out");
        ToolAnswer answer = Workbench.Run("firmware", _bench.QuickScenario($"\"layout\": \"../layouts/{Path.GetFileName(layout)}\""), "--output", folder, "--json");
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        File.WriteAllText(Path.Combine(folder, "use.c"), """
            #include "firmware.h"
            #include "firmware.h"
            #include <stdio.h>
            int main(void)
            {
                int32_t s;
                if (sonargeom_range_mm(SONARGEOM_CHECK_0_ECHO_US, SONARGEOM_CHECK_0_AIR_TENTHS_C) != SONARGEOM_CHECK_0_RANGE_MM) { return 1; }
                if (sonargeom_range_mm(SONARGEOM_CHECK_1_ECHO_US, SONARGEOM_CHECK_1_AIR_TENTHS_C) != SONARGEOM_CHECK_1_RANGE_MM) { return 2; }
                if (sonargeom_range_mm(SONARGEOM_CHECK_2_ECHO_US, SONARGEOM_CHECK_2_AIR_TENTHS_C) != SONARGEOM_CHECK_2_RANGE_MM) { return 3; }
                if (sonargeom_alert_mm(99999) != -1 || sonargeom_blanking_us(SONARGEOM_SENSOR_COUNT) != -1 || sonargeom_offset_us(-1) != -1) { return 4; }
                printf("round trip,%d\n", (int)sonargeom_round_trip_us_m(200));
                printf("cycle,%d\n", (int)SONARGEOM_CYCLE_US);
                for (s = 0; s < SONARGEOM_SENSOR_COUNT; s++)
                {
                    printf("blanking,%d\n", (int)sonargeom_blanking_us(s));
                    printf("threshold,%d\n", (int)sonargeom_threshold_tenths_db(s, 1000000));
                }
                return 0;
            }

            """);
        File.WriteAllText(Path.Combine(folder, "empty.c"), "#include \"firmware.h\"\nextern int nothing;\n");
        string[] strict = ["-std=c99", "-Wall", "-Wextra", "-Werror", "-pedantic"];
        Start("cc", folder, [.. strict, "-c", "empty.c", "-o", "empty.o"]);
        Start("cc", folder, [.. strict, "use.c", "-o", "use"]);
        string[] told = Start(Path.Combine(folder, "use"), folder, []).Split('\n', StringSplitOptions.RemoveEmptyEntries);

        JsonElement[] values = [.. answer.Json.GetProperty("values").EnumerateArray()];
        double Value(string name, string at) => values.First(v => v.GetProperty("name").GetString() == name && v.GetProperty("at").GetString() == at).GetProperty("value").GetDouble();
        Assert.Equal(Value("round trip", "20 °C") * 100, Number(told[0]), 0.51);
        Assert.Equal(values.First(v => v.GetProperty("name").GetString() == "firing cycle").GetProperty("value").GetDouble() * 1000, Number(told[1]), 1.01);
        Assert.Equal(
            values.Where(v => v.GetProperty("name").GetString() == "blanking").Select(v => v.GetProperty("value").GetDouble()),
            told.Where(t => t.StartsWith("blanking", StringComparison.Ordinal)).Select(Number));
        double[] last = [.. values.Where(v => v.GetProperty("name").GetString() == "threshold").GroupBy(v => v.GetProperty("sensor").GetString()).Select(g => g.Last().GetProperty("value").GetDouble() * 10)];
        Assert.All(told.Where(t => t.StartsWith("threshold", StringComparison.Ordinal)).Select(Number).Zip(last), p => Assert.Equal(p.Second, p.First, 0.51));
    }

    [Theory]
    [InlineData("--from-c 20 --to-c 10", "--to-c is 10; it must not be below --from-c, which is 20.")]
    [InlineData("--from-c -40", "--from-c is '-40'; it must be a number from -20 to 50")]
    [InlineData("--driest-percent 60 --dampest-percent 40", "--dampest-percent is 40; it must not be below --driest-percent, which is 60.")]
    [InlineData("--json --csv", "--json and --csv cannot be asked for together; choose one.")]
    [InlineData("no-such-place", "The catalogue has no scenario of that name")]
    public void WrongInputIsOneSentence(string words, string message) =>
        Workbench.Run(["firmware", .. words.Split(' '), "--output", _bench.At("out")]).IsRefused(message);

    private static double Number(string line) => double.Parse(line.Split(',')[1], CultureInfo.InvariantCulture);

    private static string Start(string program, string folder, string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true })!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program} ended with {process.ExitCode}: {error.Result}");
        return output;
    }
}
