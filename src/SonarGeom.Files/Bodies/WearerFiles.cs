using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Bodies;

/// <summary>Reads descriptions of wearers.</summary>
public static class WearerFiles
{
    /// <summary>Gets the names of the wearers shipped with the library.</summary>
    public static ImmutableArray<string> ShippedNames { get; } = CatalogueResources.Names(WearerKind.Kind.CatalogueFolder, WearerKind.Kind.Extension);

    /// <summary>Reads the description of a wearer from a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InvalidInputException">The file cannot be read or is at fault; all faults found are told.</exception>
    public static WearerSpec Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return WearerKind.Kind.Read(DocumentLocation.OfFile(path));
    }

    /// <summary>Returns the description of a wearer shipped with the library.</summary>
    /// <param name="name">One of <see cref="ShippedNames"/>.</param>
    /// <exception cref="InvalidInputException">There is no wearer of that name.</exception>
    public static WearerSpec Shipped(string name)
    {
        if (!ShippedNames.Contains(name, StringComparer.Ordinal))
        {
            throw new InvalidInputException("catalogue", $"The catalogue has no wearer {name}; {NearestName.Advice(name, ShippedNames)}");
        }

        return WearerKind.Kind.Read(DocumentLocation.OfResource($"{WearerKind.Kind.CatalogueFolder}/{name}{WearerKind.Kind.Extension}"));
    }

    /// <summary>Returns the JSON Schema of such files.</summary>
    public static string SchemaText() => WearerKind.Kind.SchemaText();
}
