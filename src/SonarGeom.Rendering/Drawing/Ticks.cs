using System.Globalization;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Round tick values of an axis and how they are written.</summary>
internal sealed class Ticks
{
    private Ticks(double[] values, int decimals)
    {
        Values = values;
        Labels = Array.ConvertAll(values, v => Write(v, decimals));
    }

    private Ticks(double[] values, string[] labels)
    {
        Values = values;
        Labels = labels;
    }

    public double[] Values { get; }

    public string[] Labels { get; }

    /// <summary>Returns ticks at multiples of 1, 2 or 5 times a power of ten inside a range, at most so many.</summary>
    public static Ticks Between(double from, double to, int most)
    {
        double low = Math.Min(from, to);
        double high = Math.Max(from, to);
        double span = high - low;
        if (!(span > 0) || !double.IsFinite(span))
        {
            return new([low], Decimals(Math.Max(Math.Abs(low) / 10, 1e-3)));
        }

        int power = (int)Math.Floor(Math.Log10(span / Math.Max(most, 1))) - 1;
        while (true)
        {
            foreach (int factor in (ReadOnlySpan<int>)[1, 2, 5])
            {
                double step = factor * Math.Pow(10, power);
                double slack = 1e-9 * span / step;
                double first = Math.Ceiling((low / step) - slack);
                double last = Math.Floor((high / step) + slack);
                int count = (int)Math.Min(last - first + 1, 1000);
                if (count <= most)
                {
                    double[] values = new double[Math.Max(count, 0)];
                    for (int i = 0; i < values.Length; i++)
                    {
                        double multiple = first + i;
                        values[i] = power < 0
                            ? multiple * factor / Math.Pow(10, -power)
                            : multiple * factor * Math.Pow(10, power);
                    }

                    return new(values, Decimals(step));
                }
            }

            power++;
        }
    }

    /// <summary>Returns the ticks that an axis asks for by value.</summary>
    /// <exception cref="ArgumentException">There are labels, but not one for each tick.</exception>
    public static Ticks At(Figures.AxisSpec axis)
    {
        if (axis.TickLabels.IsDefaultOrEmpty)
        {
            return At(axis.Ticks.AsSpan());
        }

        return axis.TickLabels.Length == axis.Ticks.Length
            ? new([.. axis.Ticks], [.. axis.TickLabels])
            : throw new ArgumentException($"{axis.TickLabels.Length} labels for {axis.Ticks.Length} ticks.", nameof(axis));
    }

    /// <summary>Returns ticks at given values, written with as many decimals as they need, at most four.</summary>
    public static Ticks At(ReadOnlySpan<double> values)
    {
        int decimals = 0;
        foreach (double v in values)
        {
            while (decimals < 4 && Math.Abs(v - Math.Round(v, decimals)) > 1e-9 * Math.Max(1, Math.Abs(v)))
            {
                decimals++;
            }
        }

        return new(values.ToArray(), decimals);
    }

    /// <summary>Returns the most ticks along a horizontal axis whose labels keep apart.</summary>
    public static Ticks Along(double from, double to, double lengthPixels, TextStyle style, double gap = 14)
    {
        for (int most = Math.Clamp((int)(lengthPixels / 60), 2, 12); most > 2; most--)
        {
            Ticks ticks = Between(from, to, most);
            double widest = ticks.Labels.Length == 0 ? 0 : ticks.Labels.Max(style.Measure);
            double pitch = ticks.Values.Length < 2
                ? lengthPixels
                : lengthPixels * (ticks.Values[1] - ticks.Values[0]) / Math.Abs(to - from);
            if (widest + gap <= pitch)
            {
                return ticks;
            }
        }

        return Between(from, to, 2);
    }

    /// <summary>Returns ticks along an upright axis.</summary>
    public static Ticks Upright(double from, double to, double lengthPixels) =>
        Between(from, to, Math.Clamp((int)(lengthPixels / 45), 2, 12));

    /// <summary>Returns a number with a true minus sign and no negative zero.</summary>
    public static string Write(double value, int decimals)
    {
        string text = Math.Abs(value).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        bool isZero = text.AsSpan().IndexOfAnyInRange('1', '9') < 0;
        return value < 0 && !isZero ? "\u2212" + text : text;
    }

    private static int Decimals(double step) => Math.Clamp(-(int)Math.Floor(Math.Log10(step) + 1e-9), 0, 6);
}
