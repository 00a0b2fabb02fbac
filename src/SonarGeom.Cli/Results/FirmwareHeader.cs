using System.Globalization;
using System.Text;
using SonarGeom.Cli.Shell;
using SonarGeom.Studies.Firmware;

namespace SonarGeom.Cli.Results;

/// <summary>Writes a firmware pack as a C header in plain C99: whole numbers only, nothing that draws a warning when it is not used.</summary>
internal static class FirmwareHeader
{
    private const int Width = 110;

    /// <summary>Returns the header.</summary>
    internal static string Of(FirmwarePack pack, string inputsHash)
    {
        var text = new StringBuilder();
        ClimateRange climate = pack.Demand.Climate;
        Comment(
            text, $"Firmware numbers of the layout {pack.Layout.Name}, by sonargeom {Tool.Version}, inputs {inputsHash}.",
            $"Air from {climate.Coldest.DegreesCelsius:0.#} to {climate.Warmest.DegreesCelsius:0.#} °C, {climate.DriestPercent:0.#} to {climate.DampestPercent:0.#} % relative humidity, {climate.PressurePascals:0} Pa.",
            "Levels are rms at the receiver face in tenths of a dB re 20 µPa: calibrate them against your receiver chain.");
        Comment(text, [.. pack.Cautions]);
        text.Append("#ifndef SONARGEOM_FIRMWARE_H\n#define SONARGEOM_FIRMWARE_H\n\n#include <stdint.h>\n\n");
        WriteSensorNames(text, pack);
        WriteAir(text, pack);
        WriteFiring(text, pack);
        WriteSensors(text, pack);
        WriteDistances(text, pack);
        text.Append("#endif\n");
        return text.ToString();
    }

    private static void WriteSensorNames(StringBuilder text, FirmwarePack pack)
    {
        Comment(text, "Sensors, by their index in every table. [count]");
        Define(text, "SENSOR_COUNT", pack.Sensors.Length);
        var taken = new HashSet<string>(StringComparer.Ordinal) { "COUNT" };
        for (int i = 0; i < pack.Sensors.Length; i++)
        {
            string name = Identifier(pack.Sensors[i].Placement.Name), free = name;
            for (int n = 2; !taken.Add(free); n++)
            {
                free = $"{name}_{n}";
            }

            Define(text, $"SENSOR_{free}", i);
        }

        text.Append('\n');
    }

    private static void WriteAir(StringBuilder text, FirmwarePack pack)
    {
        SpeedCompensation formula = pack.Compensation;
        Comment(text, $"Speed of sound A + B*t [mm/s], t in °C: the line whose largest error over the climate is least, {100 * formula.LargestErrorFraction:0.000} % of a range, in air of {formula.WorstAir}.");
        Define(text, "SPEED_AT_0C_MM_S", formula.AtZeroMillimetresPerSecond);
        Define(text, "SPEED_PER_C_MM_S", formula.PerDegreeMillimetresPerSecond);
        text.Append('\n');
        Comment(text, "Range [mm] of an echo time [us] at an air temperature [0.1 °C]: half the way of sound.");
        text.Append(
            """
            static inline int32_t sonargeom_range_mm(int32_t echo_us, int32_t air_tenths_c)
            {
                int64_t speed_mm_s = SONARGEOM_SPEED_AT_0C_MM_S + (int64_t)SONARGEOM_SPEED_PER_C_MM_S * air_tenths_c / 10;
                return (int32_t)(speed_mm_s * echo_us / 2000000);
            }


            """);
        Comment(text, "Worked values: sonargeom_range_mm(echo, air) must return the range. [us, 0.1 °C, mm]");
        Define(text, "CHECK_COUNT", pack.Checks.Length);
        for (int i = 0; i < pack.Checks.Length; i++)
        {
            Define(text, $"CHECK_{i}_ECHO_US", pack.Checks[i].EchoMicroseconds);
            Define(text, $"CHECK_{i}_AIR_TENTHS_C", pack.Checks[i].TemperatureTenthsCelsius);
            Define(text, $"CHECK_{i}_RANGE_MM", pack.Checks[i].RangeMillimetres);
        }

        text.Append('\n');
        Comment(
            text, "Round trip for a metre of range [us/m] at an air temperature [0.1 °C], 2000000/c at the middle of the humidity; straight lines between the temperatures of the table, the ends beyond it.");
        text.Append("static inline int32_t sonargeom_round_trip_us_m(int32_t air_tenths_c)\n{\n");
        Table(text, "air", pack.RoundTrips.Select(r => (int)Math.Round(10 * r.Temperature.DegreesCelsius)));
        Table(text, "trip", pack.RoundTrips.Select(r => (int)Math.Round(100 * r.MicrosecondsPerCentimetre)));
        Interpolated(text, "air", "trip", pack.RoundTrips.Length.ToString(CultureInfo.InvariantCulture), "air_tenths_c", "0");
    }

