using System.Collections.Immutable;
using System.CommandLine;
using System.Text;
using System.Text.RegularExpressions;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Echoes;
using SonarGeom.Files;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Cli.Commands;

/// <summary>
/// Evaluates one obstacle before one sensor at any pose, or a table of such cases, and opens the level budget. The options are the
/// columns of the table of cases, so that both forms are read by the same rules.
/// </summary>
internal sealed class EchoCommand : ToolCommand
{
    private const string CommandLine = "command line";

    private const string UsualTransducer = "plover-pair-40";

    private static readonly Dictionary<string, string> Descriptions = new()
    {
        ["kind"] = "The kind of obstacle, such as pole, bar, sphere, board, wall, box, kerb_up, stairs, sign, awning, bollard, chain, foliage, mesh.",
        ["x_m"] = "The obstacle's place ahead. [m]",
        ["y_m"] = "The obstacle's place to the left. Without it 0. [m]",
        ["z_m"] = "The obstacle's height: of its foot for what stands on the ground, of the lower end of foliage, else of its middle. Without it 0. [m]",
        ["yaw_deg"] = "The obstacle's turn about the vertical, positive left. [°]",
        ["pitch_deg"] = "The rise of the obstacle's own X axis. [°]",
        ["roll_deg"] = "The obstacle's right-handed turn about its own X axis. [°]",
        ["length_m"] = "Length of a bar, kerb, step down or chain. [m]",
        ["width_m"] = "Width of a board, foliage, sign, wall, box, stair, awning or tail-gate. [m]",
        ["height_m"] = "Height. [m]",
        ["depth_m"] = "Depth of a box, foliage, awning, tail-gate or slab. [m]",
        ["diameter_m"] = "Diameter of what is round, or of a rounded lip. [m]",
        ["cap"] = "The top of a bollard: flat, domed or chamfered.",
        ["cap_rise_m"] = "Rise of a domed or chamfered cap. [m]",
        ["sag_m"] = "Sag of a chain. [m]",
        ["riser_m"] = "Rise of one step of a stair. [m]",
        ["going_m"] = "Going of one step of a stair. [m]",
        ["steps"] = "Number of steps of a stair.",
        ["form"] = "The shape that the leaves of foliage fill: ellipsoid or box.",
        ["leaf_radius_mm"] = "Radius of a leaf of foliage. [mm]",
        ["leaves_per_m3"] = "Number of leaves in a cubic metre of foliage.",
        ["reflection_loss_db"] = "Loss of the material at one reflection. Without it 0. [dB]",
        ["roughness_mm"] = "Root-mean-square height of the surface. Without it the assumption of the kind. [mm]",
        ["file"] = "The file of a mesh: .obj, .gltf or .glb.",
        ["unit"] = "The unit of a mesh file: m, cm, mm or in; must be given for .obj.",
        ["up_axis"] = "The axis of a mesh file that points up, y or z; must be given for .obj.",
        ["front"] = "The axis of a mesh file along which the front looks; z when y is up and -y when z is up, if not given.",
        ["scale"] = "The factor by which a mesh is enlarged. Without it 1.",
        ["transducer"] = $"A transducer: the path of a file, or a name of the catalogue. Without it {UsualTransducer}.",
        ["sensor_x_m"] = "The sensor's place ahead. Without it 0. [m]",
        ["sensor_y_m"] = "The sensor's place to the left. Without it 0. [m]",
        ["sensor_z_m"] = "The sensor's height. [m]",
        ["sensor_azimuth_deg"] = "The boresight against straight ahead, positive left. Without it 0. [°]",
        ["sensor_tilt_deg"] = "The boresight against the horizontal, positive up. Without it 0. [°]",
        ["sensor_roll_deg"] = "The right-handed turn about the boresight. Without it 0. [°]",
    };

