using System.Runtime.CompilerServices;

namespace SonarGeom.Tests.Conventions;

/// <summary>Finds the source files of this checkout.</summary>
internal static class SourceTree
{
    internal static string Root { get; } = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "..", "..", ".."));

    internal static IEnumerable<string> Files(string under, string pattern) =>
        Directory.EnumerateFiles(Path.Combine(Root, under), pattern, SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)
                && !f.Contains($"{Path.DirectorySeparatorChar}bin{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);

    private static string Here([CallerFilePath] string path = "") => path;
}
