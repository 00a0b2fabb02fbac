using System.Collections.Immutable;
using SonarGeom.Files.Kinds;

namespace SonarGeom.Files.Catalogue;

/// <summary>What the catalogue inside the library holds, by name.</summary>
public static class ShippedCatalogue
{
    /// <summary>The scenario that is studied when none is named.</summary>
    public const string DefaultScenario = "harbour-promenade";

    /// <summary>Gets the names of the scenarios.</summary>
    public static ImmutableArray<string> Scenarios { get; } = Names(ScenarioKind.Kind);

    /// <summary>Gets the names of the layouts.</summary>
    public static ImmutableArray<string> Layouts { get; } = Names(LayoutKind.Kind);

    /// <summary>Gets the names of the transducers.</summary>
    public static ImmutableArray<string> Transducers { get; } = Names(TransducerKind.Kind);

    /// <summary>Gets the names of the wearers.</summary>
    public static ImmutableArray<string> Wearers { get; } = Names(WearerKind.Kind);

    /// <summary>Gets the names of the probes.</summary>
    public static ImmutableArray<string> Probes { get; } = Names(ProbeKind.Kind);

    /// <summary>Gets the names of the sets of obstacles.</summary>
    public static ImmutableArray<string> ObstacleSets { get; } = Names(ObstacleListShape.Table);

    private static ImmutableArray<string> Names(Shapes.IDocumentKind kind) =>
        CatalogueResources.Names(kind.CatalogueFolder, kind.Extension);
}
