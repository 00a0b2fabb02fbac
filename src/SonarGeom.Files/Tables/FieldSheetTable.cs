using System.Collections.Immutable;
using System.Globalization;
using SonarGeom.Air;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;
using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Files.Tables;

/// <summary>A filled sheet of a field test.</summary>
/// <param name="Settings">How the test was done.</param>
/// <param name="Observations">Every row: done, not done and excluded.</param>
public sealed record FieldSheet(FieldSettings Settings, ImmutableArray<FieldObservation> Observations);

/// <summary>The sheet of a field test as a comma-separated table: written by the plan, filled by hand, read back.</summary>
public static class FieldSheetTable
{
    private const int MostRows = 2000;

    private static readonly Column<int> Row = new("row", new WholeNumberShape(1, 100_000), isRequired: true);
    private static readonly Column<FieldTargetKind> Target = new("target", ChoiceShape.OfEnum<FieldTargetKind>(), isRequired: true);
    private static readonly Column<double> Width = new("width_m", new NumberShape(0.002, 5), isRequired: true);
    private static readonly Column<double> Height = new("height_m", new NumberShape(0.002, 5), isRequired: true);
    private static readonly Column<double> Range = new("range_m", new NumberShape(0.05, 30), isRequired: true);
    private static readonly Column<double> OffAxis = new("off_axis_deg", new NumberShape(-90, 90), isRequired: true);
    private static readonly Column<double> Turn = new("turn_deg", new NumberShape(-180, 180), isRequired: true);
    private static readonly Column<string> Purpose = new("purpose", new TextShape(200, mayBeEmpty: true));
    private static readonly Column<int> Planned = new("planned_trials_count", new WholeNumberShape(1, 100_000), isRequired: true);
    private static readonly Column<double> Predicted = new("predicted_percent", new NumberShape(0, 100));
    private static readonly Column<double> PredictedLow = new("predicted_low_percent", new NumberShape(0, 100));
    private static readonly Column<double> PredictedHigh = new("predicted_high_percent", new NumberShape(0, 100));
    private static readonly Column<int> Least = new("least_reports_count", new WholeNumberShape(0, 100_000));
    private static readonly Column<int> Most = new("most_reports_count", new WholeNumberShape(0, 100_000));
    private static readonly Column<int> Hits = new("required_hits", new WholeNumberShape(1, 32), isRequired: true);
    private static readonly Column<int> Pings = new("window_pings", new WholeNumberShape(1, 32), isRequired: true);
    private static readonly Column<double> Spread = new("spread_db", new NumberShape(0, 6), isRequired: true);
    private static readonly Column<double> Confidence = new("confidence_percent", new NumberShape(50, 99.9), isRequired: true);
    private static readonly Column<double> Temperature = new("temperature_c", new NumberShape(AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius), isRequired: true);
    private static readonly Column<double> Humidity = new("relative_humidity_percent", new NumberShape(0, 100), isRequired: true);
    private static readonly Column<double> Pressure = new("pressure_pa", new NumberShape(30_000, 200_000), isRequired: true);
    private static readonly Column<int> Done = new("done_trials_count", new WholeNumberShape(0, 100_000), isRequired: true);
    private static readonly Column<int> Reports = new("reports_count", new WholeNumberShape(0, 100_000), isRequired: true);
    private static readonly Column<bool> Excluded = new("excluded", new ChoiceShape<bool>([("yes", true), ("no", false)]), isRequired: true);
    private static readonly Column<string> Reason = new("reason", new TextShape(500, mayBeEmpty: true), isRequired: true);
    private static readonly Column<string> Note = new("note", new TextShape(1000, mayBeEmpty: true));

    private static readonly ImmutableArray<Column> Columns =
    [
        Row, Target, Width, Height, Range, OffAxis, Turn, Purpose, Planned, Predicted, PredictedLow, PredictedHigh, Least, Most, Hits, Pings,
        Spread, Confidence, Temperature, Humidity, Pressure, Done, Reports, Excluded, Reason, Note,
    ];

    // The same for all rows, as one sheet is one test in one air.
    private static readonly ImmutableArray<Column> Shared = [Hits, Pings, Spread, Confidence, Temperature, Humidity, Pressure];

    /// <summary>Gets the names of the columns, in order.</summary>
    public static ImmutableArray<string> ColumnNames { get; } = [.. Columns.Select(c => c.Name)];

    /// <summary>Writes the sheet of a plan; the columns from <c>done_trials_count</c> on are left empty.</summary>
    /// <param name="stream">Where it is written; it is left open.</param>
    /// <param name="plan">The plan.</param>
    public static void Write(Stream stream, FieldPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        FieldSettings settings = plan.Settings;
        using var table = new TableWriter(stream, ColumnNames);
        foreach (FieldRow row in plan.Rows)
        {
            FieldTarget target = row.Position.Target;
            table.Cell(row.Id).Cell(target.Kind.ToString().ToLowerInvariant()).Cell(target.WidthMetres).Cell(target.HeightMetres).Cell(row.Position.RangeMetres)
                .Cell(row.Position.OffAxis.Degrees).Cell(row.Position.Turn.Degrees).Cell(row.Purpose).Cell(row.Trials).Cell(Percent(row.PredictedProbability))
                .Cell(Percent(row.Band.LowProbability)).Cell(Percent(row.Band.HighProbability)).Cell(row.LeastReports).Cell(row.MostReports).Cell(settings.RequiredHits)
                .Cell(settings.WindowPings).Cell(settings.SpreadDecibels).Cell(100 * settings.ConfidenceFraction).Cell(settings.Air.Temperature.DegreesCelsius)
                .Cell(settings.Air.RelativeHumidityPercent).Cell(settings.Air.PressurePascals, 7).Empty().Empty().Empty().Empty().Empty();
            table.EndRow();
        }
    }

