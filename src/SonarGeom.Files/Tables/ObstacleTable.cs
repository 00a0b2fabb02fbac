using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tables;

/// <summary>Obstacles as a comma-separated table, one a row.</summary>
public static class ObstacleTable
{
    /// <summary>The most obstacles one table may hold.</summary>
    public const int MostRows = 100_000;

    private static readonly Column<string> Id = new("id", ObstacleShapes.Id, isRequired: true);
    private static readonly Column<ObstacleKind> Kind = new("kind", ObstacleShapes.AnyKind, isRequired: true);
    private static readonly Column<double> X = new("x_m", ObstacleShapes.Position, isRequired: true);
    private static readonly Column<double> Y = new("y_m", ObstacleShapes.Position, isRequired: true);
    private static readonly Column<double> Z = new("z_m", ObstacleShapes.Position);
    private static readonly Column<double> Yaw = new("yaw_deg", ObstacleShapes.Turn);
    private static readonly Column<double> Pitch = new("pitch_deg", ObstacleShapes.Turn);
    private static readonly Column<double> Roll = new("roll_deg", ObstacleShapes.Turn);
    private static readonly Column<double> Length = new(ObstacleRules.Length, ObstacleShapes.Size);
    private static readonly Column<double> Width = new(ObstacleRules.Width, ObstacleShapes.Size);
    private static readonly Column<double> Height = new(ObstacleRules.Height, ObstacleShapes.Size);
    private static readonly Column<double> Depth = new(ObstacleRules.Depth, ObstacleShapes.Size);
    private static readonly Column<double> Diameter = new(ObstacleRules.Diameter, ObstacleShapes.Size);
    private static readonly Column<CapShape> Cap = new(ObstacleRules.Cap, ObstacleShapes.Cap);
    private static readonly Column<double> CapRise = new(ObstacleRules.CapRise, ObstacleShapes.Size);
    private static readonly Column<double> Sag = new(ObstacleRules.Sag, ObstacleShapes.SizeOrNone);
    private static readonly Column<double> Riser = new(ObstacleRules.Riser, ObstacleShapes.Size);
    private static readonly Column<double> Going = new(ObstacleRules.Going, ObstacleShapes.Size);
    private static readonly Column<int> Steps = new(ObstacleRules.Steps, ObstacleShapes.Steps);
    private static readonly Column<FoliageForm> Form = new(ObstacleRules.Form, ObstacleShapes.Form);
    private static readonly Column<double> LeafRadius = new(ObstacleRules.LeafRadius, ObstacleShapes.LeafRadius);
    private static readonly Column<double> Leaves = new(ObstacleRules.Leaves, ObstacleShapes.Leaves);
    private static readonly Column<double> Loss = new("reflection_loss_db", ObstacleShapes.Loss);
    private static readonly Column<double> Roughness = new("roughness_mm", ObstacleShapes.Roughness);
    private static readonly Column<double> Speed = new("closing_speed_m_s", ObstacleShapes.Speed);
    private static readonly Column<string> Note = new("note", ObstacleShapes.Words);
    private static readonly Column<string> Source = new("source", ObstacleShapes.Words);

    private static readonly ImmutableArray<Column> Sized =
    [
        Id, Kind, X, Y, Z, Yaw, Pitch, Roll, Length, Width, Height, Depth, Diameter, Cap, CapRise, Sag, Riser, Going, Steps,
        Loss, Roughness, Speed, Note, Source, Form, LeafRadius, Leaves,
    ];

    /// <summary>The columns, in order.</summary>
    internal static readonly ImmutableArray<Column> Columns = [.. Sized, .. TableMeshes.Columns];

    // A mesh stands upright and has its sizes in its file.
    private static readonly ImmutableArray<Column> NotOfMeshes = [Pitch, Roll, .. Columns.Where(c => ObstacleRules.All.Contains(c.Name))];

    private static readonly Dictionary<string, Column> SizeColumns =
        Columns.Where(c => ObstacleRules.All.Contains(c.Name)).ToDictionary(c => c.Name, StringComparer.Ordinal);

    /// <summary>Gets the names of the columns, in order.</summary>
    public static ImmutableArray<string> ColumnNames { get; } = [.. Columns.Select(c => c.Name)];

    /// <summary>Reads a table from a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InvalidInputException">The file cannot be read or a row is at fault; all faults found are told.</exception>
    public static ImmutableArray<Obstacle> Read(string path)
    {
        FaultList faults = new();
        ImmutableArray<Obstacle> obstacles = Read(InputText.FromFile(path, path), new DocumentStore(), faults);
        faults.ThrowIfAny();
        return obstacles;
    }

    /// <summary>Writes obstacles as a table that reads back as the same.</summary>
    /// <param name="stream">Where the table is written; it is left open.</param>
    /// <param name="obstacles">The obstacles.</param>
    /// <exception cref="ArgumentException">One of them is a mesh, whose file is no longer known.</exception>
    public static void Write(Stream stream, IEnumerable<Obstacle> obstacles)
    {
        ArgumentNullException.ThrowIfNull(obstacles);
        using TableWriter writer = new(stream, [.. Sized.Select(c => c.Name)]);
        foreach (ObstacleDraft draft in obstacles.Select(ObstacleDraft.Of))
        {
            WriteRow(writer, draft);
        }
    }