    private static void WriteFiring(StringBuilder text, FirmwarePack pack)
    {
        bool isOwn = ReferenceEquals(pack.Firing, pack.OwnFiring);
        Comment(
            text, $"Firing cycle [us]: {(isOwn ? "the layout's own" : "the shortest safe one, since the layout's own does not keep the margin")}. Order: {FiringTables.OrderInWords(pack.Layout, pack.Firing.Schedule)}.",
            pack.Firing.Sentence);
        Define(text, "CYCLE_US", Micro(pack.Firing.Schedule.CycleSeconds));
        Comment(text, "The most by which a cycle is lengthened, drawn anew for each [us]: of the layout.");
        Define(text, "JITTER_US", Micro(pack.Layout.Firing.JitterSeconds));
        if (pack.ShortestFiring is { } shortest)
        {
            Comment(text, $"Shortest cycle that keeps ghosts and crosstalk {pack.Demand.FiringMarginDecibels:0.#} dB below every threshold [us]: {FiringTables.OrderInWords(pack.Layout, shortest.Schedule)}.");
            Define(text, "SHORTEST_CYCLE_US", Micro(shortest.Schedule.CycleSeconds));
        }

        if (double.IsFinite(pack.Firing.SmallestMarginDecibels))
        {
            Comment(text, $"Smallest margin of ghosts and crosstalk [0.1 dB], in air of {pack.FiringAir}.");
            Define(text, "FIRING_MARGIN_TENTHS_DB", Tenths(pack.Firing.SmallestMarginDecibels));
        }

        Comment(text, "Reports that make an alert, among how many last pings [count]; latency of the alert [us]: of the layout.");
        Define(text, "REQUIRED_HITS", pack.Layout.Firing.RequiredHits);
        Define(text, "WINDOW_PINGS", pack.Layout.Firing.WindowPings);
        Define(text, "ALERT_LATENCY_US", Micro(pack.Layout.Firing.AlertLatencySeconds));
        text.Append('\n');
    }

    private static void WriteSensors(StringBuilder text, FirmwarePack pack)
    {
        BySensor(text, pack, "offset_us", "When a sensor fires in the cycle [us]: its place in the order.", s => Micro(s.OffsetSeconds));
        BySensor(text, pack, "blanking_us", $"Blanking [us]: {string.Join("; ", pack.Sensors.Select(s => $"{s.Placement.Name}, {s.BlankingReason}"))}.", s => Micro(s.BlankingSeconds));
        BySensor(text, pack, "window_us", "End of listening [us]: of the part.", s => Micro(s.Placement.Transducer.ListeningWindowSeconds));
        BySensor(text, pack, "behind_mm", "How far a sensor is behind the foremost point of the wearer, at the most [mm]: take it off the range.", s => (int)Math.Ceiling(s.BehindForemostMetres * 1000));
        Comment(
            text, $"Detection threshold [0.1 dB re 20 µPa] of a sensor at a time since its burst [us]: {pack.Demand.ThresholdMarginDecibels:0.#} dB over the loudest echo of floor and wearer, never below the part's own but for rounding to 0.1 dB; straight lines between points. "
            + $"Largest raise: {string.Join("; ", pack.Sensors.Select(s => $"{s.Placement.Name} {s.Threshold.LargestRaiseDecibels:0.0} dB"))}.");
        text.Append("static inline int32_t sonargeom_threshold_tenths_db(int32_t sensor, int32_t time_us)\n{\n");
        Table(text, "first", pack.Sensors.Select((_, i) => pack.Sensors.Take(i).Sum(s => s.Threshold.Points.Length)));
        Table(text, "points", pack.Sensors.Select(s => s.Threshold.Points.Length));
        Table(text, "at", pack.Sensors.SelectMany(s => s.Threshold.Points).Select(p => Micro(p.TimeSeconds)));
        Table(text, "level", pack.Sensors.SelectMany(s => s.Threshold.Points).Select(p => Tenths(p.LevelDecibels)));
        text.Append("    if (sensor < 0 || sensor >= SONARGEOM_SENSOR_COUNT) { return 1600; }\n");
        Interpolated(text, "at", "level", "points[sensor]", "time_us", "first[sensor]");
    }

