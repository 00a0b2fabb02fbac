using System.Collections.Immutable;
using SonarGeom.Layouts;
using SonarGeom.Studies;
using SonarGeom.Studies.Firmware;

namespace SonarGeom.Cli.Results;

/// <summary>One number of a firmware pack, with its unit and its reason.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Sensor">The sensor it holds for; empty for the whole device.</param>
/// <param name="At">Where it holds, with its unit: a temperature, a time, a speed; empty where it holds always.</param>
/// <param name="Value">The number, in its unit.</param>
/// <param name="Unit">The unit.</param>
/// <param name="Reason">Why it is what it is.</param>
internal readonly record struct FirmwareValue(string Name, string Sensor, string At, Cell Value, string Unit, string Reason);

/// <summary>The numbers of a firmware pack as one table, and the parts of it that people read.</summary>
internal static class FirmwareTables
{
    private const string Level = "dB re 20 µPa";

    /// <summary>Gets every number, one a row.</summary>
    internal static ResultTable<FirmwareValue> Values { get; } = new(
        new("name", "what", v => Cell.Of(v.Name)),
        new("sensor", "sensor", v => Cell.Of(v.Sensor)),
        new("at", "at", v => Cell.Of(v.At)),
        new("value", "value", v => v.Value),
        new("unit", "unit", v => Cell.Of(v.Unit)),
        new("reason", "reason", v => Cell.Of(v.Reason)));

    /// <summary>Gets the round trip by temperature.</summary>
    internal static ResultTable<RoundTripRow> RoundTrips { get; } = new(
        new(null, "air [°C]", r => Cell.Of(r.Temperature.DegreesCelsius, 1)),
        new(null, "round trip [µs/cm]", r => Cell.Of(r.MicrosecondsPerCentimetre, 2)),
        new(null, "driest", r => Cell.Of(r.DriestMicrosecondsPerCentimetre, 2)),
        new(null, "dampest", r => Cell.Of(r.DampestMicrosecondsPerCentimetre, 2)),
        new(null, "error of the fixed constant [%]", r => Cell.Of(100 * r.FixedErrorFraction, 2)),
        new(null, "of the formula [%]", r => Cell.Of(100 * r.FormulaErrorFraction, 2)));

    /// <summary>Gets the sensors.</summary>
    internal static ResultTable<SensorFirmware> Sensors { get; } = new(
        new(null, "sensor", s => Cell.Of(s.Placement.Name)),
        new(null, "group", s => Cell.Of(s.Group + 1)),
        new(null, "fires at [ms]", s => Cell.Of(s.OffsetSeconds * 1000, 2)),
        new(null, "blanking [ms]", s => Cell.Of(s.BlankingSeconds * 1000, 2)),
        new(null, "dead zone [m]", s => Cell.Of(s.DeadZoneMetres, 3)),
        new(null, "threshold raised by [dB]", s => Cell.Of(s.Threshold.LargestRaiseDecibels, 1)),
        new(null, "pole heard to [m]", s => Cell.Of(s.PoleRangeAfterMetres, 2)),
        new(null, "before [m]", s => Cell.Of(s.PoleRangeBeforeMetres, 2)));

    /// <summary>Gets the alert distances.</summary>
    internal static ResultTable<AlertDistance> Distances { get; } = new(
        new(null, "walking [m/s]", d => Cell.Of(d.SpeedMetresPerSecond, 1)),
        new(null, "time needed [s]", d => Cell.Of(d.TimeNeededSeconds, 2)),
        new(null, "first report [m]", d => Cell.Of(d.FirstReportMetres, 2)),
        new(null, "alert [m]", d => Cell.Of(d.AlertMetres, 2)),
        new(null, "of it braking [m]", d => Cell.Of(d.StoppingMetres, 2)));

