using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Tables;

/// <summary>One obstacle before one sensor at a pose.</summary>
/// <param name="Line">The line of the table.</param>
/// <param name="TransducerName">Catalogue name or path of the transducer; null for the one named elsewhere.</param>
/// <param name="SensorPositionMetres">The middle of the sensor in the world. [m]</param>
/// <param name="Azimuth">The boresight against straight ahead, positive left.</param>
/// <param name="Tilt">The boresight against the horizontal, positive up.</param>
/// <param name="Roll">The right-handed turn about the boresight.</param>
/// <param name="Obstacle">The obstacle.</param>
public sealed record PosedCase(
    int Line, string? TransducerName, Vec3 SensorPositionMetres, Angle Azimuth, Angle Tilt, Angle Roll, Obstacle Obstacle);

/// <summary>A comma-separated table of obstacles, each before a sensor at a pose: the columns of a set of obstacles and those of the sensor.</summary>
public static class PoseTable
{
    private static readonly Column<string> TransducerColumn = new("transducer", new TextShape(500));
    private static readonly Column<double> SensorX = new("sensor_x_m", new NumberShape(-200, 200));
    private static readonly Column<double> SensorY = new("sensor_y_m", new NumberShape(-200, 200));
    private static readonly Column<double> SensorZ = new("sensor_z_m", new NumberShape(-10, 50), isRequired: true);
    private static readonly Column<double> SensorAzimuth = new("sensor_azimuth_deg", new NumberShape(-180, 180));
    private static readonly Column<double> SensorTilt = new("sensor_tilt_deg", new NumberShape(-90, 90));
    private static readonly Column<double> SensorRoll = new("sensor_roll_deg", new NumberShape(-180, 180));

    private static readonly ImmutableArray<Column> Columns =
    [
        .. ObstacleTable.Columns, TransducerColumn, SensorX, SensorY, SensorZ, SensorAzimuth, SensorTilt, SensorRoll,
    ];

    /// <summary>Gets the names of the columns, in order.</summary>
    public static ImmutableArray<string> ColumnNames { get; } = [.. Columns.Select(c => c.Name)];

    /// <summary>Reads a table from a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InvalidInputException">The file cannot be read or a row is at fault; all faults found are told.</exception>
    public static ImmutableArray<PosedCase> Read(string path) => Read(InputText.FromFile(path, path));

    /// <summary>Reads a table from text.</summary>
    /// <param name="name">What faults call it.</param>
    /// <param name="text">The table.</param>
    /// <exception cref="InvalidInputException">A row is at fault; all faults found are told.</exception>
    public static ImmutableArray<PosedCase> ReadText(string name, string text) => Read(InputText.FromText(name, text));

    /// <summary>Reads a table; what is wrong is added to the faults.</summary>
    internal static ImmutableArray<PosedCase> Read(InputText text, FaultList faults)
    {
        var meshes = new TableMeshes(text, new DocumentStore());
        Dictionary<string, int> lines = new(StringComparer.Ordinal);
        return [.. TableReader.Read(text, Columns, ObstacleTable.MostRows, faults, row => Make(row, meshes, lines)).OfType<PosedCase>()];
    }

    private static ImmutableArray<PosedCase> Read(InputText text)
    {
        FaultList faults = new();
        ImmutableArray<PosedCase> cases = Read(text, faults);
        faults.ThrowIfAny();
        return cases;
    }

    private static PosedCase? Make(TableRow row, TableMeshes meshes, Dictionary<string, int> lines)
    {
        Vec3 position = new(row.Or(SensorX, 0), row.Or(SensorY, 0), row.Required(SensorZ));
        Angle azimuth = Angle.FromDegrees(row.Or(SensorAzimuth, 0));
        Angle tilt = Angle.FromDegrees(row.Or(SensorTilt, 0));
        Angle roll = Angle.FromDegrees(row.Or(SensorRoll, 0));
        string? transducer = row.Has(TransducerColumn) ? row.Or(TransducerColumn, string.Empty) : null;
        return ObstacleTable.Make(row, meshes, lines) is { } obstacle
            ? new PosedCase(row.Line, transducer, position, azimuth, tilt, roll, obstacle)
            : null;
    }
}
