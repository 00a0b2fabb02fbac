using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Files.Meshes;
using SonarGeom.Files.Shapes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tables;

/// <summary>The meshes that the rows of one table name: each read once, however many rows hold it.</summary>
/// <param name="table">The table, against whose place paths are resolved.</param>
/// <param name="store">The documents of the reading.</param>
internal sealed class TableMeshes(InputText table, DocumentStore store)
{
    private static readonly Column<string> File = new("file", new TextShape(1000));
    private static readonly Column<LengthUnit> Unit = new("unit", MeshObstacleShape.Unit);
    private static readonly Column<MeshAxis> Up = new("up_axis", MeshObstacleShape.Up);
    private static readonly Column<MeshAxis> Front = new("front", MeshObstacleShape.Front);
    private static readonly Column<double> Scale = new("scale", MeshObstacleShape.Scale);

    /// <summary>The columns of a mesh.</summary>
    internal static readonly ImmutableArray<Column> Columns = [File, Unit, Up, Front, Scale];

    private const string Sentence = "a mesh must have file, and unit and up_axis when the file ends in .obj, and may have front, scale";

    private readonly Dictionary<(string Path, MeshFileOptions Options), MeshShape> _read = [];

    /// <summary>Tells what is wrong when a row of another kind has cells of a mesh, or a mesh has cells of sizes.</summary>
    /// <param name="row">The row.</param>
    /// <param name="kind">Its kind.</param>
    /// <param name="sizes">The columns that a mesh has not.</param>
    internal static void Check(TableRow row, ObstacleKind kind, IEnumerable<Column> sizes)
    {
        foreach (Column column in kind == ObstacleKind.Mesh ? sizes.Where(row.Has) : Columns.Where(row.Has))
        {
            row.Fault(column, kind == ObstacleKind.Mesh
                ? $"{column.Name} is given, but a mesh has none; {Sentence}."
                : $"{column.Name} is given, but only a mesh has one; leave it empty.");
        }

        if (kind == ObstacleKind.Mesh && !row.Has(File))
        {
            row.Fault(File, $"file is missing; {Sentence}.");
        }
    }

    /// <summary>Reads the mesh of a row; null when it is at fault.</summary>
    /// <param name="row">The row, which names a file.</param>
    /// <param name="lossDecibels">Loss at one reflection. [dB]</param>
    internal MeshShape? Read(TableRow row, double lossDecibels)
    {
        var options = new MeshFileOptions
        {
            Unit = row.OrNull(Unit),
            Up = row.OrNull(Up),
            Front = row.OrNull(Front),
            ScaleRatio = row.Or(Scale, 1),
            ReflectionLossDecibels = lossDecibels,
        };
        string path = row.Or(File, string.Empty);
        if (row.HasFault || _read.TryGetValue((path, options), out MeshShape? shape))
        {
            return row.HasFault ? null : _read[(path, options)];
        }

        try
        {
            if (store.ReadMesh(path, table.Location ?? DocumentLocation.OfFile(table.Name)) is { } text)
            {
                shape = MeshFiles.Read(text, options, name => store.ReadNeighbour(text, name));
                _read.Add((path, options), shape);
                return shape;
            }

            row.Fault(File, $"file is {PlacedValue.Short(path)}; it must be the path of a file that ends in {string.Join(", ", MeshFiles.Extensions)}.");
        }
        catch (InvalidInputException e) when (e.Faults is [{ Line: null } fault])
        {
            // What the file does not state or cannot give must be mended where it is named.
            row.Fault(File, $"file is {fault.File}. {fault.Message}");
        }
        catch (InvalidInputException e)
        {
            row.Fault(e);
        }

        return null;
    }
}
