using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using SonarGeom.Geometry;

namespace SonarGeom.Cli.Shell;

/// <summary>Options that take numbers: a point for decimals, no thousands separators, a stated range, a unit in the name.</summary>
internal static class Numbers
{
    /// <summary>Makes an option for a number within a range.</summary>
    internal static Option<double?> Option(string name, double least, double most, string description) => new(name)
    {
        Description = description,
        HelpName = "NUMBER",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (TryParse(text, out double value) && value >= least && value <= most)
            {
                return value;
            }

            result.AddError($"{name} is {Shown(text)}; it must be a number from {Text(least)} to {Text(most)}, with a point for decimals.");
            return null;
        },
    };

    /// <summary>Makes an option for a whole number within a range.</summary>
    internal static Option<int?> WholeOption(string name, int least, int most, string description) => new(name)
    {
        Description = description,
        HelpName = "COUNT",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int value) && value >= least && value <= most)
            {
                return value;
            }

            result.AddError($"{name} is {Shown(text)}; it must be a whole number from {least} to {most}.");
            return null;
        },
    };

    /// <summary>Makes an option for a position: three numbers with commas between them.</summary>
    internal static Option<Vec3?> PositionOption(string name, double reach, string description) => new(name)
    {
        Description = description,
        HelpName = "X,Y,Z",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            string[] parts = text.Split(',');
            double[] values = [.. parts.Select(p => TryParse(p, out double v) && Math.Abs(v) <= reach ? v : double.NaN)];
            if (values.Length == 3 && values.All(double.IsFinite))
            {
                return new Vec3(values[0], values[1], values[2]);
            }

            result.AddError($"{name} is {Shown(text)}; it must be three numbers from {Text(-reach)} to {Text(reach)} with commas between them, such as 1.5,0,1.2.");
            return null;
        },
    };

    /// <summary>Reads a finite number with a point for decimals.</summary>
    internal static bool TryParse(string text, out double value) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out value)
        && double.IsFinite(value);

    /// <summary>Shows what a user typed, kept short.</summary>
    internal static string Shown(string text) => text.Length == 0 ? "empty" : text.Length <= 40 ? $"'{text}'" : $"'{text[..37]}...'";

    internal static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
