using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Output;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Studies.Firmware;

namespace SonarGeom.Cli.Commands;

/// <summary>Writes the numbers that the firmware of a layout needs: JSON, CSV and a C header.</summary>
internal sealed class FirmwareCommand : ToolCommand
{
    private readonly ScenarioOptions _scenario;

    private readonly Option<double?> _from = Numbers.Option(
        "--from-c", AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius, "The coldest air in which the device must work. [°C] Without it -10.");

    private readonly Option<double?> _to = Numbers.Option(
        "--to-c", AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius, "The warmest. [°C] Without it 40.");

    private readonly Option<double?> _step = Numbers.Option("--step-c", 0.5, 50, "The step of the round-trip table. [°C] Without it 5.");

    private readonly Option<double?> _driest = Numbers.Option("--driest-percent", 0, 100, "The lowest relative humidity. [%] Without it 20.");

    private readonly Option<double?> _dampest = Numbers.Option("--dampest-percent", 0, 100, "The highest relative humidity. [%] Without it 90.");

    private readonly Option<double?> _threshold = Numbers.Option(
        "--threshold-margin-db", 0, 30, "How far the threshold lies above what a sensor hears of the floor and the wearer. [dB] Without it 6.");

    private readonly Option<double?> _firing = Numbers.Option(
        "--firing-margin-db", 0, 30, "How far ghosts of earlier bursts and crosstalk stay below the threshold. [dB] Without it 6.");

    private readonly OutputOption _output;

    private readonly AnswerOptions _answer;

    internal FirmwareCommand()
        : base(
            "firmware",
            "Writes what the firmware of a layout needs for a range of weather: round trip against temperature and a formula with worked values, blanking, a "
            + "threshold against time that clears the floor and the wearer, firing order and shortest safe cycle, alert distances by walking speed. "
            + "Each number comes with its unit and its reason, as JSON, CSV and a C header.",
            "firmware harbour-promenade --from-c -10 --to-c 35 --threshold-margin-db 6 --firing-margin-db 6")
    {
        _scenario = new ScenarioOptions(this, hasProbe: false);
        foreach (Option<double?> option in new[] { _from, _to, _step, _driest, _dampest, _threshold, _firing })
        {
            Add(option);
        }

        _output = new OutputOption(this, "for firmware.json, firmware.csv and firmware.h", "firmware- and the name of the layout");
        _answer = new AnswerOptions(this, "every number");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        bool isCsv = _answer.IsCsv(line);
        double from = line.GetValue(_from) ?? -10, to = line.GetValue(_to) ?? 40;
        double driest = line.GetValue(_driest) ?? 20, dampest = line.GetValue(_dampest) ?? 90;
        if (to < from)
        {
            throw new UsageException($"--to-c is {to}; it must not be below --from-c, which is {from}.");
        }

        if (dampest < driest)
        {
            throw new UsageException($"--dampest-percent is {dampest}; it must not be below --driest-percent, which is {driest}.");
        }

        LoadedScenario loaded = _scenario.Read(line);
        Scenario scenario = loaded.Scenario;
        WearerSpec wearer = _scenario.Wearer(line, scenario);
        var climate = new ClimateRange(Temperature.FromDegreesCelsius(from), Temperature.FromDegreesCelsius(to), driest, dampest, scenario.Air.PressurePascals);
        var demand = new FirmwareDemand(climate, line.GetValue(_threshold) ?? 6, line.GetValue(_firing) ?? 6, line.GetValue(_step) ?? 5);
        string path = _output.PathOf(line, $"firmware-{FileNames.Of(scenario.Layout.Name)}");
        using OutputFolder folder = OutputFolder.Open(path);
        FirmwarePack pack = FirmwareStudy.Of(scenario, wearer, _scenario.Tables(line), demand, session.Cancellation);
        ImmutableArray<FirmwareValue> rows = FirmwareTables.RowsOf(pack);
        FirmwareTables.Values.WriteCsv(folder, "firmware.csv", rows);

        using (Stream json = folder.Create("firmware.json"))
        {
            JsonResult.Write(json, "firmware", loaded.Sha256, j => WriteMembers(j, pack, scenario, wearer, rows));
        }

        folder.WriteText("firmware.h", FirmwareHeader.Of(pack, loaded.Sha256));
        session.Cancellation.ThrowIfCancellationRequested();
        folder.Commit();
        if (isCsv)
        {
            FirmwareTables.Values.WriteCsv(session.Output, rows);
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "firmware", loaded.Sha256, j => WriteMembers(j, pack, scenario, wearer, rows));
        }
        else
        {
            WriteText(session.Output, pack, wearer);
            session.Output.WriteLine($"Wrote {folder.Names.Count} files to {path}.");
        }

