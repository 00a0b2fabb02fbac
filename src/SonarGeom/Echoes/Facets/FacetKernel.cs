using System.Numerics;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// Sums many small facets over many evenly spaced frequencies in single precision, sixteen facets at a time.
/// </summary>
/// <remarks>
/// <para>The sum is S(f) = Σ A ½(n·s₁ + n·s₂) D_T D_R a(r₁ + r₂) exp(ik(r₁ + r₂))/(r₁r₂) over facets that both ends see from the front.
/// A chunk of facets goes through three steps. Facets that face away are dropped and the rest packed, with path lengths relative to
/// a facet in the middle, so that single precision holds them to 1e-8 m. Beams are polynomials in the squared sine, fitted to the
/// angles of the chunk, at five frequencies, and quartics in between, carried by forward differences. The phase turns by
/// z₊ = 2 cos θ z − z₋ over a coarse grid of frequencies (see <see cref="CoarseGrid"/>), whose turn per step is set near a right
/// angle, where this recurrence is well conditioned.</para>
/// <para>The scalar reference in double precision is <see cref="Reference"/>.</para>
/// </remarks>
internal sealed partial class FacetKernel
{
    /// <summary>Facets are summed in chunks of this many, each by itself, so that results do not depend on the threads.</summary>
    internal const int ChunkFacets = 4096;

    private const int Width = 16;
    private const int Nodes = FacetBandPlan.Nodes;
    private const int MostFrequencies = FacetBandPlan.MostFrequencies;
    private const int Room = ChunkFacets + (4 * Width);

    private readonly float[] _gain = new float[Room];
    private readonly float[] _delta = new float[Room];
    private readonly float[] _transmitSine = new float[Room];
    private readonly float[] _receiveSine = new float[Room];
    private readonly float[] _smear = new float[Room];
    private readonly float[] _index = new float[Room];
    private readonly float[] _nodeGains = new float[Room * Nodes];
    private readonly float[] _table = new float[(2 * Nodes * (BeamFit.HighDegree + 1)) + (Nodes * Nodes) + (2 * Nodes)];
    private readonly BeamFit _transmitFit = new();
    private readonly BeamFit _receiveFit = new();
    private int _first;

    /// <summary>Adds the facets from <paramref name="start"/> to <paramref name="end"/> (at most a chunk) to the sums.</summary>
    /// <param name="cloud">The facets.</param>
    /// <param name="start">First facet.</param>
    /// <param name="end">One past the last.</param>
    /// <param name="sensor">Transmitter and receiver.</param>
    /// <param name="plans">The plans of the band.</param>
    /// <param name="sums">A sum for each frequency of the band.</param>
    /// <returns>The shortest and longest path of the facets that took part, and their number.</returns>
    internal (double Nearest, double Farthest, int Facets) Add(
        FacetCloud cloud, int start, int end, FacetSensor sensor, ReadOnlySpan<FacetBandPlan> plans, Span<Complex> sums)
    {
        Vec3 middle = cloud.OriginMetres + At(cloud, (start + end) / 2);
        double middlePath = middle.DistanceTo(sensor.TransmitterMetres) + middle.DistanceTo(sensor.ReceiverMetres);
        var extremes = Extremes.None;
        int visible = Gather(cloud, start, end, sensor, middle, (float)plans[0].CentreAbsorption, ref extremes);
        if (visible == 0)
        {
            return (double.PositiveInfinity, 0.0, 0);
        }

        // Whole vectors: the rest is filled with facets of no area in the middle of the others.
        int padded = (visible + (2 * Width) - 1) & -(2 * Width);
        for (int i = visible; i < padded; i++)
        {
            _gain[i] = 0.0f;
            _delta[i] = _delta[0];
            _transmitSine[i] = _transmitSine[0];
            _receiveSine[i] = _receiveSine[0];
            _smear[i] = 0.0f;
        }

        int first = 0;
        foreach (FacetBandPlan plan in plans)
        {
            AddBand(cloud, plan, plans[0].CentreAbsorption, sensor, visible, padded, middlePath, extremes, sums.Slice(first, plan.Count));
            first += plan.Count;
        }

        return (middlePath + extremes.LeastDelta, middlePath + extremes.GreatestDelta, visible);
    }

