using System.CommandLine;
using SonarGeom.Air;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Quantities;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Commands;

/// <summary>Prints what the air does to a tone, temperature by temperature.</summary>
internal sealed class AirCommand : ToolCommand
{
    private const int MostRows = 1000;

    private readonly Option<double?> _from = Numbers.Option("--from-c", AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius, "The first temperature. [°C] Without it -10.");
    private readonly Option<double?> _to = Numbers.Option("--to-c", AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius, "The last temperature. [°C] Without it 40.");
    private readonly Option<double?> _step = Numbers.Option("--step-c", 0.1, 70, "The step between temperatures. [°C] Without it 5.");
    private readonly Option<double?> _frequency = Numbers.Option("--frequency-khz", 15, 500, "The frequency of the tone. [kHz] Without it 40.");
    private readonly Option<double?> _assumed = Numbers.Option("--assumed-us-cm", 45, 75, "The round-trip time that the device assumes. [µs/cm] Without it 58.");
    private readonly AirOptions _air;
    private readonly AnswerOptions _answer;

    internal AirCommand()
        : base(
            "air",
            "Prints the air table: speed of sound, density, impedance, absorption, round trip, and the range error of a device that assumes a fixed "
            + "one. Flags tell where a formula leaves its stated range.",
            "air --from-c -10 --to-c 40 --step-c 10 --humidity-percent 60")
    {
        Add(_from);
        Add(_to);
        Add(_step);
        _air = new AirOptions(this, hasTemperature: false);
        Add(_frequency);
        Add(_assumed);
        _answer = new AnswerOptions(this, "the table");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        double from = line.GetValue(_from) ?? -10, to = line.GetValue(_to) ?? 40, step = line.GetValue(_step) ?? 5;
        if (to < from)
        {
            throw new UsageException($"--to-c is {to}; it must not be below --from-c, which is {from}.");
        }

        if ((to - from) / step >= MostRows)
        {
            throw new UsageException($"The table would have more than {MostRows} rows; make --step-c larger.");
        }

        Frequency frequency = Frequency.FromKilohertz(line.GetValue(_frequency) ?? 40);
        double assumed = line.GetValue(_assumed) ?? DeviceSettings.UsualMicrosecondsPerCentimetre;
        AirRow[] rows =
        [
            .. Enumerable.Range(0, (int)Math.Floor(((to - from) / step) + 1e-9) + 1)
                .Select(i => new AirRow(AirProperties.Of(_air.StateAt(line, from + (i * step)), frequency, _air.Model(line)), assumed)),
        ];
        string[] flags = [.. Flags(rows)];
        if (_answer.IsCsv(line))
        {
            AirTables.Air.WriteCsv(session.Output, rows);
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "air_table", null, json =>
            {
                AirTables.Air.WriteArray(json, "air", rows);
                json.WriteSentences("flags", flags);
            });
        }
        else
        {
            AirState first = rows[0].Air.State;
            session.Output.WriteLine(
                $"Air at {first.RelativeHumidityPercent:0.#} % relative humidity and {first.PressurePascals / 1000:0.###} kPa, {frequency}; "
                + $"the device assumes {assumed:0.##} µs/cm.");
            session.Output.WriteLine("A range error above 0 means that the obstacle is nearer than the device tells.");
            session.Output.WriteLine();
            AirTables.Air.WriteText(session.Output, rows);
            if (flags.Length > 0)
            {
                session.Output.WriteLine();
                session.Output.WriteLine("Flags");
                foreach (string flag in flags)
                {
                    session.Output.WriteLine($"- {Wrapping.Fold(flag, 100, 2)}");
                }
            }
        }

        return ExitCode.Done;
    }

    // One sentence for each flag, with the temperatures at which it holds.
    private static IEnumerable<string> Flags(AirRow[] rows) => rows
        .SelectMany(r => r.Air.Flags.Select(f => (Text: f.Replace(r.Air.State.ToString(), "the air", StringComparison.Ordinal), r.Air.State.Temperature)))
        .GroupBy(f => f.Text)
        .Select(g => $"At {string.Join(", ", g.Select(f => $"{f.Temperature.DegreesCelsius:0.##}"))} °C. {g.Key}");
}
