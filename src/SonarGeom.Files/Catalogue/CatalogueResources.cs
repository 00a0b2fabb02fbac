using System.Collections.Immutable;
using System.Reflection;

namespace SonarGeom.Files.Catalogue;

/// <summary>The files shipped inside the library.</summary>
internal static class CatalogueResources
{
    private const string Prefix = "catalogue/";

    private static readonly Assembly Holder = typeof(CatalogueResources).Assembly;

    /// <summary>Gets the paths of all files of the catalogue, in order.</summary>
    internal static ImmutableArray<string> All { get; } =
    [
        .. Holder.GetManifestResourceNames()
            .Where(n => n.StartsWith(Prefix, StringComparison.Ordinal))
            .Select(n => n[Prefix.Length..])
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>Returns the names of the files of one folder that have an ending, without the ending.</summary>
    internal static ImmutableArray<string> Names(string folder, string extension) =>
    [
        .. All
            .Where(n => n.StartsWith($"{folder}/", StringComparison.Ordinal) && n.EndsWith(extension, StringComparison.Ordinal))
            .Select(n => n[(folder.Length + 1)..^extension.Length])
            .Where(n => !n.Contains('/', StringComparison.Ordinal)),
    ];

    /// <summary>Returns the bytes of a file, or null when there is none of that path.</summary>
    internal static byte[]? Find(string path)
    {
        using Stream? stream = Holder.GetManifestResourceStream(Prefix + path);
        if (stream is null)
        {
            return null;
        }

        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