    /// <summary>The scalar reference: the same sum, facet by facet in double precision, each beam evaluated exactly.</summary>
    internal static void Reference(FacetCloud cloud, int start, int end, FacetSensor sensor, FrequencyBand band, Span<Complex> sums)
    {
        for (int i = start; i < end; i++)
        {
            Vec3 centre = cloud.OriginMetres + At(cloud, i);
            var normal = new Vec3(cloud.NormalX[i], cloud.NormalY[i], cloud.NormalZ[i]);
            Vec3 out1 = centre - sensor.TransmitterMetres;
            Vec3 out2 = centre - sensor.ReceiverMetres;
            double r1 = out1.Length;
            double r2 = out2.Length;
            double c1 = -out1.Dot(normal) / r1;
            double c2 = -out2.Dot(normal) / r2;
            if (!(c1 > 0) || !(c2 > 0))
            {
                continue;
            }

            Vec3 towards1 = sensor.WorldFromSensor.ApplyInverse(out1 / r1);
            Vec3 towards2 = sensor.WorldFromSensor.ApplyInverse(out2 / r2);
            Vec3 gradient = (out1 / r1) + (out2 / r2);
            double smear = cloud.HasExtent
                ? Square(gradient.Dot(Extent(cloud, 0, i))) + Square(gradient.Dot(Extent(cloud, 3, i)))
                : 0.0;
            double plain = cloud.Area[i] * 0.5 * (c1 + c2) / (r1 * r2);
            for (int j = 0; j < band.Count; j++)
            {
                double hertz = band.Hertz(j);
                double k = sensor.Medium.WavenumberRadiansPerMetre(hertz);
                double amplitude = plain * sensor.Medium.AbsorbedAmplitude(hertz, r1 + r2) * Math.Exp(-0.5 * k * k * smear)
                    * sensor.Transmit.Amplitude(towards1, k) * sensor.Receive.Amplitude(towards2, k);
                sums[j] += Complex.FromPolarCoordinates(amplitude, k * (r1 + r2));
            }
        }
    }

    private static double Square(double x) => x * x;

    private static Vec3 At(FacetCloud cloud, int i) => new(cloud.X[i], cloud.Y[i], cloud.Z[i]);

    private static Vec3 Extent(FacetCloud cloud, int row, int i) =>
        new(cloud.Extents[row][i], cloud.Extents[row + 1][i], cloud.Extents[row + 2][i]);

    private void AddBand(
        FacetCloud cloud, FacetBandPlan plan, double gatheredAbsorption, FacetSensor sensor, int visible, int padded, double middlePath, Extremes extremes, Span<Complex> sums)
    {
        double spread = 0.5 * (extremes.GreatestDelta - extremes.LeastDelta);
        double reference = 0.5 * (extremes.GreatestDelta + extremes.LeastDelta);
        bool isCoarse = plan.TryChoose(spread, out CoarseGrid? grid, out float[]? differences);
        int count = isCoarse ? grid!.Count : plan.Count;
        double step = isCoarse ? 2.0 * (1.0 + grid!.Stretch) * plan.HalfWidthHertz / (count - 1) : plan.StepHertz;
        double lowest = plan.CentreHertz - (0.5 * (count - 1) * step);

        bool isFitted = _transmitFit.TryFit(sensor.Transmit, plan.NodeWavenumbers, extremes.LeastTransmit, extremes.GreatestTransmit)
            && _receiveFit.TryFit(sensor.Receive, plan.NodeWavenumbers, extremes.LeastReceive, extremes.GreatestReceive);
        if (!isFitted)
        {
            FillNodeGains(cloud, plan, sensor, visible, padded);
        }

        FillTable(plan, gatheredAbsorption, differences ?? plan.DirectDifferences);
        Span<Vector512<float>> real = stackalloc Vector512<float>[MostFrequencies];
        Span<Vector512<float>> imaginary = stackalloc Vector512<float>[MostFrequencies];
        real[..count].Clear();
        imaginary[..count].Clear();
        double speed = plan.Medium.SoundSpeedMetresPerSecond;
        var phases = new PhasePlan(lowest / speed, step / speed, reference, count);
        SumChunk(padded, isFitted, cloud.HasExtent, isCoarse, phases, real, imaginary);

        Span<Complex> partial = stackalloc Complex[MostFrequencies];
        for (int m = 0; m < count; m++)
        {
            partial[m] = new Complex(Vector512.Sum(real[m]), Vector512.Sum(imaginary[m]));
        }

        if (isCoarse)
        {
            Interpolate(plan, grid!, partial[..count], phases, middlePath, reference, sums);
        }
        else
        {
            var turn = new Turner(plan.LowestHertz / speed * middlePath, plan.StepHertz / speed * middlePath);
            for (int j = 0; j < plan.Count; j++)
            {
                double hertz = plan.LowestHertz + (j * plan.StepHertz);
                sums[j] += partial[j] * turn.Value * plan.Medium.AbsorbedAmplitude(hertz, middlePath);
                turn.Step();
            }
        }
    }

