using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Bodies;

/// <summary>Reads the tables from which bodies are built.</summary>
public static class BodyTableFiles
{
    private const string ShippedFolder = "bodies";

    private static readonly Lazy<BodyTables> ShippedTables = new(() => Read(ReadShipped));

    /// <summary>Gets the names of the files that a folder of body tables must hold.</summary>
    public static ImmutableArray<string> FileNames { get; } =
    [
        BodyTableColumns.PercentilesFile,
        BodyTableColumns.RegressionFile,
        BodyTableColumns.ChildStatureFile,
        BodyTableColumns.ChildProportionsFile,
        BodyTableColumns.SeatsFile,
        BodyTableColumns.ExcursionsFile,
        BodyTableColumns.StridesFile,
        BodyTableColumns.GaitFile,
        BodyTableColumns.AssumptionsFile,
        BodyTableColumns.SourcesFile,
    ];

    /// <summary>Gets the tables shipped with the library.</summary>
    public static BodyTables Shipped => ShippedTables.Value;

    /// <summary>Reads the tables of a folder that holds files of the names in <see cref="FileNames"/>.</summary>
    /// <param name="folder">Path of the folder.</param>
    /// <exception cref="InvalidInputException">A file is missing or at fault; all faults found are told.</exception>
    public static BodyTables ReadFolder(string folder)
    {
        ArgumentNullException.ThrowIfNull(folder);
        string shown = folder.Replace('\\', '/').TrimEnd('/');
        return Read(file => InputText.FromFile(Path.Combine(folder, file), $"{shown}/{file}"));
    }

    /// <summary>Writes the shipped tables into a folder, to be edited there.</summary>
    /// <param name="folder">Path of the folder; it is made if it is not there.</param>
    public static void WriteShipped(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (string file in FileNames)
        {
            File.WriteAllBytes(Path.Combine(folder, file), CatalogueResources.Find($"{ShippedFolder}/{file}")!);
        }
    }

    private static InputText ReadShipped(string file) =>
        InputText.FromBytes($"catalogue/{ShippedFolder}/{file}", CatalogueResources.Find($"{ShippedFolder}/{file}")!);

    private static BodyTables Read(Func<string, InputText> open)
    {
        FaultList faults = new();
        BodyTables tables = new BodyTableReader(open, faults).Read();
        faults.ThrowIfAny();
        return tables;
    }
}
