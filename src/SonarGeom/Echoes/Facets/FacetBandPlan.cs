namespace SonarGeom.Echoes.Facets;

/// <summary>What the fast kernel needs to know about up to <see cref="MostFrequencies"/> evenly spaced frequencies.</summary>
internal sealed class FacetBandPlan
{
    /// <summary>Beams are known at this many frequencies and are polynomials in between.</summary>
    internal const int Nodes = 5;

    /// <summary>Longer bands are cut into several.</summary>
    internal const int MostFrequencies = 64;

    private readonly CoarseGrid?[] _grids = new CoarseGrid?[CoarseGrid.Choices.Length];
    private readonly float[]?[] _gridDifferences = new float[]?[CoarseGrid.Choices.Length];
    private readonly double _nodeStretch;

    private FacetBandPlan(double lowestHertz, double stepHertz, int count, FacetMedium medium)
    {
        LowestHertz = lowestHertz;
        StepHertz = stepHertz;
        Count = count;
        Medium = medium;
        HalfWidthHertz = Math.Max(0.5 * (count - 1) * stepHertz, 1e-6 * lowestHertz);
        CentreHertz = lowestHertz + (0.5 * (count - 1) * stepHertz);
        _nodeStretch = 1.0 + (count > CoarseGrid.Choices[0].Count ? CoarseGrid.Choices.Max(choice => choice.Stretch) : 0.0);
        for (int m = 0; m < Nodes; m++)
        {
            double hertz = CentreHertz + (NodePosition(m) * HalfWidthHertz);
            NodeWavenumbers[m] = medium.WavenumberRadiansPerMetre(hertz);
            NodeAbsorption[m] = FacetMedium.NepersPerDecibel * medium.AbsorptionDecibelsPerMetre(hertz);
        }

        CentreAbsorption = FacetMedium.NepersPerDecibel * medium.AbsorptionDecibelsPerMetre(CentreHertz);
        DirectDifferences = Differences(-1.0, count > 1 ? 2.0 / (count - 1) : 0.0);
        for (int choice = 0; choice < _grids.Length && CoarseGrid.Choices[choice].Count < count; choice++)
        {
            CoarseGrid grid = CoarseGrid.Of(choice, count);
            _grids[choice] = grid;
            double step = 2.0 * (1.0 + grid.Stretch) / (grid.Count - 1);
            _gridDifferences[choice] = Differences(-1.0 - grid.Stretch, step);
        }
    }

    internal double LowestHertz { get; }

    internal double StepHertz { get; }

    internal int Count { get; }

    internal FacetMedium Medium { get; }

    internal double CentreHertz { get; }

    internal double HalfWidthHertz { get; }

    internal double[] NodeWavenumbers { get; } = new double[Nodes];

    internal double[] NodeAbsorption { get; } = new double[Nodes];

    internal double CentreAbsorption { get; }

    /// <summary>Gets the matrix that turns values at the nodes into a first value and its differences from one frequency to the
    /// next, for the frequencies of the band themselves.</summary>
    internal float[] DirectDifferences { get; }

    /// <summary>Makes plans for a band.</summary>
    internal static FacetBandPlan[] All(FrequencyBand band, FacetMedium medium)
    {
        int blocks = (band.Count + MostFrequencies - 1) / MostFrequencies;
        var plans = new FacetBandPlan[blocks];
        for (int b = 0; b < blocks; b++)
        {
            int first = b * MostFrequencies;
            plans[b] = new FacetBandPlan(band.Hertz(first), band.StepHertz, Math.Min(MostFrequencies, band.Count - first), medium);
        }

        return plans;
    }

    /// <summary>Finds the smallest grid for paths that differ by up to a length from their reference.</summary>
    /// <param name="spreadMetres">The length. [m]</param>
    /// <param name="grid">Receives the grid.</param>
    /// <param name="differences">Receives its matrix of differences.</param>
    /// <returns>False when the frequencies of the band themselves are needed.</returns>
    internal bool TryChoose(double spreadMetres, out CoarseGrid? grid, out float[]? differences)
    {
        double span = 2.0 * Math.PI * HalfWidthHertz * spreadMetres / Medium.SoundSpeedMetresPerSecond;
        for (int choice = 0; choice < _grids.Length; choice++)
        {
            if (_grids[choice] is null)
            {
                break;
            }

            if (span <= CoarseGrid.Choices[choice].LargestSpan)
            {
                (grid, differences) = (_grids[choice], _gridDifferences[choice]);
                return true;
            }
        }

        (grid, differences) = (null, null);
        return false;
    }

    private double NodePosition(int m) => _nodeStretch * Math.Cos(Math.PI * (m + 0.5) / Nodes);

    /// <summary>Row e, column m: what the value at node m adds to the e-th forward difference at the start.</summary>
    private float[] Differences(double start, double step)
    {
        var matrix = new float[Nodes * Nodes];
        Span<double> values = stackalloc double[Nodes];
        for (int m = 0; m < Nodes; m++)
        {
            for (int i = 0; i < Nodes; i++)
            {
                double x = start + (i * step);
                double product = 1.0;
                for (int other = 0; other < Nodes; other++)
                {
                    if (other != m)
                    {
                        product *= (x - NodePosition(other)) / (NodePosition(m) - NodePosition(other));
                    }
                }

                values[i] = product;
            }

            for (int e = 0; e < Nodes; e++)
            {
                matrix[(e * Nodes) + m] = (float)values[0];
                for (int i = 0; i + 1 < Nodes - e; i++)
                {
                    values[i] = values[i + 1] - values[i];
                }
            }
        }

        return matrix;
    }
}
