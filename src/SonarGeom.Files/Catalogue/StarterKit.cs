using System.Collections.Immutable;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Output;

namespace SonarGeom.Files.Catalogue;

/// <summary>Writes the catalogue as files to start from: scenarios, layouts, transducers, wearers, probes, sets of obstacles, and the schemas.</summary>
public static class StarterKit
{
    /// <summary>Gets the name within the folder of the scenario to begin with.</summary>
    public static string MainScenario => $"scenarios/{ShippedCatalogue.DefaultScenario}.json";

    /// <summary>Writes all files or none.</summary>
    /// <param name="folder">Path of the folder; it need not exist.</param>
    /// <param name="replaceExisting">Whether files that are there already are replaced; otherwise they are refused.</param>
    /// <returns>The names of the files written, in order.</returns>
    /// <exception cref="InvalidInputException">The folder may not be written, or has one of the files already.</exception>
    public static ImmutableArray<string> Write(string folder, bool replaceExisting = false)
    {
        using OutputFolder output = OutputFolder.Open(folder);
        foreach (string name in CatalogueResources.All)
        {
            output.WriteBytes(name, CatalogueResources.Find(name)!);
        }

        foreach (FileSchema schema in FileSchemas.All)
        {
            output.WriteText($"schemas/{schema.FileName}", schema.Text);
        }

        if (!replaceExisting && output.WouldReplace() is [var first, ..] there)
        {
            string others = there.Count == 1 ? string.Empty : $" and {there.Count - 1} more files of the kit";
            throw new InvalidInputException(folder, $"The folder already has {first}{others}; choose another folder, or ask for them to be replaced.");
        }

        output.Commit();
        return [.. output.Names];
    }
}
