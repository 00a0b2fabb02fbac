namespace SonarGeom.Files.Shapes;

/// <summary>A kind of document: what it is called, and where the catalogue keeps those of its kind.</summary>
internal interface IDocumentKind
{
    /// <summary>Gets the word for the kind.</summary>
    string Name { get; }

    /// <summary>Gets the folder of the catalogue that holds documents of the kind.</summary>
    string CatalogueFolder { get; }

    /// <summary>Gets the ending of the names of its files, with the dot.</summary>
    string Extension { get; }
}