    private readonly ImmutableArray<(string Column, Option<string?> Option)> _columns =
    [
        .. PoseTable.ColumnNames.Where(Descriptions.ContainsKey).Select(c => (c, new Option<string?>($"--{c.Replace('_', '-')}")
        {
            Description = Descriptions[c],
            HelpName = c is "file" ? "FILE" : c is "kind" or "cap" or "form" or "unit" or "up_axis" or "front" ? "WORD" : c is "transducer" ? "TRANSDUCER" : c is "steps" ? "COUNT" : c is "scale" ? "FACTOR" : "NUMBER",
        })),
    ];

    private readonly Option<string?> _poses = new("--poses")
    {
        Description = "A table (CSV) of cases, one a row, in place of the options: their columns are the options' names with underscores.",
        HelpName = "FILE",
    };

    private readonly Option<GroundPreset?> _ground = Choices.Option<GroundPreset>("--ground", "The ground, with which feet and faces make corners. Without it paving.");
    private readonly Option<bool> _integral = new("--integral") { Description = "Sets the second engine, the surface integral, beside the closed form of each part." };
    private readonly AirOptions _air;
    private readonly AnswerOptions _answer;

    internal EchoCommand()
        : base(
            "echo",
            "Evaluates one obstacle before one sensor at any pose and opens the whole level budget, line by line in dB, as the band mean of the burst "
            + "and for one steady tone. A table of cases goes in and comes out with --poses and --csv. There is no wearer: nothing of a body is in the way.",
            "echo --kind pole --x-m 2 --diameter-m 0.075 --height-m 2 --sensor-z-m 1.1 --transducer heron-strong-40")
    {
        foreach ((_, Option<string?> option) in _columns)
        {
            Add(option);
        }

        Add(_poses);
        Add(_ground);
        Add(_integral);
        _air = new AirOptions(this);
        _answer = new AnswerOptions(this, "the budgets, one a row,");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        ImmutableArray<PosedCase> cases = Cases(line);
        var judge = new CaseJudge(_air.Medium(line), GroundOf(line.GetValue(_ground) ?? GroundPreset.Paving), line.GetValue(_integral), line.GetValue(_poses));
        ImmutableArray<CaseAnswer> answers = judge.Answer(cases, session.Cancellation);
        BudgetRow[] rows = [.. answers.Select(a => a.Row)];
        if (_answer.IsCsv(line))
        {
            BudgetTables.Rows.WriteCsv(session.Output, rows);
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "echo", null, json =>
            {
                LeftOut.WriteArray(json, cases.Select(c => c.Obstacle));
                json.WriteStartArray("cases");
                foreach (CaseAnswer answer in answers)
                {
                    json.WriteStartObject();
                    BudgetTables.Rows.WriteMembers(json, answer.Row);
                    CaseTables.Floor.WriteMembers(json, answer);
                    CaseTables.Parts.WriteArray(json, "parts", answer.Parts);
                    if (line.GetValue(_integral))
                    {
                        CaseTables.Engines.WriteArray(json, "engines", answer.Parts);
                    }

                    json.WriteEndObject();
                }

                json.WriteEndArray();
            });
        }
        else if (line.GetValue(_poses) is not null)
        {
            BudgetTables.Rows.WriteText(session.Output, rows);
        }
        else
        {
            WriteText(session.Output, answers[0]);
            if (line.GetValue(_integral))
            {
                session.Output.WriteLine();
                session.Output.WriteLine("Each part by both engines, band mean");
                CaseTables.Engines.WriteText(session.Output, answers[0].Parts);
            }
        }

        if (!_answer.IsCsv(line) && !_answer.IsJson(line) && cases.Any(c => c.Obstacle.Kind is ObstacleKind.Mesh or ObstacleKind.Foliage))
        {
            session.Output.WriteLine();
            LeftOut.WriteText(session.Output, cases.Select(c => c.Obstacle));
        }

