using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace SonarGeom.Tests.Conventions;

/// <summary>Dependencies point one way: files → scenario → wearer and sensors → echoes → coverage → drawings and reports.</summary>
public sealed partial class ArrowTests
{
    private static readonly Dictionary<string, string[]> Concepts = new()
    {
        ["Quantities"] = [],
        ["Geometry"] = ["Quantities"],
        ["Air"] = ["Quantities"],
        ["Transducers"] = ["Air", "Geometry", "Quantities"],
        ["Bodies"] = ["Geometry", "Quantities"],
        ["Walks"] = ["Bodies", "Geometry", "Quantities"],
        ["Mounting"] = ["Bodies", "Geometry", "Quantities"],
        ["Layouts"] = ["Mounting", "Transducers", "Geometry", "Quantities"],
        ["Obstacles"] = ["Geometry", "Quantities"],
        ["Echoes"] = ["Air", "Transducers", "Obstacles", "Geometry", "Quantities"],
        ["Coverage"] = ["Layouts", "Mounting", "Bodies", "Walks", "Echoes", "Obstacles", "Transducers", "Air", "Geometry", "Quantities"],
        ["Trials"] = ["Coverage", "Layouts", "Mounting", "Bodies", "Walks", "Echoes", "Obstacles", "Transducers", "Air", "Geometry", "Quantities"],
        ["Studies"] = ["Trials", "Coverage", "Layouts", "Mounting", "Bodies", "Walks", "Echoes", "Obstacles", "Transducers", "Air", "Geometry", "Quantities"],
    };

    private static readonly Dictionary<string, string[]> Projects = new()
    {
        ["SonarGeom"] = [],
        ["SonarGeom.Files"] = ["SonarGeom"],
        ["SonarGeom.Rendering"] = ["SonarGeom"],
        ["SonarGeom.Cli"] = ["SonarGeom", "SonarGeom.Files", "SonarGeom.Rendering"],
    };

    private static readonly string[] ModelPackages = ["MathNet.Numerics"];

    [Fact]
    public void EveryConceptFolderUsesOnlyTheConceptsBelowIt()
    {
        var wrong = new List<string>();
        foreach (string file in SourceTree.Files("src/SonarGeom", "*.cs"))
        {
            string concept = Path.GetRelativePath(Path.Combine(SourceTree.Root, "src/SonarGeom"), file).Split(Path.DirectorySeparatorChar)[0];
            Assert.True(Concepts.ContainsKey(concept), $"{file} lies in no known concept folder");
            foreach (Match match in ConceptName().Matches(File.ReadAllText(file)))
            {
                string used = match.Groups[1].Value;
                if (used != concept && Concepts.ContainsKey(used) && !Concepts[concept].Contains(used))
                {
                    wrong.Add($"{Path.GetFileName(file)} in {concept} uses {used}");
                }
            }
        }

        Assert.Empty(wrong.Distinct());
    }

    [Fact]
    public void ProjectsReferenceOnlyTheProjectsBelowThem()
    {
        foreach (var (project, allowed) in Projects)
        {
            XDocument document = XDocument.Load(Path.Combine(SourceTree.Root, "src", project, project + ".csproj"));
            foreach (XElement reference in document.Descendants("ProjectReference"))
            {
                string name = Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/'));
                Assert.True(allowed.Contains(name), $"{project} references {name}");
            }
        }
    }

    [Fact]
    public void TheModelUsesNoPackageButNumerics()
    {
        XDocument document = XDocument.Load(Path.Combine(SourceTree.Root, "src/SonarGeom/SonarGeom.csproj"));
        Assert.Equal(ModelPackages, document.Descendants("PackageReference").Select(p => p.Attribute("Include")!.Value));
    }

    [Fact]
    public void TheModelReadsNoFilesAndWritesNoConsole()
    {
        foreach (string file in SourceTree.Files("src/SonarGeom", "*.cs"))
        {
            string text = File.ReadAllText(file);
            foreach (string word in new[] { "Console.", "File.", "Directory.", "DateTime.Now", "DateTime.UtcNow", "Random.Shared", "new Random()", "Environment." })
            {
                Assert.False(Regex.IsMatch(text, $@"(?<![\w.]){Regex.Escape(word)}"), $"{Path.GetFileName(file)} uses {word}");
            }
        }
    }

    [Fact]
    public void TheTopLevelHoldsOnlyWhatIsAgreed()
    {
        string[] allowed = ["src", "tests", "bodies", "output", "README.md", "DEVELOPERS.md", "LICENSE", "Directory.Packages.props", "SonarGeom.sln"];
        foreach (string entry in Directory.EnumerateFileSystemEntries(SourceTree.Root).Select(e => Path.GetFileName(e)!))
        {
            Assert.True(entry.StartsWith('.') || allowed.Contains(entry), $"{entry} does not belong at the top level");
        }
    }

    [GeneratedRegex(@"SonarGeom\.(\w+)")]
    private static partial Regex ConceptName();
}
