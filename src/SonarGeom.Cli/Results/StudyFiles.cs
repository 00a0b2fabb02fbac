using SonarGeom.Coverage;
using SonarGeom.Files.Output;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>Writes the tables of the main job as files: CSV, JSON, the grids of maps and slices, and the full answer as text.</summary>
internal static class StudyFiles
{
    /// <summary>Writes all tables.</summary>
    internal static void Write(StudyReport report, string inputsHash, OutputFolder folder)
    {
        IReadOnlyList<VerdictRow> verdicts = StudyTables.VerdictRows(report);
        WriteTable(folder, "verdicts.csv", StudyTables.Verdicts, verdicts);
        WriteJson(folder, "verdicts.json", "verdicts", inputsHash, json => StudyTables.Verdicts.WriteArray(json, "verdicts", verdicts));
        WriteTable(folder, "blind-zones.csv", StudyTables.BlindZones, report.BlindZones);
        WriteJson(folder, "blind-zones.json", "blind_zones", inputsHash, json => StudyTables.BlindZones.WriteArray(json, "blind_zones", report.BlindZones));
        WriteTable(folder, "bands.csv", StudyTables.Bands, StudyTables.BandRows(report.Maps));
        WriteTable(folder, "requirements.csv", StudyTables.Requirements, report.Requirements);
        WriteTable(folder, "wearers.csv", SideTables.Wearers, SideTables.WearerRows(report));
        WriteTable(folder, "tilt-curves.csv", SideTables.Tilts, SideTables.TiltRows(report));
        WriteTable(folder, "approach-directions.csv", SideTables.Azimuths, SideTables.AzimuthRows(report));
        WriteTable(folder, "pole-strips.csv", SideTables.Strips, SideTables.StripRows(report));
        WriteTable(folder, "turning-on-the-spot.csv", SideTables.Turning, report.Turning);
        WriteTable(folder, "sensor-outages.csv", SideTables.Outages, report.Outages);
        WriteTable(folder, "self-echoes.csv", SideTables.SelfEchoes, report.SelfEchoes);
        WriteTable(folder, "firing.csv", FiringTables.FalseReports, report.Firing.FalseReports);
        foreach (ApproachMap map in report.Maps)
        {
            using Stream stream = folder.Create($"map-{FileNames.Of(map.Probe.Name)}.csv");
            GridCsv.Write(stream, map);
        }

        foreach (MarginSlice slice in report.Slices)
        {
            using Stream stream = folder.Create($"{FileNames.Of(slice)}.csv");
            GridCsv.Write(stream, slice);
        }

        WriteJson(folder, "study.json", "study", inputsHash, json => StudyJson.WriteAll(json, report));
        using var text = new StreamWriter(folder.Create("report.txt"));
        text.NewLine = "\n";
        StudyText.WriteFull(text, report);
    }

    private static void WriteTable<T>(OutputFolder folder, string name, ResultTable<T> table, IEnumerable<T> rows)
    {
        using Stream stream = folder.Create(name);
        table.WriteCsv(stream, rows);
    }

    private static void WriteJson(OutputFolder folder, string name, string kind, string inputsHash, Action<System.Text.Json.Utf8JsonWriter> members)
    {
        using Stream stream = folder.Create(name);
        JsonResult.Write(stream, kind, inputsHash, members);
    }
}
