using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Studies;

namespace SonarGeom.Files.Tests.Catalogue;

public sealed class StarterKitTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void WhatIsWrittenReadsAsTheScenariosThatAreShipped()
    {
        string kit = _folder.At("kit");
        Assert.Contains(StarterKit.MainScenario, StarterKit.Write(kit));
        foreach (string name in ShippedCatalogue.Scenarios)
        {
            Scenario shipped = InputFiles.ReadScenario(name).Scenario;
            Scenario written = InputFiles.ReadScenario(Path.Combine(kit, "scenarios", $"{name}.json")).Scenario;
            Assert.Equal(shipped.Name, written.Name);
            Assert.Equal(shipped.Air, written.Air);
            Assert.Equal(shipped.Walk, written.Walk);
            Assert.Equal(shipped.Maps, written.Maps);
            Assert.Equal(shipped.Wearers.ToArray(), written.Wearers.ToArray());
            Assert.Equal(shipped.Probes.ToArray(), written.Probes.ToArray());
            Assert.Equal(shipped.Obstacles.Obstacles.Select(o => o with { Shape = null }), written.Obstacles.Obstacles.Select(o => o with { Shape = null }));
            Assert.Equal(shipped.Obstacles.Obstacles.Select(o => o.Shape?.FacetCount), written.Obstacles.Obstacles.Select(o => o.Shape?.FacetCount));
            Assert.Equal(shipped.Layout.Sensors.Select(s => s.Mount), written.Layout.Sensors.Select(s => s.Mount));
        }
    }

    [Fact]
    public void FilesThatAreThereAreNotReplacedUnlessAsked()
    {
        string kit = _folder.At("kit");
        string mine = _folder.Write("kit/scenarios/tram-platform.json", "mine");
        InvalidInputException refused = Assert.Throws<InvalidInputException>(() => StarterKit.Write(kit));
        Assert.Equal("The folder already has scenarios/tram-platform.json; choose another folder, or ask for them to be replaced.", Assert.Single(refused.Faults).Message);
        Assert.Equal("mine", File.ReadAllText(mine));
        Assert.Equal([mine], Directory.GetFiles(kit, "*", SearchOption.AllDirectories));
        StarterKit.Write(kit, replaceExisting: true);
        Assert.NotEqual("mine", File.ReadAllText(mine));
    }

    [Fact]
    public void EveryFileEndsItsLinesPlainlyAndIsUtf8WithoutMark()
    {
        string kit = _folder.At("kit");
        foreach (string name in StarterKit.Write(kit))
        {
            byte[] bytes = File.ReadAllBytes(Path.Combine(kit, name));
            Assert.True(System.Text.Unicode.Utf8.IsValid(bytes), name);
            Assert.DoesNotContain((byte)'\r', bytes);
            Assert.NotEqual(0xEF, bytes[0]);
        }
    }
}