        return ExitCode.Done;
    }

    private static void WriteMembers(System.Text.Json.Utf8JsonWriter json, FirmwarePack pack, Scenario scenario, WearerSpec wearer, ImmutableArray<FirmwareValue> rows)
    {
        json.WriteString("scenario", scenario.Name);
        json.WriteString("layout", pack.Layout.Name);
        json.WriteString("wearer", wearer.Name);
        json.WriteNumber("coldest_c", Math.Round(pack.Demand.Climate.Coldest.DegreesCelsius, 6));
        json.WriteNumber("warmest_c", Math.Round(pack.Demand.Climate.Warmest.DegreesCelsius, 6));
        json.WriteNumber("driest_percent", pack.Demand.Climate.DriestPercent);
        json.WriteNumber("dampest_percent", pack.Demand.Climate.DampestPercent);
        json.WriteNumber("threshold_margin_db", pack.Demand.ThresholdMarginDecibels);
        json.WriteNumber("firing_margin_db", pack.Demand.FiringMarginDecibels);
        json.WriteBoolean("keeps_firing_margin", pack.KeepsFiringMargin);
        json.WriteString("firing", pack.Firing.Sentence);
        FirmwareTables.Values.WriteArray(json, "values", rows);
        json.WriteSentences("cautions", pack.Cautions);
    }

    private static void WriteText(TextWriter output, FirmwarePack pack, WearerSpec wearer)
    {
        ClimateRange climate = pack.Demand.Climate;
        output.WriteLine($"Firmware of {pack.Layout.Name} on {wearer.Name}, {climate.Coldest} to {climate.Warmest}, {climate.DriestPercent:0.#} to {climate.DampestPercent:0.#} % relative humidity");
        output.WriteLine();
        FirmwareTables.RoundTrips.WriteText(output, pack.RoundTrips);
        output.WriteLine();
        SpeedCompensation formula = pack.Compensation;
        output.WriteLine(Wrapping.Fold(
            $"Formula: c = {formula.AtZeroMillimetresPerSecond} + {formula.PerDegreeMillimetresPerSecond}·t mm/s, range = c × echo time / 2; "
            + $"no range is off by more than {100 * formula.LargestErrorFraction:0.00} % over the climate.", 100, 0));
        foreach (WorkedCheck check in pack.Checks)
        {
            output.WriteLine($"Check: {check.EchoMicroseconds} µs at {check.TemperatureTenthsCelsius / 10.0:0.0} °C is {check.RangeMillimetres} mm.");
        }

        output.WriteLine();
        string origin = ReferenceEquals(pack.Firing, pack.OwnFiring) ? "the layout's own" : "the shortest safe one, since the layout's own does not keep the margin";
        output.WriteLine(Wrapping.Fold($"Firing: {FiringTables.OrderInWords(pack.Layout, pack.Firing.Schedule)}; cycle {pack.Firing.Schedule.CycleSeconds * 1000:0.0} ms, {origin}. {pack.Firing.Sentence}", 100, 0));
        output.WriteLine(Wrapping.Fold(
            pack.ShortestFiring is { } shortest
                ? $"Shortest cycle that keeps {pack.Demand.FiringMarginDecibels:0.#} dB: {shortest.Schedule.CycleSeconds * 1000:0.0} ms ({FiringTables.OrderInWords(pack.Layout, shortest.Schedule)})."
                : $"No cycle keeps {pack.Demand.FiringMarginDecibels:0.#} dB.", 100, 0));
        output.WriteLine();
        FirmwareTables.Sensors.WriteText(output, pack.Sensors);
        output.WriteLine();
        FirmwareTables.Distances.WriteText(output, pack.AlertDistances);
        output.WriteLine($"Listening windows cover the first report up to {pack.FastestWalkMetresPerSecond:0.0} m/s.");
        output.WriteLine();
        foreach (string caution in pack.Cautions)
        {
            output.WriteLine($"- {Wrapping.Fold(caution, 100, 2)}");
        }

        output.WriteLine();
    }
}
