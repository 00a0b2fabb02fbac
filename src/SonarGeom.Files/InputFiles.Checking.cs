using System.Globalization;
using SonarGeom.Bodies;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Files.Meshes;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Transducers;

namespace SonarGeom.Files;

public static partial class InputFiles
{
    /// <summary>Reads a file of any kind, with all that it refers to, and tells what it is. The kind of a document is told by its
    /// <c>$schema</c>, else by its members; that of a table by its columns.</summary>
    /// <param name="path">Path of a file.</param>
    /// <param name="bodyTables">The tables from which wearers are built; null for the shipped ones.</param>
    /// <exception cref="InvalidInputException">Something is wrong; all faults found are told.</exception>
    public static CheckedFile Check(string path, BodyTables? bodyTables = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        DocumentLocation location = DocumentLocation.OfFile(path);
        if (MeshFiles.IsMesh(path))
        {
            return CheckMesh(path, location.Name);
        }

        InputText text = DocumentStore.Load(location);
        return path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)
            ? CheckTable(location.Name, text)
            : CheckDocument(location, text, bodyTables ?? BodyTableFiles.Shipped);
    }

    // Lengths are told in the unit of the file, which an OBJ file does not state: as millimetres, so that none is too large.
    private static CheckedFile CheckMesh(string path, string name)
    {
        MeshShape mesh = MeshFiles.Read(path, new MeshFileOptions { Unit = LengthUnit.Millimetre, Up = MeshAxis.Z, Front = MeshAxis.MinusX });
        Vec3 size = 1000 * (mesh.Bounds.HighMetres - mesh.Bounds.LowMetres);
        string[] materials = [.. mesh.Materials.Select(m => m.Name).Where(n => n.Length > 0).Distinct(StringComparer.Ordinal).Take(10).Select(n => PlacedValue.Short(n))];
        string cleaned = mesh.Cleaning.InWords is { Length: > 0 } words ? $", {words}" : string.Empty;
        return new CheckedFile(
            name, "mesh",
            string.Create(CultureInfo.InvariantCulture, $"{Count(mesh.FacetCount, "triangle")}, {size.X:0.###} x {size.Y:0.###} x {size.Z:0.###} along x, y, z in the file's own unit, ")
            + $"{(mesh.Cleaning.IsClosed ? "closed" : "open")}, materials {(materials.Length == 0 ? "none" : string.Join(", ", materials))}{cleaned}");
    }

    private static CheckedFile CheckTable(string name, InputText text)
    {
        string header = System.Text.Encoding.UTF8.GetString(text.Utf8.Span).Split('\n')[0];
        FaultList faults = new();
        if (header.Contains("planned_trials_count", StringComparison.Ordinal))
        {
            var rows = FieldSheetTable.Read(text, faults).Observations;
            faults.ThrowIfAny();
            return new CheckedFile(name, "field test", $"{Count(rows.Length, "row")}, {rows.Count(r => r.IsDone)} done");
        }

        if (header.Contains("off_axis_deg", StringComparison.Ordinal))
        {
            PolarTable? table = PolarTableReader.Read(text, faults);
            faults.ThrowIfAny();
            return new CheckedFile(name, "polar table", table!.Description);
        }

        if (header.Contains("sensor_", StringComparison.Ordinal))
        {
            int poses = PoseTable.Read(text, faults).Length;
            faults.ThrowIfAny();
            return new CheckedFile(name, "poses", Count(poses, "pose"));
        }

        int obstacles = ObstacleTable.Read(text, new DocumentStore(), faults).Length;
        faults.ThrowIfAny();
        return new CheckedFile(name, ObstacleListShape.Table.Name, Count(obstacles, "obstacle"));
    }

    private static CheckedFile CheckDocument(DocumentLocation location, InputText text, BodyTables tables)
    {
        FaultList faults = new();
        PlacedValue document = JsonParser.Parse(text, faults);
        string[] members = [.. document.Members.Select(m => m.MemberName!)];
        string stated = document.Member(ObjectShapeNames.Schema)?.Text ?? string.Empty;
        (string Name, int Score, Func<string> Summary)[] kinds =
        [
            Kind(ScenarioKind.Kind, s => $"{s.Name}: {Count(s.Wearers.Length, "wearer")}, {Count(s.Obstacles.Obstacles.Length, "obstacle")}, layout {s.Layout.Name}"),
            Kind(LayoutKind.Kind, l => $"{l.Name}: {Count(l.Sensors.Length, "sensor")}"),
            Kind(TransducerKind.Kind, t => $"{t.Transducer.Name}: figure of merit {t.Transducer.LateFigureOfMeritDecibels:0} dB"),
            Kind(WearerKind.Kind, w => w.Name),
            Kind(ProbeKind.Kind, p => p.Name),
        ];
        (string kind, int score, Func<string> summary) = kinds.MaxBy(k => k.Score);
        if (score == 0)
        {
            faults.ThrowIfAny();
            throw new InvalidInputException(
                location.Name, $"It cannot be told what this file describes; it must have the members of a {string.Join(", ", kinds.SkipLast(1).Select(k => k.Name))} or {kinds[^1].Name}.");
        }

        return new CheckedFile(location.Name, kind, summary());

        (string Name, int Score, Func<string> Summary) Kind<T>(DocumentKind<T> its, Func<T, string> words)
            where T : class =>
            (its.Name,
                stated.EndsWith($"{its.Name}.schema.json", StringComparison.Ordinal) ? int.MaxValue : its.Inline.MemberNames.Count(m => m is not ("name" or "description") && members.Contains(m)),
                () => words(its.Read(location, text, tables, out _)));
    }

    private static string Count(int number, string what) => $"{number} {what}{(number == 1 ? string.Empty : "s")}";
}
