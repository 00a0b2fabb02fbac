using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>The range of values along one axis.</summary>
internal readonly record struct AxisRange(double From, double To)
{
    public double Span => To - From;

    /// <summary>Returns the stated range, or the range of the values; with room the latter reaches to round numbers.</summary>
    public static AxisRange Of(AxisSpec axis, IEnumerable<double> values, bool hasRoom)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (double v in values)
        {
            if (double.IsFinite(v))
            {
                low = Math.Min(low, v);
                high = Math.Max(high, v);
            }
        }

        if (low > high)
        {
            (low, high) = (0, 1);
        }

        if (high - low <= 1e-12 * Math.Max(Math.Abs(low), Math.Abs(high)))
        {
            double half = low == 0 ? 1 : 0.1 * Math.Abs(low);
            (low, high) = (low - half, high + half);
        }
        else if (hasRoom)
        {
            Ticks ticks = Ticks.Between(low, high, 8);
            double step = ticks.Values.Length > 1 ? ticks.Values[1] - ticks.Values[0] : high - low;
            low = Math.Floor((low / step) + 1e-9) * step;
            high = Math.Ceiling((high / step) - 1e-9) * step;
        }

        double from = axis.From ?? low;
        double to = axis.To ?? high;
        if (!(to > from) || !double.IsFinite(to - from))
        {
            throw new ArgumentException($"Axis \"{axis.Label}\" reaches from {from} to {to}; the second must be more.");
        }

        return new(from, to);
    }
}
