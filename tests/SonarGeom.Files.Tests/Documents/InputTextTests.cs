using System.Text;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tests.Documents;

public sealed class InputTextTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void AMarkOfUtf8IsPassedOver()
    {
        InputText text = Read([0xEF, 0xBB, 0xBF, .. "{}"u8]);
        Assert.Equal("{}", Encoding.UTF8.GetString(text.Utf8.Span));
        Assert.Equal((1, 1), text.PlaceOf(0));
    }

    [Fact]
    public void OtherEncodingsAreNamed()
    {
        string utf16 = FaultOf([.. Encoding.Unicode.GetPreamble(), .. Encoding.Unicode.GetBytes("{}")]).Message;
        Assert.Equal("The file is written in UTF-16 or UTF-32; save it as UTF-8.", utf16);
        Fault latin = FaultOf([.. "{\n  \"a\": \"M"u8, 0xFC, .. "hle\"}"u8]);
        Assert.Equal("The byte 0xFC is not UTF-8 text here; save the file as UTF-8.", latin.Message);
        Assert.Equal((2, 10), (latin.Line, latin.Column));
        Assert.Contains("zero byte", FaultOf([0x7B, 0, 0x7D, 0]).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" \n\t\r\n ")]
    public void AnEmptyFileIsRefused(string text) =>
        Assert.Equal("The file is empty; it must have content.", FaultOf(Encoding.UTF8.GetBytes(text)).Message);

    [Fact]
    public void AMissingFileAndAFolderAreTold()
    {
        Assert.Equal("There is no such file; check the spelling of its path.", FaultAt(_folder.At("none.json")).Message);
        Assert.Equal("There is no such file; check the spelling of its path.", FaultAt(_folder.At("none/none.json")).Message);
        Assert.Equal("This is a folder; give the path of a file in it.", FaultAt(_folder.Root).Message);
        Assert.Contains("blank", FaultAt("").Message, StringComparison.Ordinal);
        Assert.Contains("zero character", FaultAt("a\0b").Message, StringComparison.Ordinal);
        Assert.Contains("cannot be read", FaultAt(_folder.At(new string('x', 5000))).Message, StringComparison.Ordinal);
        string file = _folder.Write("file", "x");
        Assert.NotEmpty(FaultAt($"{file}/child.json").Message);
    }

    [Fact]
    public void AFileAboveFiftyMegabytesIsRefused()
    {
        string path = _folder.At("large.json");
        using (FileStream stream = File.Create(path))
        {
            stream.SetLength(50_000_001);
        }

        Assert.Equal("The file is larger than 50 MB; no larger file is read.", FaultAt(path).Message);
    }

    [Fact]
    public void LinesEndWithAnyLineEndAndColumnsCountCharacters()
    {
        InputText text = InputText.FromText("t", "a\r\nbü→x\rc\n\nd");
        int At(string part) => Encoding.UTF8.GetString(text.Utf8.Span) is var all ? Encoding.UTF8.GetByteCount(all[..all.IndexOf(part, StringComparison.Ordinal)]) : 0;
        Assert.Equal((1, 1), text.PlaceOf(At("a")));
        Assert.Equal((2, 4), text.PlaceOf(At("x")));
        Assert.Equal((3, 1), text.PlaceOf(At("c")));
        Assert.Equal((5, 1), text.PlaceOf(At("d")));
        Assert.Equal((5, 2), text.PlaceOf(text.Utf8.Length));
    }

    private InputText Read(byte[] bytes) => InputText.FromFile(_folder.Write("file.json", bytes), "file.json");

    private Fault FaultOf(byte[] bytes) => Assert.Single(Assert.Throws<InvalidInputException>(() => Read(bytes)).Faults);

    private static Fault FaultAt(string path) => Assert.Single(Assert.Throws<InvalidInputException>(() => InputText.FromFile(path, "f")).Faults);
}
