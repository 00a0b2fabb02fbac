using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Meshes;
using SonarGeom.Files.Shapes;

namespace SonarGeom.Files.Documents;

/// <summary>The documents of one reading: each parsed once, with the chain of those now open, so that circles are found.</summary>
internal sealed class DocumentStore
{
    /// <summary>The most documents that may refer one to the next.</summary>
    internal const int LongestChain = 16;

    private readonly Dictionary<string, PlacedValue?> _parsed = new(StringComparer.Ordinal);
    private readonly Dictionary<(object Kind, string Key), object?> _made = [];
    private readonly List<DocumentLocation> _chain = [];
    private readonly SortedDictionary<string, InputText> _sources = new(StringComparer.Ordinal);

    /// <summary>Gets the faults of the reading.</summary>
    internal FaultList Faults { get; } = new();

    /// <summary>Gets the files read so far, in the order of their names.</summary>
    internal IReadOnlyCollection<InputText> Sources => _sources.Values;

    /// <summary>Opens the document with which the reading begins; null when it is at fault.</summary>
    internal PlacedValue? OpenFirst(DocumentLocation location, InputText? text = null)
    {
        _chain.Add(location);
        try
        {
            text ??= Load(location);
            text.Location = location;
            _sources[location.Name] = text;
            return JsonParser.Parse(text, Faults);
        }
        catch (InvalidInputException e)
        {
            Faults.AddRange(e);
            return null;
        }
    }

    /// <summary>Opens the document to which a text refers, as the newest of the chain; null when it is at fault.
    /// When it is not null, <see cref="Close"/> must follow.</summary>
    internal PlacedValue? OpenReferenced(PlacedValue reference, IDocumentKind kind, Reading reading)
    {
        if (Locate(reference, kind, reading) is not { } location)
        {
            return null;
        }

        if (!_parsed.TryGetValue(location.Key, out PlacedValue? document))
        {
            document = Read(reference, kind, location, reading) is { } text ? Parse(text) : null;
            _parsed[location.Key] = document;
        }

        if (document is not null)
        {
            _chain.Add(location);
        }

        return document;
    }

    /// <summary>Takes the newest document off the chain.</summary>
    internal void Close() => _chain.RemoveAt(_chain.Count - 1);

    /// <summary>Returns the text to which a text refers; null, with a fault at the reference, when it cannot be read.</summary>
    internal InputText? ReadReferenced(PlacedValue reference, IDocumentKind kind, Reading reading) =>
        Locate(reference, kind, reading) is { } location ? Read(reference, kind, location, reading) : null;

    /// <summary>Returns the bytes of a mesh to which a text refers; null when the text leads to no file.</summary>
    /// <exception cref="InvalidInputException">The file cannot be read.</exception>
    internal InputText? ReadMesh(PlacedValue reference) => ReadMesh(reference.Text, reference.Source.Location);

    /// <summary>Returns the bytes of a mesh to which a path leads; null when it leads to no mesh file.</summary>
    /// <param name="reference">The path.</param>
    /// <param name="from">Where the file is that names it.</param>
    /// <exception cref="InvalidInputException">The file cannot be read.</exception>
    internal InputText? ReadMesh(string reference, DocumentLocation? from) =>
        !MeshFiles.IsMesh(reference) || from?.Resolve(reference) is not { } location ? null
        : location.FilePath is { } path ? Kept(InputText.BinaryFromFile(path, location.Name, MeshFiles.LargestBytes), location)
        : CatalogueResources.Find(location.Resource!) is { } bytes ? Kept(InputText.FromBinary(location.Name, bytes), location)
        : throw new InvalidInputException(location.Name, "There is no such file; check the spelling of its path.");

    /// <summary>Returns the bytes of a file that a mesh names.</summary>
    /// <exception cref="InvalidInputException">The file cannot be read.</exception>
    internal InputText ReadNeighbour(InputText mesh, string name)
    {
        InputText text = MeshFiles.Neighbour(mesh.Location!, name);
        _sources[text.Name] = text;
        return text;
    }

    private InputText Kept(InputText text, DocumentLocation location)
    {
        text.Location = location;
        _sources[location.Name] = text;
        return text;
    }

