using System.Text.RegularExpressions;

namespace SonarGeom.Tests.Conventions;

/// <summary>What every file of this repository keeps to.</summary>
public sealed partial class FileTests
{
    private const int LongestFileLines = 400;

    // The rows of one set of tables, and the figures of small studies, share a file.
    private static readonly string[] SharedFiles = ["BodyTableRows", "SideStudies"];

    private static readonly string[] TextFiles = ["*.cs", "*.csproj", "*.props", "*.json", "*.csv", "*.md", "*.js", "*.mjs", "*.html", "*.css", "*.svg"];

    private static IEnumerable<string> Code => SourceTree.Files("src", "*.cs").Concat(SourceTree.Files("tests", "*.cs"));

    private static IEnumerable<string> Texts => TextFiles
        .SelectMany(pattern => new[] { "src", "tests", "bodies" }.SelectMany(under => SourceTree.Files(under, pattern)))
        .Concat(Directory.EnumerateFiles(SourceTree.Root, "*.md")).Concat(Directory.EnumerateFiles(SourceTree.Root, "*.props"));

    [Fact]
    public void NoFileIsLongerThanAReaderCanHold() =>
        Assert.DoesNotContain(Code.Select(f => (Name: Path.GetFileName(f), Lines: File.ReadLines(f).Count())), f => f.Lines > LongestFileLines);

    [Fact]
    public void NoFileNamesARegistryOrAPathOfSomeMachine()
    {
        Assert.NotEmpty(Texts);
        Assert.Empty(Texts.SelectMany(f => RegistryHost().Matches(File.ReadAllText(f)).Select(m => $"{Path.GetFileName(f)}: {m.Value}")));
        Assert.Empty(Texts.SelectMany(f => MachinePath().Matches(File.ReadAllText(f)).Select(m => $"{Path.GetFileName(f)}: {m.Value}")));
    }

    [Fact]
    public void NothingIsLeftToBeDone() =>
        Assert.Empty(Code.Where(f => Path.GetFileName(f) != "FileTests.cs")
            .SelectMany(f => Unfinished().Matches(File.ReadAllText(f)).Select(m => $"{Path.GetFileName(f)}: {m.Value}")));

    [Fact]
    public void NoTestIsSkipped() =>
        Assert.DoesNotContain(SourceTree.Files("tests", "*.cs"), f => SkippedTest().IsMatch(File.ReadAllText(f)));

    [Fact]
    public void NoTypeIsABagOfOddsAndEnds() =>
        Assert.DoesNotContain(Code.Select(f => Path.GetFileNameWithoutExtension(f)), n => OddsAndEnds().IsMatch(n));

    [Fact]
    public void EveryModelFileHoldsTheTypeThatItIsNamedFor()
    {
        foreach (string file in SourceTree.Files("src/SonarGeom", "*.cs"))
        {
            string name = Path.GetFileName(file).Split('.')[0];
            Assert.True(
                Regex.IsMatch(File.ReadAllText(file), $@"\b(class|record|struct|interface|enum)\s+{name}\b") || SharedFiles.Contains(name),
                $"{Path.GetRelativePath(SourceTree.Root, file)} does not declare {name}");
        }
    }

    [Fact]
    public void FilesEndWithOneNewLineAndHaveNoCarriageReturns()
    {
        foreach (string file in Texts.Where(f => Path.GetExtension(f) is ".cs" or ".csproj" or ".props" or ".md" or ".csv"))
        {
            string text = File.ReadAllText(file);
            Assert.False(text.Contains('\r'), $"{Path.GetFileName(file)} has carriage returns");
            Assert.True(text.EndsWith('\n') && !text.EndsWith("\n\n", StringComparison.Ordinal), $"{Path.GetFileName(file)} must end with one new line");
        }
    }

    [Fact]
    public void EveryCommandOfTheReadMeExists()
    {
        string readMe = File.ReadAllText(Path.Combine(SourceTree.Root, "README.md"));
        string cli = string.Join('\n', SourceTree.Files("src/SonarGeom.Cli", "*.cs").Select(File.ReadAllText));
        string[] named =
        [
            .. CommandCell().Matches(readMe).SelectMany(row => Quoted().Matches(row.Value)).Select(m => m.Groups[1].Value),
            .. CommandLine().Matches(readMe).Select(m => m.Groups[1].Value).Where(n => !n.Contains('.') && !n.Contains('/')),
        ];
        Assert.True(named.Length > 5, "the command table was not found");
        Assert.All(named, n => Assert.Contains($"\"{n}\"", cli));
        foreach (Match project in ProjectOption().Matches(readMe))
        {
            Assert.True(Directory.Exists(Path.Combine(SourceTree.Root, project.Groups[1].Value)), project.Value);
        }
    }

    [Fact]
    public void EveryPictureAndPageThatTheReadMeLinksExists()
    {
        string readMe = File.ReadAllText(Path.Combine(SourceTree.Root, "README.md"));
        foreach (Match link in LocalLink().Matches(readMe))
        {
            Assert.True(Path.Exists(Path.Combine(SourceTree.Root, link.Groups[1].Value)), link.Value);
        }
    }

    [GeneratedRegex(@"\b(nuget|npmjs|pypi|rubygems|docker)\.(org|com|io)\b")]
    private static partial Regex RegistryHost();

    [GeneratedRegex(@"(?<![\w.:/<])/(home|root|tmp|work|mnt|Users)/\w|\b[A-Z]:\\\\?Users\b")]
    private static partial Regex MachinePath();

    [GeneratedRegex(@"\b(TODO|FIXME|HACK|XXX)\b|NotImplementedException")]
    private static partial Regex Unfinished();

    [GeneratedRegex(@"\bSkip\s*=\s*""")]
    private static partial Regex SkippedTest();

    [GeneratedRegex("(Utils|Helpers?|Common|Misc)$")]
    private static partial Regex OddsAndEnds();

    [GeneratedRegex(@"^\| `.*?\|", RegexOptions.Multiline)]
    private static partial Regex CommandCell();

    [GeneratedRegex("`([a-z-]+)")]
    private static partial Regex Quoted();

    [GeneratedRegex(@"^dotnet run .* -- (\S+)", RegexOptions.Multiline)]
    private static partial Regex CommandLine();

    [GeneratedRegex(@"--project (\S+)")]
    private static partial Regex ProjectOption();

    [GeneratedRegex(@"\]\((?!http)([^)#]+)")]
    private static partial Regex LocalLink();
}
