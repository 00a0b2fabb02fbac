namespace SonarGeom.Echoes.Facets;

/// <summary>
/// A few evenly spaced frequencies from which an echo is known at every frequency of a band, when its path lengths lie close
/// together.
/// </summary>
/// <remarks>
/// <para>Over the band, the echo of facets whose paths differ by at most ±Δ from a reference is, apart from the phase of that
/// reference, band-limited: a sum of exp(iκu) with |κu| ≤ K, K = π B Δ/c for a band of width B. The weights solve the least-squares
/// problem over all u with a slight damping, so that rounding is not blown up.</para>
/// <para>For each number of frequencies the largest K and the stretch of the grid beyond the band were found by a search for an
/// error of at most 3e-6 anywhere in the band; the tests measure it again.</para>
/// </remarks>
internal sealed class CoarseGrid
{
    /// <summary>Largest K and stretch for each number of frequencies.</summary>
    internal static readonly (int Count, double LargestSpan, double Stretch)[] Choices =
    [
        (6, 0.87, 0.0), (8, 1.95, 0.0), (10, 3.05, 0.2), (12, 4.8, 0.2), (14, 6.55, 0.175), (16, 7.8, 0.125), (20, 12.2, 0.25),
    ];

    private const double Damping = 1e-7;

    private CoarseGrid(int count, double stretch, double[] weights)
    {
        Count = count;
        Stretch = stretch;
        Weights = weights;
    }

    /// <summary>Gets the number of frequencies.</summary>
    internal int Count { get; }

    /// <summary>Gets how far the grid reaches beyond the band, as a share of half its width.</summary>
    internal double Stretch { get; }

    /// <summary>Gets the weights: a row for each frequency of the band.</summary>
    internal double[] Weights { get; }

    /// <summary>Gets the position of a frequency of the grid; the band runs from −1 to 1.</summary>
    internal static double Position(int index, int count, double stretch) => (1.0 + stretch) * ((2.0 * index / (count - 1)) - 1.0);

    /// <summary>Makes one of the grids for a band.</summary>
    /// <param name="choice">Index into <see cref="Choices"/>.</param>
    /// <param name="bandCount">Number of frequencies of the band, at least 2.</param>
    internal static CoarseGrid Of(int choice, int bandCount)
    {
        (int count, double span, double stretch) = Choices[choice];
        var matrix = new double[count * count];
        for (int i = 0; i < count; i++)
        {
            for (int m = 0; m < count; m++)
            {
                matrix[(i * count) + m] = Kernel(span * (Position(i, count, stretch) - Position(m, count, stretch)));
            }

            matrix[(i * count) + i] += Damping * Damping;
        }

        Factorise(matrix, count);
        var weights = new double[bandCount * count];
        for (int j = 0; j < bandCount; j++)
        {
            Span<double> row = weights.AsSpan(j * count, count);
            double x = Position(j, bandCount, 0.0);
            for (int m = 0; m < count; m++)
            {
                row[m] = Kernel(span * (x - Position(m, count, stretch)));
            }

            Solve(matrix, count, row);
        }

        return new CoarseGrid(count, stretch, weights);
    }

    /// <summary>The mean of exp(iκu) over −1 ≤ u ≤ 1.</summary>
    private static double Kernel(double x) => TrianglePhaseIntegral.Sinc(x);

    /// <summary>Cholesky factor in place: the lower triangle.</summary>
    private static void Factorise(double[] a, int n)
    {
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = a[(i * n) + j];
                for (int k = 0; k < j; k++)
                {
                    sum -= a[(i * n) + k] * a[(j * n) + k];
                }

                a[(i * n) + j] = i == j ? Math.Sqrt(Math.Max(sum, Damping * Damping * 0.1)) : sum / a[(j * n) + j];
            }
        }
    }

    private static void Solve(double[] factor, int n, Span<double> x)
    {
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < i; k++)
            {
                x[i] -= factor[(i * n) + k] * x[k];
            }

            x[i] /= factor[(i * n) + i];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < n; k++)
            {
                x[i] -= factor[(k * n) + i] * x[k];
            }

            x[i] /= factor[(i * n) + i];
        }
    }
}
