using System.Collections.Immutable;
using System.Security.Cryptography;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Files;

/// <summary>A scenario and the files it was read from.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="SourceNames">The files, in the order of their names.</param>
/// <param name="Sha256">The hash of their contents, the same wherever they are kept; 64 hexadecimal digits.</param>
public sealed record LoadedScenario(Scenario Scenario, ImmutableArray<string> SourceNames, string Sha256);

/// <summary>A file that was read without fault.</summary>
/// <param name="Name">The file as the user named it.</param>
/// <param name="Kind">What it is: scenario, layout, transducer, wearer, probe, set of obstacles, poses, polar table, field test.</param>
/// <param name="Summary">What it holds, in a few words.</param>
public sealed record CheckedFile(string Name, string Kind, string Summary);

/// <summary>
/// Reads input files. Each is named by the path of a file, or by a name of the shipped catalogue: what ends in .json or .csv or holds
/// a slash is a path.
/// </summary>
public static partial class InputFiles
{
    /// <summary>Reads a scenario and all that it refers to, and checks that its wearers can be built and wear its layouts.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <param name="bodyTables">The tables from which wearers are built; null for the shipped ones.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static LoadedScenario ReadScenario(string nameOrPath, BodyTables? bodyTables = null)
    {
        Scenario scenario = ScenarioKind.Kind.Read(
            Locate(nameOrPath, ScenarioKind.Kind), null, bodyTables ?? BodyTableFiles.Shipped, out IReadOnlyCollection<InputText> sources);
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

        // The order of contents must not depend on where the files are kept.
        foreach (byte[] content in sources.Select(s => SHA256.HashData(s.Utf8.Span)).OrderBy(Convert.ToHexString, StringComparer.Ordinal))
        {
            hash.AppendData(content);
        }

        return new LoadedScenario(scenario, [.. sources.Select(s => s.Name)], Convert.ToHexStringLower(hash.GetHashAndReset()));
    }

    /// <summary>Reads a layout and all that it refers to.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static SensorLayout ReadLayout(string nameOrPath) => Read(nameOrPath, LayoutKind.Kind);

    /// <summary>Reads a transducer.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static TransducerFile ReadTransducer(string nameOrPath) => Read(nameOrPath, TransducerKind.Kind);

    /// <summary>Reads a wearer and checks that it can be built.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <param name="bodyTables">The tables from which it is built; null for the shipped ones.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static WearerSpec ReadWearer(string nameOrPath, BodyTables? bodyTables = null) => Read(nameOrPath, WearerKind.Kind, bodyTables);

    /// <summary>Reads a probe.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static Probe ReadProbe(string nameOrPath) => Read(nameOrPath, ProbeKind.Kind);

    /// <summary>Reads a table of obstacles.</summary>
    /// <param name="nameOrPath">Path of a file, or name of the catalogue.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static ImmutableArray<Obstacle> ReadObstacles(string nameOrPath)
    {
        FaultList faults = new();
        ImmutableArray<Obstacle> obstacles = ObstacleTable.Read(DocumentStore.Load(Locate(nameOrPath, ObstacleListShape.Table)), new DocumentStore(), faults);
        faults.ThrowIfAny();
        return obstacles;
    }

    private static T Read<T>(string nameOrPath, DocumentKind<T> kind, BodyTables? bodyTables = null)
        where T : class =>
        kind.Read(Locate(nameOrPath, kind), null, bodyTables ?? BodyTableFiles.Shipped, out _);

    private static DocumentLocation Locate(string nameOrPath, IDocumentKind kind)
    {
        ArgumentNullException.ThrowIfNull(nameOrPath);
        if (DocumentStore.IsPath(nameOrPath, kind))
        {
            return DocumentLocation.OfFile(nameOrPath);
        }

        string[] known = [.. CatalogueResources.Names(kind.CatalogueFolder, kind.Extension)];
        return known.Contains(nameOrPath, StringComparer.Ordinal)
            ? DocumentLocation.OfResource($"{kind.CatalogueFolder}/{nameOrPath}{kind.Extension}")
            : throw new InvalidInputException(
                PlacedValue.Short(nameOrPath),
                Path.Exists(nameOrPath)
                    ? $"This must be a {kind.Name}: a name of the catalogue, or the path of a file that ends in {kind.Extension}."
                    : $"The catalogue has no {kind.Name} of that name, and a path would end in {kind.Extension}; {NearestName.Advice(nameOrPath, known)}");
    }
}
