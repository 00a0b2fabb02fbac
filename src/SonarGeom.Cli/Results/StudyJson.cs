using System.Text.Json;
using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>Writes everything that the main job found, apart from the grids, as members of one JSON object.</summary>
internal static class StudyJson
{
    /// <summary>Writes the whole report.</summary>
    internal static void WriteAll(Utf8JsonWriter json, StudyReport report)
    {
        WriteSummary(json, report);
        WriteAir(json, report);
        WriteLayout(json, report.Posed);
        WriteBands(json, report.Posed);
        SideTables.Wearers.WriteArray(json, "wearers", SideTables.WearerRows(report));
        SideTables.Tilts.WriteArray(json, "tilt_curves", SideTables.TiltRows(report));
        SideTables.Azimuths.WriteArray(json, "approach_directions", SideTables.AzimuthRows(report));
        SideTables.Strips.WriteArray(json, "pole_strips", SideTables.StripRows(report));
        SideTables.Turning.WriteArray(json, "turning_on_the_spot", report.Turning);
        SideTables.Outages.WriteArray(json, "sensor_outages", report.Outages);
        SideTables.SelfEchoes.WriteArray(json, "self_echoes", report.SelfEchoes);
        json.WriteString("firing", report.Firing.Sentence);
        FiringTables.FalseReports.WriteArray(json, "firing_margins", report.Firing.FalseReports);
    }

    /// <summary>Writes what answers the main questions: requirements, shares, zones, verdicts, with assumptions and cautions.</summary>
    internal static void WriteSummary(Utf8JsonWriter json, StudyReport report)
    {
        json.WriteString("scenario", report.Scenario.Name);
        json.WriteString("layout", report.Scenario.Layout.Name);
        json.WriteString("wearer", report.Scenario.MainWearer.Name);
        json.WriteString("worst_finding", report.WorstFinding);
        json.WriteBoolean("all_requirements_met", report.AllRequirementsMet);
        json.WriteNumber("time_needed_s", Math.Round(report.TimeNeededSeconds, 3));
        json.WriteNumber("walking_speed_m_s", report.Scenario.Walk.SpeedMetresPerSecond);
        json.WriteNumber("map_cell_m", report.Scenario.Maps.CellMetres);
        StudyTables.Requirements.WriteArray(json, "requirements", report.Requirements);
        StudyTables.Bands.WriteArray(json, "bands", StudyTables.BandRows(report.Maps));
        StudyTables.BlindZones.WriteArray(json, "blind_zones", report.BlindZones);
        StudyTables.Verdicts.WriteArray(json, "verdicts", StudyTables.VerdictRows(report));
        json.WriteSentences("assumptions", report.Assumptions);
        json.WriteSentences("cautions", Findings.Cautions);
    }

    private static void WriteAir(Utf8JsonWriter json, StudyReport report)
    {
        json.WriteStartObject("air");
        AirTables.Air.WriteMembers(json, new AirRow(report.Air, report.Scenario.Device.AssumedMicrosecondsPerCentimetre));
        json.WriteSentences("flags", report.Air.Flags);
        json.WriteEndObject();
    }

    private static void WriteLayout(Utf8JsonWriter json, PosedLayout posed)
    {
        json.WriteStartArray("sensors");
        for (int s = 0; s < posed.SensorCount; s++)
        {
            SensorPlacement sensor = posed.Layout.Sensors[s];
            json.WriteStartObject();
            json.WriteString("sensor", sensor.Name);
            json.WriteString("transducer", sensor.Transducer.Name);
            json.WriteString("site", sensor.Mount.Site);
            json.WriteNumber("azimuth_deg", Math.Round(sensor.Mount.Azimuth.Degrees, 6));
            json.WriteNumber("tilt_deg", Math.Round(sensor.Mount.Tilt.Degrees, 6));
            json.WriteNumber("roll_deg", Math.Round(sensor.Mount.Roll.Degrees, 6));
            json.WriteString("announces", Words.Of(sensor.Announces));
            json.WriteNumber("dead_zone_m", Math.Round(posed.DeadZoneMetres(s), 3));
            json.WriteNumber("figure_of_merit_db", Math.Round(sensor.Transducer.LateFigureOfMeritDecibels, 1));
            json.WriteNumber("figure_of_merit_uncertainty_db", sensor.Transducer.Evidence.FigureOfMeritUncertaintyDecibels);
            json.WriteString("range_target", sensor.Transducer.Evidence.RangeTarget);
            json.WriteString("confidence", sensor.Transducer.Evidence.Confidence);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteBands(Utf8JsonWriter json, PosedLayout posed)
    {
        json.WriteStartArray("height_bands");
        for (HeightBand band = HeightBand.Head; band >= HeightBand.Foot; band--)
        {
            json.WriteStartObject();
            json.WriteString("band", Words.Of(band));
            json.WriteNumber("low_z_m", Math.Round(posed.BandLowMetres(band), 3));
            json.WriteNumber("high_z_m", Math.Round(posed.BandHighMetres(band), 3));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }
}