    /// <summary>Returns what was made before of the same document, if it was.</summary>
    internal bool TryGetMade<T>(IDocumentKind kind, InputText source, out T? made)
    {
        bool has = _made.TryGetValue((kind, source.Location!.Key), out object? found);
        made = has && found is T its ? its : default;
        return has;
    }

    /// <summary>Keeps what was made of a document; null when it is at fault.</summary>
    internal void KeepMade<T>(IDocumentKind kind, InputText source, T? made) => _made[(kind, source.Location!.Key)] = made;

    /// <summary>Returns whether a text is a path rather than a name of the catalogue.</summary>
    internal static bool IsPath(string text, IDocumentKind kind) =>
        text.EndsWith(kind.Extension, StringComparison.OrdinalIgnoreCase)
        || text.Contains('/', StringComparison.Ordinal)
        || text.Contains('\\', StringComparison.Ordinal);

    /// <summary>Reads the text at a location.</summary>
    internal static InputText Load(DocumentLocation location)
    {
        InputText text = location.FilePath is not null
            ? InputText.FromFile(location.FilePath, location.Name)
            : CatalogueResources.Find(location.Resource!) is { } bytes
                ? InputText.FromBytes(location.Name, bytes)
                : throw new InvalidInputException(location.Name, "There is no such file in the catalogue.");
        text.Location = location;
        return text;
    }

    private DocumentLocation? Locate(PlacedValue reference, IDocumentKind kind, Reading reading)
    {
        string text = reference.Text;
        if (reference.Kind is not System.Text.Json.JsonValueKind.String || string.IsNullOrWhiteSpace(text) || text.Any(char.IsControl) || text.Length > 1000)
        {
            reading.Refuse(reference, $"the name of a {kind.Name} of the catalogue or the path of a file");
            return null;
        }

        DocumentLocation? location;
        if (IsPath(text, kind))
        {
            location = reference.Source.Location!.Resolve(text);
            if (location is null)
            {
                reading.Fault(reference, $"{reference.Name} {reference.Is}, which leads out of the catalogue; it must be the path of a file in it.");
                return null;
            }
        }
        else
        {
            string[] known = [.. CatalogueResources.Names(kind.CatalogueFolder, kind.Extension)];
            if (!known.Contains(text, StringComparer.Ordinal))
            {
                reading.Fault(
                    reference,
                    $"{reference.Name} {reference.Is}, but the catalogue has no {kind.Name} of that name, and a path would end in {kind.Extension}; {NearestName.Advice(text, known)}");
                return null;
            }

            location = DocumentLocation.OfResource($"{kind.CatalogueFolder}/{text}{kind.Extension}");
        }

        int circle = _chain.FindIndex(l => l.Key == location.Key);
        if (circle >= 0)
        {
            string way = string.Join(" → ", _chain.Skip(circle).Append(location).Select(l => l.Name));
            reading.Fault(reference, $"{reference.Name} {reference.Is}, which leads in a circle ({way}); it must be another file.");
            return null;
        }

        if (_chain.Count >= LongestChain)
        {
            reading.Fault(reference, $"{reference.Name} {reference.Is}, the {LongestChain + 1}th file in a chain of references; at most {LongestChain} may follow one another.");
            return null;
        }

        return location;
    }

    private InputText? Read(PlacedValue reference, IDocumentKind kind, DocumentLocation location, Reading reading)
    {
        try
        {
            InputText text = Load(location);
            _sources[location.Name] = text;
            return text;
        }
        catch (InvalidInputException e) when (e.Faults is [{ Line: null } fault])
        {
            // The file as a whole is at fault, so the reference is what the user must mend.
            string way = _chain.Count < 2 ? string.Empty : $" (by way of {string.Join(" → ", _chain.Select(l => l.Name))})";
            reading.Fault(reference, $"{reference.Name} {reference.Is}, so the {kind.Name} is looked for in {location.Name}{way}. {fault.Message}");
            return null;
        }
        catch (InvalidInputException e)
        {
            Faults.AddRange(e);
            return null;
        }
    }

    private PlacedValue? Parse(InputText text)
    {
        try
        {
            return JsonParser.Parse(text, Faults);
        }
        catch (InvalidInputException e)
        {
            Faults.AddRange(e);
            return null;
        }
    }
}
