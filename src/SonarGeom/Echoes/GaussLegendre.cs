using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>Nodes and weights of Gauss–Legendre quadrature on [−1, 1].</summary>
internal static class GaussLegendre
{
    /// <summary>The largest order held.</summary>
    internal const int Largest = 40;

    private static readonly double[][] AllNodes = new double[Largest + 1][];
    private static readonly double[][] AllWeights = new double[Largest + 1][];

    static GaussLegendre()
    {
        for (int n = 1; n <= Largest; n++)
        {
            AllNodes[n] = new double[n];
            AllWeights[n] = new double[n];
            for (int i = 0; i < n; i++)
            {
                // Newton from the asymptotic root (Abramowitz and Stegun 22.16.6).
                double x = Math.Cos(Math.PI * (i + 0.75) / (n + 0.5));
                double slope = 1;
                for (int pass = 0; pass < 8; pass++)
                {
                    double p0 = 1;
                    double p1 = x;
                    for (int m = 2; m <= n; m++)
                    {
                        (p0, p1) = (p1, ((((2 * m) - 1) * x * p1) - ((m - 1) * p0)) / m);
                    }

                    slope = n * ((x * p1) - p0) / ((x * x) - 1);
                    x -= n == 1 ? x : p1 / slope;
                }

                AllNodes[n][n - 1 - i] = n == 1 ? 0 : x;
                AllWeights[n][n - 1 - i] = n == 1 ? 2 : 2 / ((1 - (x * x)) * slope * slope);
            }

            // Exact mirror symmetry, so that mirrored geometry gives mirrored sums.
            for (int i = 0; i < n / 2; i++)
            {
                AllNodes[n][n - 1 - i] = -AllNodes[n][i];
                AllWeights[n][n - 1 - i] = AllWeights[n][i];
            }

            if (n % 2 == 1)
            {
                AllNodes[n][n / 2] = 0;
            }
        }
    }

    /// <summary>The nodes, rising.</summary>
    internal static ReadOnlySpan<double> Nodes(int count) => AllNodes[count];

    /// <summary>Eight neighbouring nodes of an order that is a multiple of eight.</summary>
    internal static Vector512<double> EightNodes(int count, int first) => Vector512.Create(AllNodes[count], first);

    /// <summary>Their weights.</summary>
    internal static Vector512<double> EightWeights(int count, int first) => Vector512.Create(AllWeights[count], first);

    /// <summary>The weights.</summary>
    internal static ReadOnlySpan<double> Weights(int count) => AllWeights[count];
}
