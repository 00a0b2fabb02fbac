using System.Globalization;
using System.Runtime.CompilerServices;

namespace SonarGeom.Tests.Published.Facets;

/// <summary>Reads a table of the Data folder beside this file: lines that begin with # are notes, then a header, then rows.</summary>
internal static class FacetTable
{
    internal static IReadOnlyList<IReadOnlyDictionary<string, string>> Read(string name, [CallerFilePath] string testFile = "")
    {
        string path = Path.Combine(Path.GetDirectoryName(testFile)!, "Data", name);
        string[] lines = [.. File.ReadLines(path).Where(line => !line.StartsWith('#'))];
        string[] header = lines[0].Split(',');
        return [.. lines.Skip(1).Select(line => header.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second))];
    }

    internal static double Number(this IReadOnlyDictionary<string, string> row, string column) =>
        double.Parse(row[column], CultureInfo.InvariantCulture);
}