    /// <summary>Returns every number of a pack.</summary>
    internal static ImmutableArray<FirmwareValue> RowsOf(FirmwarePack pack)
    {
        var rows = ImmutableArray.CreateBuilder<FirmwareValue>();
        AddAir(rows, pack);
        AddFiring(rows, pack);
        foreach (SensorFirmware sensor in pack.Sensors)
        {
            AddSensor(rows, pack, sensor);
        }

        foreach (AlertDistance distance in pack.AlertDistances)
        {
            string at = $"{distance.SpeedMetresPerSecond:0.0} m/s";
            Add("time needed", string.Empty, at, Cell.Of(distance.TimeNeededSeconds, 3), "s", "reports of the filter × longest cycle + alert latency + reaction + v/(2a)");
            Add("distance of the first report", string.Empty, at, Cell.Of(distance.FirstReportMetres, 3), "m", "walking speed × time needed, from the foremost point of the body");
            Add("distance of the alert", string.Empty, at, Cell.Of(distance.AlertMetres, 3), "m", "reaction and braking are left to the wearer from here");
        }

        Add("fastest walk", string.Empty, string.Empty, Cell.Of(pack.FastestWalkMetresPerSecond, 2), "m/s", "the shortest listening window still covers the first report in the coldest air");
        return rows.ToImmutable();

        void Add(string name, string sensor, string at, Cell value, string unit, string reason) => rows.Add(new(name, sensor, at, value, unit, reason));
    }

    private static void AddAir(ImmutableArray<FirmwareValue>.Builder rows, FirmwarePack pack)
    {
        ClimateRange climate = pack.Demand.Climate;
        SpeedCompensation formula = pack.Compensation;
        foreach (RoundTripRow row in pack.RoundTrips)
        {
            string at = $"{row.Temperature.DegreesCelsius:0.#} °C";
            rows.Add(new(
                "round trip", string.Empty, at, Cell.Of(row.MicrosecondsPerCentimetre, 3), "µs/cm",
                $"20000/c at the middle of {climate.DriestPercent:0.#} to {climate.DampestPercent:0.#} % relative humidity; {row.DriestMicrosecondsPerCentimetre:0.000} in the driest and {row.DampestMicrosecondsPerCentimetre:0.000} in the dampest air"));
            rows.Add(new("range error of the fixed constant", string.Empty, at, Cell.Of(100 * row.FixedErrorFraction, 2), "%", $"{pack.FixedMicrosecondsPerCentimetre:0.##} µs/cm; above 0 the obstacle is nearer than reported"));
            rows.Add(new("range error of the formula", string.Empty, at, Cell.Of(100 * row.FormulaErrorFraction, 3), "%", "at the middle of the humidity"));
        }

        rows.Add(new("speed of sound at 0 °C", string.Empty, string.Empty, Cell.Of(formula.AtZeroMillimetresPerSecond), "mm/s", "A of c = A + B·t, fitted so that the largest error over the climate is least"));
        rows.Add(new("speed of sound for each °C", string.Empty, string.Empty, Cell.Of(formula.PerDegreeMillimetresPerSecond), "mm/s/°C", "B of c = A + B·t; range = c × echo time / 2"));
        rows.Add(new("largest range error of the formula", string.Empty, string.Empty, Cell.Of(100 * formula.LargestErrorFraction, 3), "%", $"in air of {formula.WorstAir}"));
        foreach (WorkedCheck check in pack.Checks)
        {
            rows.Add(new(
                "worked check: range", string.Empty, $"{check.EchoMicroseconds} µs, {check.TemperatureTenthsCelsius / 10.0:0.0} °C", Cell.Of(check.RangeMillimetres), "mm",
                $"({formula.AtZeroMillimetresPerSecond} + {formula.PerDegreeMillimetresPerSecond} × {check.TemperatureTenthsCelsius} / 10) × {check.EchoMicroseconds} / 2000000, whole numbers, rounded toward 0"));
        }
    }

