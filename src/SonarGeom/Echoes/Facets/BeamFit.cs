using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// An axisymmetric beam as polynomials in the squared sine of the angle off its axis, one for each of a few frequencies, over the
/// range of angles in which a group of facets lies.
/// </summary>
internal sealed class BeamFit
{
    internal const int Nodes = FacetBandPlan.Nodes;
    internal const int HighDegree = 8;
    private const int LowDegree = 4;

    // The last coefficient of a Chebyshev series bounds what is cut off behind it, as the series falls geometrically.
    private const double LowTolerance = 2e-5;
    private const double HighTolerance = 1e-5;

    private static readonly double[] LowInverse = InverseVandermonde(LowDegree + 1);
    private static readonly double[] HighInverse = InverseVandermonde(HighDegree + 1);

    private readonly double[] _values = new double[Nodes * (HighDegree + 1)];
    private readonly double[] _atNodes = new double[Nodes];

    /// <summary>Gets the coefficients in the scaled variable v, ascending, a row of <see cref="HighDegree"/> + 1 for each node.</summary>
    internal float[] Coefficients { get; } = new float[Nodes * (HighDegree + 1)];

    /// <summary>Gets the degree of the polynomials.</summary>
    internal int Degree { get; private set; }

    /// <summary>Gets the scale: v = (s² − middle) × scale.</summary>
    internal float Scale { get; private set; }

    /// <summary>Gets the squared sine at which v is 0.</summary>
    internal float Middle { get; private set; }

    /// <summary>Fits a beam.</summary>
    /// <param name="beam">The beam.</param>
    /// <param name="wavenumbers">A wavenumber for each node. [rad/m]</param>
    /// <param name="lowest">Least squared sine.</param>
    /// <param name="highest">Greatest squared sine.</param>
    /// <returns>Whether the fit is good; if not, the beam must be evaluated facet by facet.</returns>
    internal bool TryFit(Directivity beam, ReadOnlySpan<double> wavenumbers, double lowest, double highest)
    {
        if (!beam.IsAxisymmetric)
        {
            return false;
        }

        double half = Math.Max(0.5 * (highest - lowest), 1e-6);
        double middle = 0.5 * (highest + lowest);
        Middle = (float)middle;
        Scale = (float)(1.0 / half);
        return Fit(beam, wavenumbers, Middle, half, LowDegree, LowInverse, LowTolerance)
            || Fit(beam, wavenumbers, Middle, half, HighDegree, HighInverse, HighTolerance);
    }

    private bool Fit(Directivity beam, ReadOnlySpan<double> wavenumbers, double middle, double half, int degree, double[] inverse, double tolerance)
    {
        int points = degree + 1;
        for (int i = 0; i < points; i++)
        {
            double square = Math.Clamp(middle + (half * ChebyshevPoint(i, points)), 0.0, 1.0);
            var direction = new Vec3(Math.Sqrt(1.0 - square), Math.Sqrt(square), 0.0);
            beam.Amplitudes(direction, wavenumbers, _atNodes);
            for (int m = 0; m < Nodes; m++)
            {
                _values[(m * points) + i] = _atNodes[m];
            }
        }

        double tail = 0.0;
        for (int m = 0; m < Nodes; m++)
        {
            ReadOnlySpan<double> values = _values.AsSpan(m * points, points);
            double last = 0.0;
            for (int row = 0; row < points; row++)
            {
                double sum = 0.0;
                for (int i = 0; i < points; i++)
                {
                    sum += inverse[(row * points) + i] * values[i];
                }

                Coefficients[(m * (HighDegree + 1)) + row] = (float)sum;
                last = sum;
            }

            // vⁿ = 2¹⁻ⁿ Tₙ + …
            tail = Math.Max(tail, Math.Abs(last) / (1 << (degree - 1)));
        }

        Degree = degree;
        return tail <= tolerance;
    }

    private static double ChebyshevPoint(int i, int points) => Math.Cos(Math.PI * (i + 0.5) / points);

    /// <summary>The matrix that turns values at Chebyshev points into coefficients of powers, by rows of coefficients.</summary>
    private static double[] InverseVandermonde(int points)
    {
        var inverse = new double[points * points];
        Span<double> polynomial = stackalloc double[points];
        for (int i = 0; i < points; i++)
        {
            // Lagrange's polynomial of point i, built factor by factor.
            polynomial.Clear();
            polynomial[0] = 1.0;
            double denominator = 1.0;
            int degree = 0;
            for (int other = 0; other < points; other++)
            {
                if (other == i)
                {
                    continue;
                }

                double root = ChebyshevPoint(other, points);
                denominator *= ChebyshevPoint(i, points) - root;
                degree++;
                for (int e = degree; e >= 0; e--)
                {
                    polynomial[e] = (e > 0 ? polynomial[e - 1] : 0.0) - (root * polynomial[e]);
                }
            }

            for (int row = 0; row < points; row++)
            {
                inverse[(row * points) + i] = polynomial[row] / denominator;
            }
        }

        return inverse;
    }
}
