using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tests;

public sealed class CheckTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("scenarios/harbour-promenade.json", "scenario", "harbour promenade: 4 wearers, 16 obstacles, layout brow, chest and belt")]
    [InlineData("layouts/single-chest.json", "layout", "single chest module: 1 sensor")]
    [InlineData("transducers/swift-narrow-40.json", "transducer", "Swift narrow 40: figure of merit 42 dB")]
    [InlineData("probes/rod-25mm.json", "probe", "rod-25mm")]
    [InlineData("obstacles/tram-platform.csv", "set of obstacles", "16 obstacles")]
    public void TheKindOfAFileIsTold(string name, string kind, string summary)
    {
        StarterKit.Write(_folder.Root);
        string path = _folder.At(name);
        Assert.Equal(new CheckedFile(path, kind, summary), InputFiles.Check(path));
    }

    [Fact]
    public void TablesOfOtherKindsAreToldByTheirColumns()
    {
        Assert.Equal("polar table", InputFiles.Check(_folder.Write("p.csv", "off_axis_deg,level_db\n0,0\n10,-1\n20,-6\n")).Kind);
        Assert.Equal("poses", InputFiles.Check(_folder.Write("q.csv", "id,kind,x_m,y_m,diameter_m,sensor_z_m\na,sphere,1,0,0.1,1.2\n")).Kind);
    }

    [Fact]
    public void WithoutSchemaTheMembersTell() =>
        Assert.Equal("wearer", InputFiles.Check(_folder.Write("w.json", """{ "name": "me", "stature_m": 1.7 }""")).Kind);

    [Fact]
    public void AFileOfNoKindIsOneSentence() =>
        Assert.Equal(
            "It cannot be told what this file describes; it must have the members of a scenario, layout, transducer, wearer or probe.",
            Assert.Single(Assert.Throws<InvalidInputException>(() => InputFiles.Check(_folder.Write("x.json", """{ "colour": 1 }"""))).Faults).Message);

    [Fact]
    public void FaultsAreTold() =>
        Assert.Throws<InvalidInputException>(() => InputFiles.Check(_folder.Write("w.json", """{ "name": "me", "stature_m": 17 }""")));
}
