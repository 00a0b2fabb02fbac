using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Walks;

namespace SonarGeom.Files.Tests.Kinds;

/// <summary>Scenarios on disk, each wrong in one way.</summary>
public sealed class ScenarioKindTests : IDisposable
{
    private const string Scenario = """
        {
          "name": "test",
          "wearers": [{ "name": "someone", "stature_m": 1.75, "cane_side": "right" }],
          "layout": "layout.json",
          "obstacles": [{ "id": "pole", "kind": "pole", "x_m": 2, "y_m": 0, "height_m": 2, "diameter_m": 0.1 }],
          "requirements": [{ "text": "head", "band": "head", "probe": "branch-30mm", "warning_s": 1.0, "share_percent": 95 }]
        }
        """;

    private const string Layout = """
        {
          "name": "one sensor",
          "sensors": [
            {
              "name": "chest", "transducer": "swift-narrow-40", "announces": "ahead",
              "mount": { "site": "sternum", "offset_m": [0.02, 0, 0], "azimuth_deg": 3, "tilt_deg": -4, "roll_deg": 5, "tolerance": { "tilt_deg": 2 } }
            }
          ],
          "firing": { "cycle_ms": 60, "required_hits": 2, "window_pings": 4, "alert_latency_ms": 80 }
        }
        """;

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void WhatIsLeftOutTakesItsDefault()
    {
        Scenario scenario = Read(Scenario, Layout);
        Assert.Equal(AirState.Standard, scenario.Air);
        Assert.Equal(SoundSpeedModel.Humid, scenario.SoundSpeedModel);
        Assert.Equal(58, scenario.Device.AssumedMicrosecondsPerCentimetre);
        Assert.Equal(new WalkSettings(), scenario.Walk);
        Assert.Equal(new MapSettings(), scenario.Maps);
        Assert.Equal(Probe.Defaults, scenario.Probes.ToArray());
        Assert.Equal("paving slabs", scenario.Obstacles.Ground!.Name);
        Assert.Equal(new Requirement("head", HeightBand.Head, "branch-30mm", 1.0, 0.95), Assert.Single(scenario.Requirements));
    }

    [Fact]
    public void WhatIsGivenIsReadInItsUnits()
    {
        string text = Scenario.Replace(
            "\"name\": \"test\",",
            """
            "name": "test", "ground": { "roughness_mm": 2, "lambert_db": -12 }, "device": { "assumed_us_per_cm": 60 },
            "air": { "temperature_c": -10, "relative_humidity_percent": 80, "pressure_pa": 95000, "sound_speed_model": "dry_ideal_gas" },
            "walk": { "speed_m_s": 1.2, "reaction_s": 0.5, "deceleration_m_s2": 2.24, "stride_phases": 8, "hold_to": "time_needed", "reliable_share_percent": 80, "motion": "gait", "cane_technique": "two_point_touch" },
            "maps": { "cell_m": 0.05, "margin_m": 0.2, "horizon_m": 6, "probes": ["branch-30mm", { "name": "ball", "shape": "sphere", "diameter_m": 0.2 }] },
            """,
            StringComparison.Ordinal);
        Scenario scenario = Read(text, Layout);
        Assert.Equal(new AirState(Temperature.FromDegreesCelsius(-10), 80, 95000), scenario.Air);
        Assert.Equal(SoundSpeedModel.DryIdealGas, scenario.SoundSpeedModel);
        Assert.Equal(0.002, scenario.Obstacles.Ground!.RoughnessRmsMetres, 12);
        Assert.Equal(
            new WalkSettings(1.2, 0.5, 2.24, 8, HoldRule.TimeNeeded, 0.8) { Motion = WalkMotion.Gait, CaneTechnique = CaneTechnique.TwoPointTouch },
            scenario.Walk);
        Assert.Equal(6, scenario.Maps.HorizonMetres);
        Assert.Equal(["branch-30mm", "ball"], scenario.Probes.Select(p => p.Name));
        SensorPlacement sensor = Assert.Single(scenario.Layout.Sensors);
        Assert.Equal(3, sensor.Mount.Azimuth.Degrees, 1e-12);
        Assert.Equal(-4, sensor.Mount.Tilt.Degrees, 1e-12);
        Assert.Equal(5, sensor.Mount.Roll.Degrees, 1e-12);
        Assert.Equal(2, sensor.Mount.Tolerance.Tilt.Degrees, 12);
        Assert.Equal((0.06, 2, 4, 0.08), (scenario.Layout.Firing.CycleSeconds, scenario.Layout.Firing.RequiredHits, scenario.Layout.Firing.WindowPings, scenario.Layout.Firing.AlertLatencySeconds));
    }

