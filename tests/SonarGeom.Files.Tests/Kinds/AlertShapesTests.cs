using SonarGeom.Files.Faults;
using SonarGeom.Layouts;

namespace SonarGeom.Files.Tests.Kinds;

/// <summary>The alerts of a layout: read as written, and refused where they make no sense.</summary>
public sealed class AlertShapesTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Zones_are_read_with_their_units()
    {
        SensorLayout layout = Read("""{ "zones": [{ "sensor": "one", "from_m": 0.5, "to_m": 2, "message": "head_high", "priority": 3, "repeat_ms": 700 }], "hysteresis_m": 0.2, "message_ms": 100 }""");
        AlertZone zone = layout.Alerts!.Zones[0];
        Assert.Equal(("one", 0.5, 2.0, AlertMessage.HeadHigh, 3, 0.7), (zone.Sensor, zone.FromMetres, zone.ToMetres, zone.Message, zone.Priority, zone.RepeatSeconds));
        Assert.Equal((0.2, 0.1), (layout.Alerts.HysteresisMetres, layout.Alerts.MessageSeconds));
    }

    [Theory]
    [InlineData("""{ "zones": [{ "sensor": "two", "to_m": 2, "message": "left" }] }""", "alerts name the sensor \"two\", which the layout does not have")]
    [InlineData("""{ "zones": [{ "sensor": "one", "from_m": 2, "to_m": 1, "message": "left" }] }""", "to_m is 1; it must be above from_m, which is 2.")]
    [InlineData("""{ "zones": [{ "sensor": "one", "to_m": 2, "message": "lfet" }] }""", "left")]
    public void Zones_that_make_no_sense_are_refused(string alerts, string sentence)
    {
        InvalidInputException refusal = Assert.Throws<InvalidInputException>(() => Read(alerts));
        Assert.Contains(sentence, string.Join('\n', refusal.Faults), StringComparison.Ordinal);
    }

    [Fact]
    public void A_swaying_mount_is_read_and_one_that_swings_too_far_refused()
    {
        string text = """
            {
              "name": "one",
              "sensors": [{ "name": "one", "transducer": "linnet-wide-40", "mount": { "site": "sternum", "offset_m": [0.015, 0, 0], "sway": { "tilt_deg": 12, "azimuth_deg": 8 } }, "announces": "ahead" }],
              "firing": { "cycle_ms": 60 }
            }
            """;
        Mounting.MountSway sway = InputFiles.ReadLayout(_folder.Write("layout.json", text)).Sensors[0].Mount.Sway!;
        Assert.Equal((12.0, 8.0, 0.0), (Math.Round(sway.Tilt.Degrees, 9), Math.Round(sway.Azimuth.Degrees, 9), sway.LagFraction));
        Assert.Throws<InvalidInputException>(() => InputFiles.ReadLayout(_folder.Write("far.json", text.Replace("12", "50", StringComparison.Ordinal))));
    }

    private SensorLayout Read(string alerts) => InputFiles.ReadLayout(_folder.Write("layout.json", $$"""
        {
          "name": "one",
          "sensors": [{ "name": "one", "transducer": "linnet-wide-40", "mount": { "site": "sternum", "offset_m": [0.015, 0, 0] }, "announces": "ahead" }],
          "firing": { "cycle_ms": 60 },
          "alerts": {{alerts}}
        }
        """));
}