        return ExitCode.Done;
    }

    private static void WriteText(TextWriter output, CaseAnswer answer)
    {
        output.WriteLine($"{answer.Row.Subject} before {answer.Row.Transducer}, {answer.Row.FrequencyKilohertz:0.#} kHz");
        output.WriteLine();
        BudgetTables.WriteText(output, answer.Row.Budget);
        output.WriteLine(answer.FloorMetres is { } floor
            ? $"The bare ground itself is reported from {floor:0.00} m on and hides what comes later."
            : $"The bare ground stays silent; it is {-answer.FloorMarginDecibels:0} dB below the threshold at its strongest.");
        output.WriteLine();
        output.WriteLine("Parts of the obstacle, each by itself");
        CaseTables.Parts.WriteText(output, answer.Parts);
    }

    private ImmutableArray<PosedCase> Cases(ParseResult line)
    {
        (string Column, string? Value)[] given =
        [
            .. _columns.Select(c => (c.Column, Value: line.GetValue(c.Option))).Where(c => c.Value is not null)
                .Select(c => (c.Column, c.Column is "kind" or "cap" ? c.Value!.Replace('-', '_') : c.Value)),
        ];
        if (line.GetValue(_poses) is { } path)
        {
            return given.Length == 0 || given is [("transducer", _)]
                ? WithTransducer(PoseTable.Read(path), given.FirstOrDefault().Value)
                : throw new UsageException($"--poses and --{given[0].Column.Replace('_', '-')} cannot be given together; the table has a column for it.");
        }

        if (given.Length == 0)
        {
            throw new UsageException($"echo needs an obstacle and a sensor, or --poses; for example: sonargeom {Example}");
        }

        try
        {
            return PoseTable.ReadText(CommandLine, Row(given));
        }
        catch (InvalidInputException invalid)
        {
            // Lines and columns of a table that nobody wrote would mislead; those of a mesh file do not.
            throw new InvalidInputException(
                [.. invalid.Faults.Select(f => f.File == CommandLine ? new Fault("sonargeom", null, null, f.Field, AsOptions(f.Message)) : f)]);
        }
    }

    private static ImmutableArray<PosedCase> WithTransducer(ImmutableArray<PosedCase> cases, string? transducer) =>
        [.. cases.Select(c => c with { TransducerName = c.TransducerName ?? transducer })];

    private static string Row((string Column, string? Value)[] given)
    {
        (string Column, string? Value)[] all = [("id", given.FirstOrDefault(g => g.Column == "kind").Value ?? "obstacle"), .. given];
        foreach (string needed in (string[])["kind", "x_m", "y_m", "sensor_z_m"])
        {
            if (!all.Any(c => c.Column == needed))
            {
                all = [.. all, (needed, needed == "y_m" ? "0" : string.Empty)];
            }
        }

        using var stream = new MemoryStream();
        using (var table = new TableWriter(stream, [.. all.Select(c => c.Column)]))
        {
            foreach ((_, string? value) in all)
            {
                table.Cell(value);
            }

            table.EndRow();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    // Faults name the columns of a table; here they are options, and an empty cell is an option not given.
    private string AsOptions(string message)
    {
        foreach ((string column, Option<string?> option) in _columns)
        {
            string whole = column.Contains('_', StringComparison.Ordinal) ? $@"(?<![\w-]){column}\b" : $"^{column}(?= is )|(?<= have |, ){column}(?=[,.])";
            message = Regex.Replace(message, whole, option.Name);
        }

        message = message.Replace("give unit (", "give --unit (", StringComparison.Ordinal);
        return message.Replace(" is empty; it must be", " is not given; it must be", StringComparison.Ordinal);
    }

    private static Ground? GroundOf(GroundPreset preset) => preset switch
    {
        GroundPreset.SmoothTile => Ground.SmoothTile,
        GroundPreset.Paving => Ground.Paving,
        GroundPreset.Asphalt => Ground.Asphalt,
        GroundPreset.Gravel => Ground.Gravel,
        GroundPreset.Grass => Ground.Grass,
        _ => null,
    };

    private enum GroundPreset
    {
        SmoothTile,
        Paving,
        Asphalt,
        Gravel,
        Grass,
        None,
    }
}
