using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>Reads values between tabled percentiles.</summary>
internal static class PercentileScale
{
    /// <summary>Returns the value at a percentile; between tabled percentiles it runs straight over the normal deviate.</summary>
    internal static double Interpolate(ImmutableArray<double> levels, ImmutableArray<double> values, double percentile)
    {
        Finite.Within(percentile, levels[0], levels[^1], "Percentile", "%");
        int i = 1;
        while (percentile > levels[i])
        {
            i++;
        }

        if (percentile == levels[i])
        {
            return values[i];
        }

        double low = Deviate(levels[i - 1]);
        double share = (Deviate(percentile) - low) / (Deviate(levels[i]) - low);
        return values[i - 1] + (share * (values[i] - values[i - 1]));
    }

    private static double Deviate(double percentile) => Normal.InvCDF(0, 1, percentile / 100);
}
