using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tests.Shapes;

/// <summary>Documents that refer to others: by path, by based_on, in circles and to nothing.</summary>
public sealed class BasisTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void MembersThatADocumentDoesNotGiveComeFromTheOneItIsBasedOn()
    {
        _folder.Write("oaks/oak.json", """{"name":"oak","height_m":20,"wet_mm":4}""");
        string path = _folder.Write("young.json", """{"based_on":"oaks/oak.json","name":"young oak","dry_mm":1}""");
        PlantKind.Plant plant = Read(path);
        Assert.Equal("young oak", plant.Name);
        Assert.Equal(20, plant.Height);
        Assert.Null(plant.Wet);
    }

    [Fact]
    public void PathsAreRelativeToTheFileThatHoldsThem()
    {
        _folder.Write("a/b/fern.json", """{"name":"fern"}""");
        _folder.Write("a/hedge.json", """{"name":"hedge","neighbours":["b/fern.json","../moss.json"]}""");
        _folder.Write("moss.json", """{"name":"moss"}""");
        string path = _folder.Write("garden.json", """{"name":"garden","neighbours":["a/hedge.json", "a\\b\\fern.json"]}""");
        Assert.Equal(["fern", "moss"], Read(path).Neighbours[0].Neighbours.Select(p => p.Name));
    }

    [Fact]
    public void FaultsOfAReferencedFileNameThatFileOnce()
    {
        _folder.Write("sub/fern.json", "{\"name\":\"fern\",\n\"tilt_deg\":100}");
        string path = _folder.Write("garden.json", """{"name":"garden","neighbours":["sub/fern.json","sub/fern.json"]}""");
        Assert.Equal($"{_folder.At("sub/fern.json")}:2:12: tilt_deg is 100; it must be from -90 to 90.", FaultOf(path).ToString());
    }

    [Fact]
    public void AnAbsentFileIsAFaultAtTheReferenceWithTheWayToIt()
    {
        _folder.Write("sub/hedge.json", """{"name":"hedge","neighbours":["nowhere/fern.json"]}""");
        string path = _folder.Write("garden.json", """{"name":"garden","neighbours":["sub/hedge.json"]}""");
        Fault fault = FaultOf(path);
        Assert.Equal(_folder.At("sub/hedge.json"), fault.File);
        Assert.Equal(
            $"neighbours[0] is \"nowhere/fern.json\", so the plant is looked for in {_folder.At("sub/nowhere/fern.json")} (by way of {path} → {_folder.At("sub/hedge.json")}). There is no such file; check the spelling of its path.",
            fault.Message);
    }

    [Fact]
    public void ACircleOfReferencesIsAFaultThatNamesTheCircle()
    {
        string a = _folder.Write("a.json", """{"name":"a","neighbours":["sub/b.json"]}""");
        string b = _folder.Write("sub/b.json", """{"name":"b","based_on":"../c.json"}""");
        string c = _folder.Write("c.json", """{"name":"c","based_on":"a.json"}""");
        Fault fault = FaultOf(a);
        Assert.Equal(c, fault.File);
        Assert.Equal($"based_on is \"a.json\", which leads in a circle ({a} → {b} → {c} → {a}); it must be another file.", fault.Message);
    }

    [Fact]
    public void ADocumentThatRefersToItselfIsACircle()
    {
        string a = _folder.Write("a.json", """{"name":"a","based_on":"./a.json"}""");
        Assert.Contains("leads in a circle", FaultOf(a).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AnEndlessChainThroughALinkedFolderIsRefused()
    {
        string a = _folder.Write("a.json", """{"name":"a","based_on":"again/a.json"}""");
        Directory.CreateSymbolicLink(_folder.At("again"), _folder.Root);
        Assert.Contains("the 17th file in a chain of references", FaultOf(a).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ANameThatIsNotInTheCatalogueIsAFault()
    {
        Assert.Equal(
            "neighbours[0] is \"fern\", but the catalogue has no plant of that name, and a path would end in .json; known are .",
            FaultOf(_folder.Write("a.json", """{"name":"a","neighbours":["fern"]}""")).Message);
    }

    [Theory]
    [InlineData("\"\\u0000.json\"")]
    [InlineData("\"\"")]
    [InlineData("\"   \"")]
    [InlineData("3")]
    public void ABlankOrBrokenReferenceIsRefused(string reference)
    {
        Fault fault = FaultOf(_folder.Write("a.json", $$"""{"name":"a","based_on":{{reference}}}"""));
        Assert.EndsWith("it must be the name of a plant of the catalogue or the path of a file.", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AFolderInPlaceOfAFileIsAFaultAtTheReference()
    {
        Directory.CreateDirectory(_folder.At("b.json"));
        Assert.EndsWith("This is a folder; give the path of a file in it.", FaultOf(_folder.Write("a.json", """{"name":"a","based_on":"b.json"}""")).Message, StringComparison.Ordinal);
    }

    private static PlantKind.Plant Read(string path) => PlantKind.Kind.Read(DocumentLocation.OfFile(path));

    private static Fault FaultOf(string path) => Assert.Single(Assert.Throws<InvalidInputException>(() => Read(path)).Faults);
}