    /// <summary>Reads a table; what is wrong is added to the faults.</summary>
    /// <param name="text">The table.</param>
    /// <param name="store">The documents of the reading, to which the meshes that it names are added.</param>
    /// <param name="faults">Where faults are added.</param>
    internal static ImmutableArray<Obstacle> Read(InputText text, DocumentStore store, FaultList faults)
    {
        var meshes = new TableMeshes(text, store);
        Dictionary<string, int> lines = new(StringComparer.Ordinal);
        return TableReader.Read(text, Columns, MostRows, faults, row => Make(row, meshes, lines))
            .Where(o => o is not null)
            .Select(o => o!)
            .ToImmutableArray();
    }

    /// <summary>Makes the obstacle of a row; null when the row is at fault.</summary>
    /// <param name="row">The row.</param>
    /// <param name="meshes">Reads the meshes that rows name.</param>
    /// <param name="lines">The lines of the ids so far; the id of the row is added.</param>
    internal static Obstacle? Make(TableRow row, TableMeshes meshes, Dictionary<string, int> lines)
    {
        string id = row.Required(Id) ?? string.Empty;
        if (id.Length > 0 && !lines.TryAdd(id, row.Line))
        {
            row.Fault(Id, $"id is {PlacedValue.Short(id)}, as in line {lines[id]}; each obstacle must have its own.");
        }

        ObstacleKind kind = row.Required(Kind);
        bool kindIsKnown = row.Has(Kind) && ObstacleShapes.AnyKind.TryFind(row.Text(Kind), out _);
        if (kindIsKnown)
        {
            TableMeshes.Check(row, kind, NotOfMeshes);
        }

        if (kindIsKnown && kind != ObstacleKind.Mesh)
        {
            ObstacleRules.Check(kind, row.Text(Kind), size => row.Has(SizeColumns[size]), (size, message) => row.Fault(SizeColumns[size], message));
        }

        ObstacleDraft draft = new(id, kind, new Vec3(row.Required(X), row.Required(Y), row.Or(Z, 0)))
        {
            YawDegrees = row.Or(Yaw, 0),
            PitchDegrees = row.Or(Pitch, 0),
            RollDegrees = row.Or(Roll, 0),
            LengthMetres = row.OrNull(Length),
            WidthMetres = row.OrNull(Width),
            HeightMetres = row.OrNull(Height),
            DepthMetres = row.OrNull(Depth),
            DiameterMetres = row.OrNull(Diameter),
            Cap = row.OrNull(Cap),
            CapRiseMetres = row.OrNull(CapRise),
            SagMetres = row.OrNull(Sag),
            RiserMetres = row.OrNull(Riser),
            GoingMetres = row.OrNull(Going),
            Steps = row.OrNull(Steps),
            Form = row.OrNull(Form),
            LeafRadiusMillimetres = row.OrNull(LeafRadius),
            LeavesPerCubicMetre = row.OrNull(Leaves),
            ReflectionLossDecibels = row.Or(Loss, 0),
            RoughnessMillimetres = row.OrNull(Roughness),
            ClosingSpeedMetresPerSecond = row.OrNull(Speed),
            Note = row.Or(Note, string.Empty),
            Source = row.Or(Source, string.Empty),
        };
        if (row.HasFault)
        {
            return null;
        }

        MeshShape? shape = kind == ObstacleKind.Mesh ? meshes.Read(row, draft.ReflectionLossDecibels) : null;
        if (shape is null && kind == ObstacleKind.Mesh)
        {
            return null;
        }

        try
        {
            // The loss of a mesh is that of its facets.
            return (shape is null ? draft : draft with { Shape = shape, ReflectionLossDecibels = 0 }).Make();
        }
        catch (ArgumentException e)
        {
            row.Fault(Shapes.Sentences.Of(e));
            return null;
        }
    }

    /// <exception cref="ArgumentException">The obstacle is a mesh, which no row can hold.</exception>
    private static void WriteRow(TableWriter writer, ObstacleDraft draft)
    {
        const int Digits = 12;
        writer.Cell(draft.Id).Cell(ObstacleShapes.Kind.WordOf(draft.Kind))
            .Cell(draft.PositionMetres.X, Digits).Cell(draft.PositionMetres.Y, Digits).Cell(draft.PositionMetres.Z, Digits)
            .Cell(draft.YawDegrees, Digits).Cell(draft.PitchDegrees, Digits).Cell(draft.RollDegrees, Digits)
            .Cell(draft.LengthMetres, Digits).Cell(draft.WidthMetres, Digits).Cell(draft.HeightMetres, Digits)
            .Cell(draft.DepthMetres, Digits).Cell(draft.DiameterMetres, Digits)
            .Cell(draft.Cap is { } cap ? ObstacleShapes.Cap.WordOf(cap) : null).Cell(draft.CapRiseMetres, Digits)
            .Cell(draft.SagMetres, Digits).Cell(draft.RiserMetres, Digits).Cell(draft.GoingMetres, Digits).Cell(draft.Steps)
            .Cell(draft.ReflectionLossDecibels, Digits).Cell(draft.RoughnessMillimetres, Digits)
            .Cell(draft.ClosingSpeedMetresPerSecond, Digits).Cell(draft.Note).Cell(draft.Source)
            .Cell(draft.Form is { } form ? ObstacleShapes.Form.WordOf(form) : null).Cell(draft.LeafRadiusMillimetres, Digits).Cell(draft.LeavesPerCubicMetre, Digits)
            .EndRow();
    }
}