    private static void AddFiring(ImmutableArray<FirmwareValue>.Builder rows, FirmwarePack pack)
    {
        FiringSchedule schedule = pack.Firing.Schedule;
        bool isOwn = ReferenceEquals(pack.Firing, pack.OwnFiring);
        rows.Add(new(
            "firing cycle", string.Empty, string.Empty, Cell.Of(schedule.CycleSeconds * 1000, 3), "ms",
            (isOwn ? "the layout's own" : "the shortest safe one, since the layout's own does not keep the margin") + $"; order {FiringTables.OrderInWords(pack.Layout, schedule)}"));
        rows.Add(new(
            "smallest margin of the layout's own cycle", string.Empty, $"{pack.OwnFiring.Schedule.CycleSeconds * 1000:0.###} ms", Cell.Of(pack.OwnFiring.SmallestMarginDecibels, 1), "dB",
            $"in air of {pack.OwnFiringAir}; {pack.OwnFiring.Sentence}"));
        rows.Add(new("firing jitter", string.Empty, string.Empty, Cell.Of(pack.Layout.Firing.JitterSeconds * 1000, 3), "ms", "of the layout; a jitter makes ghosts wander while real echoes stay"));
        if (pack.ShortestFiring is { } shortest)
        {
            rows.Add(new(
                "shortest safe cycle", string.Empty, string.Empty, Cell.Of(shortest.Schedule.CycleSeconds * 1000, 3), "ms",
                $"keeps ghosts and crosstalk {pack.Demand.FiringMarginDecibels:0.#} dB below every threshold, and every window open; order {FiringTables.OrderInWords(pack.Layout, shortest.Schedule)}"));
        }

        foreach (FalseReport report in pack.Firing.FalseReports)
        {
            rows.Add(new(
                $"margin of {FiringStudy.InWords(report.Kind)}", report.Listener, $"burst of {report.Sender}, {report.Margin.ElapsedSeconds * 1000:0.##} ms before", Cell.Of(report.Margin.MarginDecibels, 1), "dB",
                $"a large wall at {report.Margin.TrueRangeMetres:0.00} m would be reported at {report.Margin.ApparentRangeMetres:0.00} m; in air of {pack.FiringAir}"));
        }

        rows.Add(new("reports that make an alert", string.Empty, $"of {pack.Layout.Firing.WindowPings} pings", Cell.Of(pack.Layout.Firing.RequiredHits), "pings", "the filter of the layout"));
        rows.Add(new("alert latency", string.Empty, string.Empty, Cell.Of(pack.Layout.Firing.AlertLatencySeconds * 1000, 1), "ms", "of the layout"));
    }

    private static void AddSensor(ImmutableArray<FirmwareValue>.Builder rows, FirmwarePack pack, SensorFirmware sensor)
    {
        string name = sensor.Placement.Name;
        rows.Add(new("fires at", name, string.Empty, Cell.Of(sensor.OffsetSeconds * 1000, 3), "ms", $"group {sensor.Group + 1} of {pack.Firing.Schedule.Groups.Length}"));
        rows.Add(new("blanking", name, string.Empty, Cell.Of(sensor.BlankingSeconds * 1e6, 0), "µs", sensor.BlankingReason));
        rows.Add(new("dead zone", name, string.Empty, Cell.Of(sensor.DeadZoneMetres, 3), "m", "half the way of sound during the blanking, in the warmest air"));
        rows.Add(new("listening window", name, string.Empty, Cell.Of(sensor.Placement.Transducer.ListeningWindowSeconds * 1e6, 0), "µs", "of the part"));
        rows.Add(new("behind the foremost point", name, string.Empty, Cell.Of(sensor.BehindForemostMetres, 3), "m", "to be taken off the range to have the distance from the body, at the most over the stride"));
        foreach (DesignedPoint point in sensor.Threshold.Points)
        {
            rows.Add(new("threshold", name, $"{point.TimeSeconds * 1e6:0} µs", Cell.Of(point.LevelDecibels, 1), Level, point.Reason));
        }

        rows.Add(new("largest raise of the threshold", name, string.Empty, Cell.Of(sensor.Threshold.LargestRaiseDecibels, 1), "dB", "over the part's own threshold"));
        rows.Add(new("false alarms by noise", name, string.Empty, Cell.Of(sensor.Threshold.FalseAlarmsPerHour, 3), "1/h", "before the filter; Gaussian noise in the band, P = exp(−10^(Δ/10)) for each burst length of listening"));
        rows.Add(new("75 mm pole heard to", name, string.Empty, Cell.Of(sensor.PoleRangeAfterMetres, 2), "m", $"on the boresight at 20 °C and 50 %, {(sensor.PoleRangeBeforeMetres is { } before ? $"{before:0.00} m" : "nowhere")} with the part's own threshold"));
    }
}
