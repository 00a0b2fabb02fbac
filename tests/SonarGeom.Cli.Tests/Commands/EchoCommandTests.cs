using System.Globalization;
using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

public sealed class EchoCommandTests : IDisposable
{
    private static readonly string[] Pole =
        ["echo", "--kind", "pole", "--x-m", "2", "--diameter-m", "0.075", "--height-m", "2", "--sensor-z-m", "1.1", "--transducer", "heron-strong-40"];

    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public void TheLinesAddUpToTheEchoLevel()
    {
        JsonElement one = Workbench.Run([.. Pole, "--json"]).Json.GetProperty("cases")[0];
        string[] lines =
        [
            "source_level_db_re_20upa_at_1m", "burst_build_up_db", "transmit_beam_db", "receive_beam_db", "spreading_db", "absorption_db",
            "target_strength_db_re_1m", "material_db", "roughness_db", "wearer_occlusion_db", "obstacle_occlusion_db",
        ];
        double sum = lines.Sum(l => one.GetProperty(l).GetDouble());

        // Eleven lines, each rounded to 0.01 dB.
        Assert.Equal(one.GetProperty("echo_level_db_re_20upa").GetDouble(), sum, 0.06);
        Assert.Equal(
            one.GetProperty("margin_db").GetDouble(),
            one.GetProperty("echo_level_db_re_20upa").GetDouble() - one.GetProperty("threshold_db_re_20upa").GetDouble(), 0.02);
        Assert.True(one.GetProperty("is_detected").GetBoolean());
    }

    [Fact]
    public void TableInTableOut()
    {
        string poses = _bench.Write("poses.csv", """
            id,kind,x_m,y_m,z_m,diameter_m,height_m,sensor_z_m,sensor_tilt_deg,transducer
            near,pole,2,0,,0.075,2,1.1,,heron-strong-40
            low,pole,2,0,,0.075,2,1.1,-30,swift-narrow-40
            ball,sphere,1,0.1,1.1,0.1,,1.1,,

            """);
        ToolAnswer answer = Workbench.Run("echo", "--poses", poses, "--ground", "gravel", "--csv");
        string[] rows = answer.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(4, rows.Length);
        Assert.StartsWith("obstacle,transducer,frequency_khz,is_detected,", rows[0], StringComparison.Ordinal);
        Assert.StartsWith("near,Heron strong 40,40.000,true,none,", rows[1], StringComparison.Ordinal);
        Assert.StartsWith("low,Swift narrow 40,40.000,false,", rows[2], StringComparison.Ordinal);
        Assert.StartsWith("ball,Plover pair 40,40.000,", rows[3], StringComparison.Ordinal);

        // The row is the same case as the options.
        string[] alone = Workbench.Run([.. Pole, "--ground", "gravel", "--csv"]).Output.Split('\n');
        Assert.Equal(alone[1]["pole".Length..], rows[1]["near".Length..]);
    }

    [Fact]
    public void TheMirrorImageAnswersAlike()
    {
        double left = Margin("0.4", "10"), right = Margin("-0.4", "-10");
        Assert.Equal(left, right, 9);

        static double Margin(string y, string azimuth) => Workbench.Run(
            "echo", "--kind", "sphere", "--x-m", "1.5", "--y-m", y, "--z-m", "1.2", "--diameter-m", "0.1", "--sensor-z-m", "1.1",
            "--sensor-azimuth-deg", azimuth, "--transducer", "swift-narrow-40", "--json").Json.GetProperty("cases")[0].GetProperty("margin_db").GetDouble();
    }

    [Fact]
    public void FaultsOfATableNameLineAndField()
    {
        string poses = _bench.Write("poses.csv", "id,kind,x_m,y_m,diameter_m,sensor_z_m\na,sphere,2,0,0.1,1\nb,sphere,two,0,0.1,1\n");
        Workbench.Run("echo", "--poses", poses).IsRefused("poses.csv:3: x_m is two");
    }

    [Fact]
    public void TheTextShowsEveryLineAndThePartsThatAnswer()
    {
        ToolAnswer answer = Workbench.Run(Pole);
        Assert.Equal(ExitCode.Done, answer.Code);
        double margin = Workbench.Run([.. Pole, "--json"]).Json.GetProperty("cases")[0].GetProperty("margin_db").GetDouble();
        Assert.Contains($"detection margin                                        {margin.ToString("0.00", CultureInfo.InvariantCulture)}", answer.Output, StringComparison.Ordinal);
        Assert.Contains("corner with the ground", answer.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void TheTwoEnginesStandSideBySide()
    {
        JsonElement one = Workbench.Run([.. Pole, "--integral", "--json"]).Json.GetProperty("cases")[0];
        JsonElement side = one.GetProperty("engines").EnumerateArray().First(e => e.GetProperty("part").GetString() == "side");

        // The allowance of the comparison of engines.
        Assert.InRange(side.GetProperty("difference_db").GetDouble(), -0.3, 0.3);
        Assert.Equal(one.GetProperty("parts").GetArrayLength(), one.GetProperty("engines").GetArrayLength());
    }

    [Fact]
    public void ASensorInsideTheObstacleIsRefused() => Workbench.Run(
        "echo", "--kind", "sphere", "--diameter-m", "0.5", "--x-m", "1", "--z-m", "1", "--sensor-x-m", "1.1", "--sensor-z-m", "1")
        .IsRefused("sonargeom: The sensor lies inside sphere; it must stand clear of the obstacle.");

    [Fact]
    public void KindsMayBeWrittenWithHyphens() => Assert.Equal(ExitCode.Done, Workbench.Run(
        "echo", "--kind", "kerb-up", "--x-m", "2", "--length-m", "3", "--height-m", "0.12", "--sensor-z-m", "1", "--sensor-tilt-deg", "-30").Code);
}
