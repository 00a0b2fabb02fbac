using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Meshes;

/// <summary>Reads meshes of obstacles: OBJ, glTF and GLB.</summary>
public static class MeshFiles
{
    /// <summary>The largest mesh file that is read. [bytes]</summary>
    internal const int LargestBytes = 250_000_000;

    /// <summary>Gets the endings of the names of mesh files.</summary>
    internal static readonly ImmutableArray<string> Extensions = [".obj", ".gltf", ".glb"];

    /// <summary>Reads a mesh.</summary>
    /// <param name="path">Path of a file that ends in .obj, .gltf or .glb.</param>
    /// <param name="options">Unit, axes and materials. An OBJ file states neither its unit nor which axis is up, so both must be given.</param>
    /// <exception cref="InvalidInputException">The file cannot be read, is damaged or has no facet with an area; faults are told in one sentence each.</exception>
    public static MeshShape Read(string path, MeshFileOptions options)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(options);
        DocumentLocation location = DocumentLocation.OfFile(path);
        return Read(InputText.BinaryFromFile(path, location.Name, LargestBytes), options, name => Neighbour(location, name));
    }

    /// <summary>Returns whether the name of a file is that of a mesh.</summary>
    internal static bool IsMesh(string path) => Extensions.Any(e => path.EndsWith(e, StringComparison.OrdinalIgnoreCase));

    /// <summary>Reads a file that a glTF file names: beside it or below.</summary>
    internal static InputText Neighbour(DocumentLocation of, string name)
    {
        if (name.Contains("..", StringComparison.Ordinal) || name.Contains(':', StringComparison.Ordinal) || Path.IsPathRooted(name)
            || of.Resolve(name) is not { FilePath: { } path } location)
        {
            throw new InvalidInputException(of.Name, $"The file names the buffer {PlacedValue.Short(name)}; it must lie beside the file or in a folder below.");
        }

        return InputText.BinaryFromFile(path, location.Name, LargestBytes);
    }

    /// <summary>Reads a mesh from the bytes of its file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="options">Unit, axes and materials.</param>
    /// <param name="neighbour">Reads a file that this one names.</param>
    internal static MeshShape Read(InputText file, MeshFileOptions options, Func<string, InputText> neighbour)
    {
        bool isObj = file.Name.EndsWith(".obj", StringComparison.OrdinalIgnoreCase);
        if (!IsMesh(file.Name))
        {
            throw new InvalidInputException(file.Name, $"This is no mesh file; its name must end in {string.Join(", ", Extensions)}.");
        }

        if (isObj && (options.Unit is null || options.Up is null))
        {
            throw new InvalidInputException(
                file.Name, "An OBJ file states neither its unit nor which axis is up; give unit (m, cm, mm or in) and up_axis (y or z) beside its path.");
        }

        Rotation turn = options.ObstacleFromFile(MeshAxis.Y)
            ?? throw new InvalidInputException(file.Name, "The front axis lies along the up axis; it must stand square to it.");
        RawMesh raw = isObj ? ObjReader.Read(file) : GltfReader.Read(file, neighbour);
        return Made(file.Name, raw, options, turn);
    }

    private static MeshShape Made(string fileName, RawMesh raw, MeshFileOptions options, Rotation turn)
    {
        string[] known = [.. raw.Materials.Select(m => m.Name).Where(n => n.Length > 0).Distinct(StringComparer.Ordinal)];
        foreach (MaterialLoss loss in options.Materials)
        {
            if (!known.Contains(loss.Material, StringComparer.Ordinal))
            {
                throw new InvalidInputException(
                    fileName,
                    known.Length == 0
                        ? $"The mesh has no material named {PlacedValue.Short(loss.Material)}; it has none with a name."
                        : $"The mesh has no material named {PlacedValue.Short(loss.Material)}; {NearestName.Advice(loss.Material, [.. known.Take(20).Select(k => PlacedValue.Short(k))])}");
            }
        }

        double scale = options.MetresPerUnit;
        ReadOnlySpan<Vec3> positions = raw.Positions;
        var vertices = new Vec3[positions.Length];
        for (int i = 0; i < vertices.Length; i++)
        {
            vertices[i] = turn.Apply(scale * positions[i]);
        }

        ImmutableArray<MeshMaterial> materials =
        [
            .. raw.Materials.Select(m => new MeshMaterial(
                m.Name,
                Own(vertices, m.Facets),
                options.Materials.LastOrDefault(l => l.Material == m.Name)?.ReflectionLossDecibels ?? options.ReflectionLossDecibels,
                options.IsTwoSided || m.IsTwoSided)),
        ];
        try
        {
            return MeshShape.Of(Path.GetFileName(fileName), materials);
        }
        catch (ArgumentException e)
        {
            throw new InvalidInputException(fileName, Sentences.Of(e));
        }
    }

    // The vertices that the facets of one material use: so that many materials do not each carry all vertices.
    private static TriangleMesh Own(Vec3[] vertices, List<Facet> facets)
    {
        var place = new Dictionary<int, int>();
        var own = ImmutableArray.CreateBuilder<Vec3>();
        ImmutableArray<Facet> placed = [.. facets.Select(f => new Facet(Place(f.A), Place(f.B), Place(f.C)))];
        return new TriangleMesh(own.ToImmutable(), placed);

        int Place(int index)
        {
            if (!place.TryGetValue(index, out int at))
            {
                at = own.Count;
                place.Add(index, at);
                own.Add(vertices[index]);
            }

            return at;
        }
    }
}