    private static void Interpolate(
        FacetBandPlan plan, CoarseGrid grid, Span<Complex> partial, in PhasePlan phases, double middlePath, double reference, Span<Complex> sums)
    {
        // The grid was summed with a quarter turn per step and without the reference's own turn.
        for (int m = 0; m < grid.Count; m++)
        {
            var (sine, cosine) = Math.SinCos(-0.5 * Math.PI * (m - (0.5 * (grid.Count - 1))));
            partial[m] *= new Complex(cosine, sine);
        }

        double speed = plan.Medium.SoundSpeedMetresPerSecond;
        double path = middlePath + reference;
        double start = ((plan.LowestHertz * path) - (plan.CentreHertz * reference)) / speed;
        var turn = new Turner(start, plan.StepHertz / speed * path);
        ReadOnlySpan<double> weights = grid.Weights;
        for (int j = 0; j < plan.Count; j++)
        {
            ReadOnlySpan<double> row = weights.Slice(j * grid.Count, grid.Count);
            double real = 0.0;
            double imaginary = 0.0;
            for (int m = 0; m < row.Length; m++)
            {
                real += row[m] * partial[m].Real;
                imaginary += row[m] * partial[m].Imaginary;
            }

            double hertz = plan.LowestHertz + (j * plan.StepHertz);
            sums[j] += new Complex(real, imaginary) * turn.Value * plan.Medium.AbsorbedAmplitude(hertz, middlePath);
            turn.Step();
        }
    }

    /// <summary>Beams that no polynomial follows: evaluated facet by facet.</summary>
    private void FillNodeGains(FacetCloud cloud, FacetBandPlan plan, FacetSensor sensor, int visible, int padded)
    {
        Span<double> transmit = stackalloc double[Nodes];
        Span<double> receive = stackalloc double[Nodes];
        for (int m = 0; m < Nodes; m++)
        {
            _nodeGains.AsSpan((m * Room) + visible, padded - visible).Clear();
        }

        for (int i = 0; i < visible; i++)
        {
            Vec3 centre = cloud.OriginMetres + At(cloud, _first + (int)_index[i]);
            Vec3 towards1 = (centre - sensor.TransmitterMetres).Normalized();
            Vec3 towards2 = (centre - sensor.ReceiverMetres).Normalized();
            sensor.Transmit.Amplitudes(sensor.WorldFromSensor.ApplyInverse(towards1), plan.NodeWavenumbers, transmit);
            sensor.Receive.Amplitudes(sensor.WorldFromSensor.ApplyInverse(towards2), plan.NodeWavenumbers, receive);
            for (int m = 0; m < Nodes; m++)
            {
                _nodeGains[(m * Room) + i] = (float)(transmit[m] * receive[m]);
            }
        }
    }

    /// <summary>Lays out the numbers that the inner loop reads: both beams by power and node, differences, absorption, smear.</summary>
    private void FillTable(FacetBandPlan plan, double gatheredAbsorption, ReadOnlySpan<float> differences)
    {
        const int Powers = BeamFit.HighDegree + 1;
        for (int m = 0; m < Nodes; m++)
        {
            for (int e = 0; e < Powers; e++)
            {
                _table[(m * Powers) + e] = _transmitFit.Coefficients[(m * Powers) + e];
                _table[((Nodes + m) * Powers) + e] = _receiveFit.Coefficients[(m * Powers) + e];
            }

            int tail = (2 * Nodes * Powers) + (Nodes * Nodes);
            _table[tail + m] = (float)(gatheredAbsorption - plan.NodeAbsorption[m]);
            _table[tail + Nodes + m] = (float)(-0.5 * plan.NodeWavenumbers[m] * plan.NodeWavenumbers[m]);
        }

        differences.CopyTo(_table.AsSpan(2 * Nodes * Powers));
    }

    /// <summary>What the chunk's facets range over.</summary>
    private struct Extremes
    {
        internal float LeastDelta;
        internal float GreatestDelta;
        internal float LeastTransmit;
        internal float GreatestTransmit;
        internal float LeastReceive;
        internal float GreatestReceive;

        internal static Extremes None => new()
        {
            LeastDelta = float.PositiveInfinity,
            GreatestDelta = float.NegativeInfinity,
            LeastTransmit = float.PositiveInfinity,
            GreatestTransmit = float.NegativeInfinity,
            LeastReceive = float.PositiveInfinity,
            GreatestReceive = float.NegativeInfinity,
        };
    }

    /// <summary>Turns per metre of path at the first frequency of the grid, and from one to the next.</summary>
    private readonly record struct PhasePlan(double LowestTurnsPerMetre, double StepTurnsPerMetre, double Reference, int Count);

    /// <summary>A unit complex number that turns by the same amount at every step.</summary>
    private struct Turner
    {
        private readonly Complex _step;

        internal Turner(double startTurns, double stepTurns)
        {
            Value = Unit(startTurns);
            _step = Unit(stepTurns);
        }

        internal Complex Value { get; private set; }

        internal void Step() => Value *= _step;

        private static Complex Unit(double turns)
        {
            var (sine, cosine) = Math.SinCos(2.0 * Math.PI * (turns - Math.Floor(turns)));
            return new Complex(cosine, sine);
        }
    }
}
