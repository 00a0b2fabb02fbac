namespace SonarGeom.Files.Shapes;

/// <summary>A kind of comma-separated table that documents refer to.</summary>
/// <param name="Name">The word for the kind.</param>
/// <param name="CatalogueFolder">The folder of the catalogue that holds tables of the kind.</param>
internal sealed record TableKind(string Name, string CatalogueFolder) : IDocumentKind
{
    /// <inheritdoc/>
    public string Extension => ".csv";
}