    [Theory]
    [InlineData("\"tilt_deg\": -4", "\"tilt_deg\": 95", "layout.json:6:93: tilt_deg is 95; it must be from -90 to 90.")]
    [InlineData("\"sternum\"", "\"stirnum\"", "layout.json:6:26: site is \"stirnum\", which the body does not have; did you mean sternum?")]
    [InlineData("[0.02, 0, 0]", "[-0.08, 0, 0]", "layout.json:6:16: mount cannot be used: The sensor at sternum with an offset of (-0.080, 0.000, 0.000) m lies inside the thorax; the offset must keep it outside the body.")]
    [InlineData("\"required_hits\": 2", "\"required_hits\": 5", "layout.json:9:48: required_hits is 5; it must be at most window_pings, which is 4.")]
    [InlineData("\"cycle_ms\": 60", "\"cycle_ms\": 30", "layout.json:9:27: cycle_ms is 30; it must be at least 40, the longest listening window: a sensor cannot fire again while it still listens.")]
    [InlineData("\"cycle_ms\": 60", "\"cycle_ms\": 60, \"groups\": [[\"cheat\"]]", "layout.json:9:41: groups names \"cheat\", which is no sensor of the layout; did you mean chest?")]
    [InlineData("\"cycle_ms\": 60", "\"cycle_ms\": 60, \"groups\": [[\"chest\"], [\"chest\"]]", "groups names chest twice; every sensor must be in exactly one group.")]
    [InlineData("\"cycle_ms\": 60", "\"cycle_ms\": 60, \"jitter_ms\": 2000", "jitter_ms is 2000; it must be from 0 to 1000.")]
    [InlineData("swift-narrow-40", "swift-narow-40", "layout.json:5:38: transducer is \"swift-narow-40\", but the catalogue has no transducer of that name, and a path would end in .json; did you mean swift-narrow-40?")]
    [InlineData("\"ahead\"", "\"front\"", "layout.json:5:70: announces is \"front\"; it must be one of left, right, ahead.")]
    [InlineData("\"swift-narrow-40\"", "\"layout.json\"", "which leads in a circle (")]
    public void EachWrongThingOfALayoutIsOneSentenceAtItsPlace(string from, string to, string message)
    {
        Assert.Contains(from, Layout, StringComparison.Ordinal);
        AssertFault(Scenario, Layout.Replace(from, to, StringComparison.Ordinal), message);
    }