    private static void WriteDistances(StringBuilder text, FirmwarePack pack)
    {
        foreach ((string name, string what, Func<AlertDistance, double> metres) in new (string, string, Func<AlertDistance, double>)[]
        {
            ("first_report_mm", "Distance from the body at which the first report must come", d => d.FirstReportMetres),
            ("alert_mm", "Distance from the body at which the alert must be given, with reaction and braking still to come", d => d.AlertMetres),
        })
        {
            Comment(text, $"{what} [mm], at a walking speed [mm/s]: that of the next faster walk in the table; -1 beyond the fastest.");
            text.Append($"static inline int32_t sonargeom_{name}(int32_t speed_mm_s)\n{{\n");
            Table(text, "speed", pack.AlertDistances.Select(d => (int)Math.Round(1000 * d.SpeedMetresPerSecond)));
            Table(text, "distance", pack.AlertDistances.Select(d => (int)Math.Ceiling(1000 * metres(d))));
            text.Append($"    int32_t i;\n    for (i = 0; i < {pack.AlertDistances.Length}; i++)\n    {{\n        if (speed_mm_s <= speed[i]) {{ return distance[i]; }}\n    }}\n    return -1;\n}}\n\n");
        }

        Comment(text, "Fastest walk at which every listening window still covers the first report in the coldest air. [mm/s]");
        Define(text, "FASTEST_WALK_MM_S", (int)Math.Floor(1000 * pack.FastestWalkMetresPerSecond));
        text.Append('\n');
    }

    private static void BySensor(StringBuilder text, FirmwarePack pack, string name, string comment, Func<SensorFirmware, int> value)
    {
        Comment(text, $"{comment} -1 for no such sensor.");
        text.Append($"static inline int32_t sonargeom_{name}(int32_t sensor)\n{{\n");
        Table(text, "value", pack.Sensors.Select(value));
        text.Append("    return sensor < 0 || sensor >= SONARGEOM_SENSOR_COUNT ? -1 : value[sensor];\n}\n\n");
    }

    // Closes a function that reads two tables of rising x by straight lines.
    private static void Interpolated(StringBuilder text, string x, string y, string count, string given, string first) => text.Append(
        $$"""
            const int32_t *const xs = {{x}} + {{first}};
            const int32_t *const ys = {{y}} + {{first}};
            const int32_t count = {{count}};
            int32_t i;
            if ({{given}} <= xs[0]) { return ys[0]; }
            for (i = 1; i < count; i++)
            {
                if ({{given}} < xs[i])
                {
                    return ys[i - 1] + (int32_t)((int64_t)(ys[i] - ys[i - 1]) * ({{given}} - xs[i - 1]) / (xs[i] - xs[i - 1]));
                }
            }
            return ys[count - 1];
        }


        """);

    private static void Table(StringBuilder text, string name, IEnumerable<int> values)
    {
        var line = new StringBuilder($"    static const int32_t {name}[] = {{");
        int start = 0;
        foreach (int value in values)
        {
            string next = $" {value.ToString(CultureInfo.InvariantCulture)},";
            if (line.Length - start + next.Length > Width)
            {
                start = line.Length;
                line.Append("\n       ");
            }

            line.Append(next);
        }

        line.Length--;
        text.Append(line).Append(" };\n");
    }

    private static void Define(StringBuilder text, string name, int value) =>
        text.Append($"#define SONARGEOM_{name} {(value < 0 ? $"({value.ToString(CultureInfo.InvariantCulture)})" : value.ToString(CultureInfo.InvariantCulture))}\n");

    private static void Comment(StringBuilder text, params string[] sentences) =>
        text.Append("/* ").Append(string.Join("\n   ", sentences.Select(s => Wrapping.Fold(Plain(s), Width - 6, 3)))).Append(" */\n");

    private static int Micro(double seconds) => (int)Math.Round(seconds * 1e6);

    private static int Tenths(double decibels) => (int)Math.Round(decibels * 10);

    private static string Identifier(string name)
    {
        string plain = string.Concat(name.ToUpperInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '_')).Trim('_');
        return plain.Length == 0 ? "UNNAMED" : plain;
    }

    // Comments are ASCII, and nothing in them can end them or be a trigraph.
    private static string Plain(string text)
    {
        string ascii = text.Replace("µ", "u").Replace("°C", "degC").Replace("°", "deg").Replace("−", "-").Replace("×", "x").Replace("·", "*").Replace("²", "2")
            .Replace('\u00a0', ' ').Replace('\\', '/').Replace('?', '.').Replace("*/", "* /").Replace("/*", "/ *");
        return string.Concat(ascii.Select(c => c is >= ' ' and <= '~' ? c : '_'));
    }
}
