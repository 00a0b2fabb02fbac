namespace SonarGeom.Bodies.Surfaces;

/// <summary>Smooth curves through points that never overshoot them.</summary>
/// <remarks>Piecewise cubic with harmonic-mean slopes. Source: Fritsch and Butland 1984, SIAM J Sci Stat Comput 5:300-304.</remarks>
internal static class MonotoneCurve
{
    /// <summary>Returns the values at a place; the end values hold beyond the ends.</summary>
    /// <param name="places">Rising places of the points.</param>
    /// <param name="values">The values at each point.</param>
    /// <param name="at">The place wanted.</param>
    internal static double[] At(double[] places, double[][] values, double at)
    {
        int n = places.Length;
        if (at <= places[0])
        {
            return values[0];
        }

        if (at >= places[n - 1])
        {
            return values[n - 1];
        }

        int i = 0;
        while (at >= places[i + 1])
        {
            i++;
        }

        double h = places[i + 1] - places[i];
        double t = (at - places[i]) / h;
        double[] result = new double[values[0].Length];
        for (int k = 0; k < result.Length; k++)
        {
            double m0 = Slope(places, values, i, k);
            double m1 = Slope(places, values, i + 1, k);
            double rise = values[i + 1][k] - values[i][k];
            result[k] = values[i][k]
                + (t * ((h * m0) + (t * ((3 * rise) - (h * ((2 * m0) + m1)) + (t * ((h * (m0 + m1)) - (2 * rise)))))));
        }

        return result;
    }

    private static double Slope(double[] places, double[][] values, int i, int k)
    {
        if (i == 0 || i == places.Length - 1)
        {
            int j = i == 0 ? 1 : i;
            return (values[j][k] - values[j - 1][k]) / (places[j] - places[j - 1]);
        }

        double before = (values[i][k] - values[i - 1][k]) / (places[i] - places[i - 1]);
        double after = (values[i + 1][k] - values[i][k]) / (places[i + 1] - places[i]);
        return before * after <= 0 ? 0 : 2 * before * after / (before + after);
    }
}