    /// <summary>Reads a filled sheet.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InvalidInputException">The file cannot be read or a row is at fault; all faults found are told.</exception>
    public static FieldSheet Read(string path) => Read(InputText.FromFile(path, path));

    /// <summary>Reads a filled sheet from text.</summary>
    /// <param name="name">What faults call it.</param>
    /// <param name="text">The table.</param>
    /// <exception cref="InvalidInputException">A row is at fault; all faults found are told.</exception>
    public static FieldSheet ReadText(string name, string text) => Read(InputText.FromText(name, text));

    private static string Percent(double probability) => (100 * probability).ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>Reads a sheet, filled or not; what is wrong is added to the faults.</summary>
    internal static (FieldSettings? Settings, ImmutableArray<FieldObservation> Observations) Read(InputText text, FaultList faults)
    {
        Dictionary<int, int> lines = [];
        string[]? shared = null;
        FieldSettings? settings = null;
        ImmutableArray<FieldObservation?> rows = TableReader.Read(text, Columns, MostRows, faults, row =>
        {
            string[] its = [.. Shared.Select(row.Text)];
            if (shared is null)
            {
                shared = its;
                settings = SettingsOf(row);
            }
            else if (Enumerable.Range(0, its.Length).FirstOrDefault(i => its[i] != shared[i], -1) is var other and >= 0)
            {
                row.Fault(Shared[other], $"{Shared[other].Name} is {PlacedValue.Short(its[other])}, but {PlacedValue.Short(shared[other])} in the first row; a sheet is one test in one air, so make another sheet of these rows.");
            }

            return ObservationOf(row, lines);
        });
        return (settings, [.. rows.OfType<FieldObservation>()]);
    }

    private static FieldSheet Read(InputText text)
    {
        FaultList faults = new();
        (FieldSettings? settings, ImmutableArray<FieldObservation> all) = Read(text, faults);
        faults.ThrowIfAny();
        if (!all.Any(o => o.IsDone))
        {
            throw new InvalidInputException(text.Name, "No row of the sheet is filled; write done_trials_count and reports_count of the rows that were done.");
        }

        return new FieldSheet(settings!, all);
    }

    private static FieldSettings? SettingsOf(TableRow row)
    {
        int hits = row.Required(Hits), pings = row.Required(Pings);
        double spread = row.Required(Spread), confidence = row.Required(Confidence), celsius = row.Required(Temperature);
        double humidity = row.Required(Humidity), pressure = row.Required(Pressure);
        if (row.HasFault)
        {
            return null;
        }

        if (hits > pings)
        {
            row.Fault(Hits, $"required_hits is {hits}; it must be at most window_pings, which is {pings}.");
            return null;
        }

        return new FieldSettings(new AirState(Quantities.Temperature.FromDegreesCelsius(celsius), humidity, pressure), hits, pings, spread, confidence / 100);
    }

    private static FieldObservation? ObservationOf(TableRow row, Dictionary<int, int> lines)
    {
        int id = row.Required(Row), planned = row.Required(Planned);
        var kind = row.Required(Target);
        double width = row.Required(Width), height = row.Required(Height), range = row.Required(Range), offAxis = row.Required(OffAxis), turn = row.Required(Turn);
        int done = row.Or(Done, row.Has(Reports) ? planned : 0), reports = row.Or(Reports, 0);
        bool excluded = row.Or(Excluded, false);
        string reason = row.Or(Reason, string.Empty), note = row.Or(Note, string.Empty);
        if (row.HasFault)
        {
            return null;
        }

        if (!lines.TryAdd(id, row.Line))
        {
            row.Fault(Row, $"row is {id}, which line {lines[id]} has already; each row must have its own number.");
        }

        if (reports > done)
        {
            row.Fault(Reports, $"reports_count is {reports}; it must be at most the trials that were done, which are {done}.");
        }

        if (done > 0 && !row.Has(Reports))
        {
            row.Fault(Reports, $"reports_count is empty, but {done} trials were done; write 0 if there was no report.");
        }

        if (excluded && reason.Length == 0)
        {
            row.Fault(Reason, "reason is empty; a row that is excluded must say why.");
        }

        if (!excluded && reason.Length > 0)
        {
            row.Fault(Reason, "reason is given, but the row is not excluded; write yes under excluded, or move the text to note.");
        }

        return row.HasFault
            ? null
            : new FieldObservation(id, new FieldPosition(new FieldTarget(kind, width, height), range, Angle.FromDegrees(offAxis), Angle.FromDegrees(turn)), done, reports, excluded ? reason : string.Empty, note);
    }
}