    // Windows of 40 and 50 ms.
    [Fact]
    public void ACycleTooShortToListenIsRefusedUnlessTheLayoutSaysWhoFiresTogether()
    {
        string two = Layout.Replace(
            "\"sensors\": [",
            """
            "sensors": [
                { "name": "brow", "transducer": "heron-strong-40", "announces": "ahead", "mount": { "site": "brow", "offset_m": [0.015, 0, 0] } },
            """,
            StringComparison.Ordinal);
        AssertFault(
            Scenario, two,
            "cycle_ms is 60; it must be at least 90, the listening windows one after the other (50 + 40 ms), unless groups lets sensors fire together or overlap is true.");
        AssertFault(Scenario, With("\"cycle_ms\": 60, \"groups\": [[\"brow\"]]"), "groups does not name chest; every sensor must be in exactly one group.");
        Assert.Equal(90, 1000 * Read(Scenario, With("\"cycle_ms\": 90")).Layout.Firing.CycleSeconds, 1e-9);
        SensorLayout together = Read(Scenario, With("\"cycle_ms\": 60, \"jitter_ms\": 4, \"groups\": [[\"chest\", \"brow\"]]")).Layout;
        Assert.Equal([1, 0], Assert.Single(together.FiringGroups).ToArray());
        Assert.Equal(0.064, together.Firing.LongestCycleSeconds, 1e-12);
        Assert.True(Read(Scenario, With("\"cycle_ms\": 60, \"overlap\": true")).Layout.Firing.Overlaps);

        string With(string cycle) => two.Replace("\"cycle_ms\": 60", cycle, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"stature_m\": 1.75", "\"stature_m\": 17.5", "scenario.json:3:49: stature_m is 17.5; it must be from 0.6 to 2.5.")]
    [InlineData("\"stature_m\": 1.75", "\"stature_m\": 2.4", "scenario.json:3:15: someone cannot be built: ")]
    [InlineData("\"layout\": \"layout.json\"", "\"layout\": \"scenario.json\"", "which leads in a circle (")]
    [InlineData("\"layout\": \"layout.json\"", "\"layout\": \"none.json\"", "scenario.json:4:13: layout is \"none.json\", so the layout is looked for in ")]
    [InlineData("\"probe\": \"branch-30mm\"", "\"probe\": \"branch-40mm\"", "probe is \"branch-40mm\", which the maps do not have; did you mean branch-30mm?")]
    [InlineData("\"diameter_m\": 0.1", "\"diameter_m\": 0", "diameter_m is 0; it must be above 0 and at most 200.")]
    [InlineData(", \"diameter_m\": 0.1", "", "diameter_m is missing; a pole must have height_m, diameter_m.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"air\": { \"temperature_c\": 60 },", "temperature_c is 60; it must be from -20 to 50.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"walk\": { \"cane_technique\": \"two_point_touch\" },", "cane_technique makes a difference only with the motion gait; a swaying body keeps the tip on the ground.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"walk\": { \"stride_phases\": 15 },", "stride_phases is 15; it must be an even number from 2 to 64.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"compare_layouts\": [\"layout.json\"],", "compare_layouts has more than one layout named one sensor; names must differ.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"ground\": \"ice\",", "ground is \"ice\"; it must be one of smooth_tile, paving, asphalt, gravel, grass, none.")]
    [InlineData("\"name\": \"test\",", "\"name\": \"test\", \"obstacle\": 3,", "obstacle is not known in a scenario; did you mean obstacles?")]
    public void EachWrongThingOfAScenarioIsOneSentence(string from, string to, string message)
    {
        Assert.Contains(from, Scenario, StringComparison.Ordinal);
        AssertFault(Scenario.Replace(from, to, StringComparison.Ordinal), Layout, message);
    }

    [Fact]
    public void AHorizonNearerThanTheWearerNeedsToStopIsRefused() =>
        AssertFault(
            Scenario.Replace("\"name\": \"test\",", "\"name\": \"test\", \"walk\": { \"speed_m_s\": 1.6 }, \"maps\": { \"horizon_m\": 1.5 },", StringComparison.Ordinal),
            Layout,
            "horizon_m is 1.5; it must be at least ");

    [Fact]
    public void ASensorThatNoOneInTheScenarioCouldWearIsTold()
    {
        string layout = Layout.Replace("sternum", "cane grip", StringComparison.Ordinal);
        AssertFault(
            Scenario.Replace(", \"cane_side\": \"right\"", string.Empty, StringComparison.Ordinal),
            layout,
            "scenario.json:4:13: layout: one sensor cannot be worn by someone: The body has no mounting site cane grip; known are ");
    }

    [Fact]
    public void ALayoutThatIsWrongIsToldOnceThoughItIsReferredToTwice()
    {
        string text = Scenario.Replace("\"name\": \"test\",", "\"name\": \"test\", \"compare_layouts\": [\"layout.json\"],", StringComparison.Ordinal);
        AssertFault(text, Layout.Replace("\"cycle_ms\": 60", "\"cycle_ms\": 0", StringComparison.Ordinal), "cycle_ms is 0; it must be from 1 to 5000.");
    }

    [Fact]
    public void NamesOfTheCatalogueAreAdvised()
    {
        Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(() => InputFiles.ReadScenario("harbor-promenade")).Faults);
        Assert.Equal("harbor-promenade: The catalogue has no scenario of that name, and a path would end in .json; did you mean harbour-promenade?", fault.ToString());
        Assert.Contains(ShippedCatalogue.DefaultScenario, ShippedCatalogue.Scenarios);
    }

    private Scenario Read(string scenario, string layout)
    {
        _folder.Write("layout.json", layout);
        return InputFiles.ReadScenario(_folder.Write("scenario.json", scenario)).Scenario;
    }

    private void AssertFault(string scenario, string layout, string message)
    {
        ImmutableArray<Fault> faults = Assert.Throws<InvalidInputException>(() => Read(scenario, layout)).Faults;
        Assert.Contains(message, Assert.Single(faults).ToString().Replace(_folder.Root + "/", string.Empty, StringComparison.Ordinal), StringComparison.Ordinal);
    }
}
