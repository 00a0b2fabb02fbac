using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Shell;
using SonarGeom.Geometry;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Commands;

/// <summary>How many walks are tried, and what differs between them, as options.</summary>
internal sealed class TrialOptions
{
    private readonly Option<int?> _walks = Numbers.WholeOption("--walks", 1, 1_000_000, "The number of walks. Without it 2000.");
    private readonly Option<int?> _perOuting = Numbers.WholeOption(
        "--walks-per-outing", 1, 1000, "How many walks share one day's posture, speed, air and mounts. Without it a hundredth of the walks, from 10 to 100.");

    private readonly Option<int?> _seed = Numbers.WholeOption("--seed", 0, int.MaxValue, "The seed of all that is drawn. Without it 1.");
    private readonly Option<double?> _away = Numbers.Option("--not-looking-percent", 0, 95, "The share of the time in which the device does something else and does not look. Without it 0. [%]");
    private readonly Option<double?> _awaySeconds = Numbers.Option("--not-looking-ms", 50, 600_000, "How long one such time lasts on average. Without it 1500. [ms]");
    private readonly Option<int?> _others = Numbers.WholeOption("--other-bursts", 0, 6000, "How many bursts of another wearer's device are loud enough to be taken for echoes, in a minute. Without it 0.");
    private readonly Option<double?> _veer = Numbers.Option("--veer-deg", 0, 5, "By how much a step turns the heading, as a standard deviation. Without it 1. [°]");
    private readonly Option<ImmutableArray<Vec3>?> _path = new("--path")
    {
        Description = "The line that is walked: corners as X,Y in metres with semicolons between them, such as 0,0;20,0;20,10. Without it straight ahead past the last obstacle.",
        HelpName = "CORNERS",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            var corners = ImmutableArray.CreateBuilder<Vec3>();
            foreach (string corner in text.Split(';'))
            {
                double[] at = [.. corner.Split(',').Select(p => Numbers.TryParse(p, out double v) && Math.Abs(v) <= 1000 ? v : double.NaN)];
                if (at.Length != 2 || !at.All(double.IsFinite) || (corners.Count > 0 && corners[^1].DistanceTo(new Vec3(at[0], at[1], 0)) < 0.1))
                {
                    corners.Clear();
                    break;
                }

                corners.Add(new Vec3(at[0], at[1], 0));
            }

            if (corners.Count is >= 2 and <= 100)
            {
                return corners.ToImmutable();
            }

            result.AddError($"--path is {Numbers.Shown(text)}; it must be 2 to 100 corners such as 0,0;20,0;20,10, each at least 0.1 m from the one before and within 1000 m.");
            return null;
        },
    };

    internal TrialOptions(Command command)
    {
        command.Add(_walks);
        command.Add(_perOuting);
        command.Add(_seed);
        command.Add(_path);
        command.Add(_veer);
        command.Add(_away);
        command.Add(_awaySeconds);
        command.Add(_others);
    }

    /// <summary>Returns the settings.</summary>
    internal TrialSettings Read(ParseResult line)
    {
        var usual = new TrialSettings();
        int walks = line.GetValue(_walks) ?? usual.Walks;
        double away = line.GetValue(_away) ?? 0;
        return usual with
        {
            Walks = walks,
            WalksPerOuting = line.GetValue(_perOuting) ?? Math.Clamp(walks / 100, 10, 100),
            Seed = (ulong)(line.GetValue(_seed) ?? 1),
            Path = line.GetValue(_path) is { } corners ? new TrialPath(corners) : null,
            VeerDegrees = line.GetValue(_veer) ?? usual.VeerDegrees,
            Away = away > 0 ? [new AwayTime("another task of the device", away / 100, (line.GetValue(_awaySeconds) ?? 1500) / 1000)] : [],
            OtherBurstsPerSecond = (line.GetValue(_others) ?? 0) / 60.0,
        };
    }

    /// <summary>Returns the settings as one line, to tell trials apart.</summary>
    internal static string Key(TrialSettings s) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"{s.Walks} {s.WalksPerOuting} {s.Seed} {s.VeerDegrees:R} {s.OtherBurstsPerSecond:R} {string.Join('/', s.Away.Select(a => $"{a.ShareFraction:R}x{a.MeanSeconds:R}"))} {string.Join('/', s.Path?.CornersMetres.Select(c => $"{c.X:R},{c.Y:R}") ?? [])}");
}
