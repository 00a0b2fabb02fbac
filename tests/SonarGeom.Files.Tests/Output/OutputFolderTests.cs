using SonarGeom.Files.Faults;
using SonarGeom.Files.Output;

namespace SonarGeom.Files.Tests.Output;

public sealed class OutputFolderTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void FilesAppearOnlyWhenAllAreWritten()
    {
        string path = _folder.At("out/run");
        using (OutputFolder output = OutputFolder.Open(path))
        {
            output.WriteText("report.html", "hello");
            using (Stream map = output.Create("maps/head.csv"))
            {
                map.WriteByte(65);
            }

            Assert.False(Directory.Exists(path));
            output.Commit();
        }

        Assert.Equal("hello", File.ReadAllText(Path.Combine(path, "report.html")));
        Assert.Equal("A", File.ReadAllText(Path.Combine(path, "maps/head.csv")));
        Assert.Equal(2, Everything(_folder.At("out")).Length);
    }

    [Fact]
    public void WithoutCommitNothingStays()
    {
        using (OutputFolder output = OutputFolder.Open(_folder.At("a/b/c")))
        {
            output.WriteText("x.txt", "x");
        }

        Assert.Empty(Directory.EnumerateFileSystemEntries(_folder.Root));
    }

    [Fact]
    public void AFailedRunLeavesTheOldOutputAsItWas()
    {
        string path = _folder.At("out");
        string old = _folder.Write("out/report.html", "old");
        using (OutputFolder output = OutputFolder.Open(path))
        {
            output.WriteText("report.html", "new");
        }

        Assert.Equal("old", File.ReadAllText(old));
        Assert.Equal([old], Everything(path));
    }

    [Fact]
    public void ANewRunReplacesItsFilesAndLeavesOthersAlone()
    {
        string path = _folder.At("out");
        _folder.Write("out/report.html", "old");
        _folder.Write("out/notes.txt", "mine");
        using (OutputFolder output = OutputFolder.Open(path + "/"))
        {
            output.WriteText("report.html", "new");
            Assert.Equal(["report.html"], output.WouldReplace());
            output.Commit();
        }

        Assert.Equal("new", File.ReadAllText(Path.Combine(path, "report.html")));
        Assert.Equal("mine", File.ReadAllText(Path.Combine(path, "notes.txt")));
        Assert.Equal(2, Everything(path).Length);
    }

    [Theory]
    [InlineData("../x")]
    [InlineData("/x")]
    [InlineData("a//b")]
    [InlineData("")]
    [InlineData("a\\b")]
    public void NamesThatLeadOutAreRefused(string name)
    {
        using OutputFolder output = OutputFolder.Open(_folder.At("out"));
        Assert.Throws<ArgumentException>(() => output.WriteText(name, "x"));
    }

    [Fact]
    public void ANameIsWrittenOnce()
    {
        using OutputFolder output = OutputFolder.Open(_folder.At("out"));
        output.WriteText("x", "x");
        Assert.Throws<ArgumentException>(() => output.WriteText("X", "x"));
    }

    [Fact]
    public void AFileInPlaceOfTheFolderIsOneSentence()
    {
        string file = _folder.Write("file", "x");
        Assert.Equal("The output folder is a file; give the path of a folder.", FaultAt(file));
        Assert.Contains("cannot be written", FaultAt($"{file}/deeper"), StringComparison.Ordinal);
        Assert.Contains("blank", FaultAt(" "), StringComparison.Ordinal);
        Assert.Equal("x", File.ReadAllText(file));
    }

    private static string FaultAt(string path) =>
        Assert.Single(Assert.Throws<InvalidInputException>(() => OutputFolder.Open(path)).Faults).Message;

    private static string[] Everything(string folder) => Directory.GetFiles(folder, "*", SearchOption.AllDirectories);
}
