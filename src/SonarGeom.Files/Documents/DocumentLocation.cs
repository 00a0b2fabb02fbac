namespace SonarGeom.Files.Documents;

/// <summary>Where a document is: a file on disk, or a resource of the shipped catalogue.</summary>
/// <param name="Name">How faults call it.</param>
/// <param name="FilePath">Path of the file; null for a resource of the catalogue.</param>
/// <param name="Resource">Path within the catalogue; null for a file.</param>
internal sealed record DocumentLocation(string Name, string? FilePath, string? Resource)
{
    /// <summary>Gets a text that is the same for two ways to the same document.</summary>
    internal string Key => FilePath is null ? $"catalogue:{Resource}" : $"file:{Path.GetFullPath(FilePath)}";

    /// <summary>Returns the location of a file named by the user.</summary>
    internal static DocumentLocation OfFile(string path) => new(path.Replace('\\', '/'), path, null);

    /// <summary>Returns the location of a resource of the catalogue.</summary>
    internal static DocumentLocation OfResource(string resource) => new($"catalogue/{resource}", null, resource);

    /// <summary>Returns the location that a path within the document leads to; null when it leads out of the catalogue.</summary>
    internal DocumentLocation? Resolve(string path)
    {
        string forward = path.Replace('\\', '/');
        if (FilePath is not null)
        {
            // An absolute path stands for itself.
            string shown = Path.IsPathRooted(forward) ? forward : Plain(Join(Holder(Name), forward)) ?? forward;
            return new DocumentLocation(shown, Path.Combine(Path.GetDirectoryName(FilePath) ?? string.Empty, forward), null);
        }

        return Plain(Join(Holder(Resource ?? string.Empty), forward)) is { } resource && !resource.StartsWith("..", StringComparison.Ordinal)
            ? OfResource(resource)
            : null;
    }

    private static string Holder(string path)
    {
        int slash = path.LastIndexOf('/');
        return slash < 0 ? string.Empty : slash == 0 ? "/" : path[..slash];
    }

    private static string Join(string holder, string path) =>
        holder.Length == 0 ? path : holder.EndsWith('/') ? holder + path : $"{holder}/{path}";

    // Takes out "." and the ".." that undo a folder before them.
    private static string? Plain(string path)
    {
        List<string> parts = [];
        foreach (string part in path.Split('/'))
        {
            if (part == ".." && parts.Count > 0 && parts[^1] is not ".." and not "")
            {
                parts.RemoveAt(parts.Count - 1);
            }
            else if (part is not "." && (part.Length > 0 || parts.Count == 0))
            {
                parts.Add(part);
            }
        }

        return parts.Count == 0 ? null : string.Join('/', parts);
    }
}
