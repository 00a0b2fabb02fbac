using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Tables;

/// <summary>A measured polar response as a comma-separated table: angle off the boresight, level or amplitude, and the plane if there are two.</summary>
public static class PolarTableReader
{
    private const int MostRows = 10_000;

    private static readonly Column<double> OffAxis = new("off_axis_deg", new NumberShape(-180, 180), isRequired: true);
    private static readonly Column<double> Level = new("level_db", new NumberShape(PolarCut.LowestDecibels, 3));
    private static readonly Column<double> Amplitude = new("amplitude", new NumberShape(0, 1.5, aboveLeast: true));
    private static readonly Column<bool> Plane = new("plane", new ChoiceShape<bool>([("horizontal", false), ("vertical", true)]));

    /// <summary>Reads a table from a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InvalidInputException">The file cannot be read or a row is at fault; all faults found are told.</exception>
    public static PolarTable Read(string path)
    {
        FaultList faults = new();
        PolarTable? table = Read(InputText.FromFile(path, path), faults);
        faults.ThrowIfAny();
        return table ?? throw new InvalidInputException(path, "The polar table cannot be used.");
    }

    /// <summary>Reads a table; what is wrong is added to the faults, and then null is returned.</summary>
    internal static PolarTable? Read(InputText text, FaultList faults)
    {
        int before = faults.Count;
        ImmutableArray<(bool? IsVertical, PolarPoint Point)> rows = TableReader.Read(text, [OffAxis, Level, Amplitude, Plane], MostRows, faults, Row);
        if (faults.Count > before)
        {
            return null;
        }

        if (rows.Any(r => r.IsVertical is null) && rows.Any(r => r.IsVertical is not null))
        {
            faults.Add(new Fault(text.Name, null, null, Plane.Name, "plane is given in some rows and not in others; give it in all or in none."));
            return null;
        }

        PolarCut? horizontal = Cut(text, rows.Where(r => r.IsVertical is not true).Select(r => r.Point), "horizontal", faults);
        if (rows.All(r => r.IsVertical is null))
        {
            return horizontal is null ? null : new PolarTable(horizontal);
        }

        PolarCut? vertical = Cut(text, rows.Where(r => r.IsVertical is true).Select(r => r.Point), "vertical", faults);
        return horizontal is null || vertical is null ? null : new PolarTable(horizontal, vertical);
    }

    private static (bool? IsVertical, PolarPoint Point) Row(TableRow row)
    {
        double angle = row.Required(OffAxis);
        double? level = row.OrNull(Level);
        double? amplitude = row.OrNull(Amplitude);
        if (row.Has(Level) == row.Has(Amplitude))
        {
            row.Fault("The row must have either level_db or amplitude, and not both.");
        }

        return (row.OrNull(Plane), new PolarPoint(Angle.FromDegrees(angle), level ?? Decibels.FromAmplitudeRatio(amplitude ?? 1)));
    }

    private static PolarCut? Cut(InputText text, IEnumerable<PolarPoint> points, string plane, FaultList faults)
    {
        try
        {
            return PolarCut.FromPoints(points);
        }
        catch (ArgumentException e)
        {
            faults.Add(new Fault(text.Name, null, null, null, $"The {plane} plane cannot be used: {Sentences.Of(e)}"));
            return null;
        }
    }
}
