using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Sums the echoes of small flat triangles over a band, each by its exact phase integral.</summary>
/// <remarks>
/// Kirchhoff integral with the obliquity that is the same for both directions of travel:
/// p = −(1/2π) Σ ½[(ik − 1/r₁) n·s₁ + (ik − 1/r₂) n·s₂] exp(ik(r₁ + r₂))/(r₁r₂) ∫ exp(iq·x) dS, q = −k(s₁ + s₂);
/// s₁ and s₂ point from the facet to transmitter and receiver. Derived from the Kirchhoff–Helmholtz integral for a rigid surface
/// (Pierce, Acoustics, 1981, chapters 4 and 9; from memory).
/// </remarks>
internal sealed class TriangleAccumulator
{
    private const int SeriesTerms = 12;

    private readonly BandNodes _nodes;
    private readonly double _firstWavenumber;
    private readonly double _wavenumberStep;
    private readonly double _roughness;
    private readonly double _materialAmplitude;
    private readonly double[] _atNodes;
    private readonly double[] _scratch;
    private readonly double[] _amplitudes;

    internal TriangleAccumulator(BandNodes nodes, FacetMedium medium, FacetSurface surface)
    {
        _nodes = nodes;
        _firstWavenumber = medium.WavenumberRadiansPerMetre(nodes.Band.LowestHertz);
        _wavenumberStep = medium.WavenumberRadiansPerMetre(nodes.Band.StepHertz);
        _roughness = surface.RoughnessRmsMetres;
        _materialAmplitude = Math.Exp(-FacetMedium.NepersPerDecibel * surface.ReflectionLossDecibels);
        _atNodes = new double[nodes.Count];
        _scratch = new double[nodes.Count];
        _amplitudes = new double[nodes.Band.Count];
        Real = new double[nodes.Band.Count];
        Imaginary = new double[nodes.Band.Count];
    }

    internal double[] Real { get; }

    internal double[] Imaginary { get; }

    internal double NearestPathMetres { get; private set; } = double.PositiveInfinity;

    internal double FarthestPathMetres { get; private set; }

    internal long Facets { get; private set; }

    /// <summary>Adds one facet.</summary>
    /// <param name="triangle">The facet, small enough for local plane waves.</param>
    /// <param name="normal">Its normal, on the side of transmitter and receiver.</param>
    /// <param name="visible">The part of it that both see, from 0 to 1.</param>
    /// <param name="path">The path.</param>
    internal void Add(in FacetTriangle triangle, Vec3 normal, double visible, in BouncePath path)
    {
        Vec3 centre = triangle.CentroidMetres;
        Vec3 out1 = centre - path.Out.Position;
        Vec3 out2 = centre - path.Back.Position;
        double r1 = out1.Length;
        double r2 = out2.Length;
        Vec3 u1 = out1 / r1;
        Vec3 u2 = out2 / r2;
        double c1 = -u1.Dot(normal);
        double c2 = -u2.Dot(normal);
        double pathLength = r1 + r2;

        double plain = -visible * triangle.AreaSquareMetres * _materialAmplitude / (2.0 * Math.PI * r1 * r2);
        for (int m = 0; m < _atNodes.Length; m++)
        {
            double gamma = _nodes.Wavenumbers[m] * _roughness * (c1 + c2);
            _atNodes[m] = plain * Math.Exp((-_nodes.AbsorptionNepersPerMetre[m] * pathLength) - (0.5 * gamma * gamma));
        }

        path.Out.Apply(u1, _nodes.Wavenumbers, _scratch, _atNodes);
        path.Back.Apply(u2, _nodes.Wavenumbers, _scratch, _atNodes);
        _nodes.Spread(_atNodes, _amplitudes);

        // Phases at the corners, per unit wavenumber, relative to the centre: −(s₁ + s₂)·x = (u₁ + u₂)·x.
        Vec3 gradient = u1 + u2;
        double g0 = gradient.Dot(triangle.First - centre);
        double g1 = gradient.Dot(triangle.Second - centre);
        double g2 = gradient.Dot(triangle.Third - centre);
        TrianglePhaseIntegral.Sort(ref g0, ref g1, ref g2);

        double obliquity = 0.5 * (c1 + c2);
        double near = 0.5 * ((c1 / r1) + (c2 / r2));
        double lastWavenumber = _firstWavenumber + ((_amplitudes.Length - 1) * _wavenumberStep);
        if (lastWavenumber * (g2 - g0) < TrianglePhaseIntegral.SeriesSpan)
        {
            SumSeries(g0, g1, g2, pathLength, obliquity, near);
        }
        else
        {
            SumQuotients(g0, g1, g2, pathLength, obliquity, near);
        }

        NearestPathMetres = Math.Min(NearestPathMetres, pathLength);
        FarthestPathMetres = Math.Max(FarthestPathMetres, pathLength);
        Facets++;
    }

    private void SumSeries(double g0, double g1, double g2, double pathLength, double obliquity, double near)
    {
        Span<double> h = stackalloc double[SeriesTerms];
        double e2 = (g0 * g1) + (g0 * g2) + (g1 * g2);
        double e3 = g0 * g1 * g2;
        h[0] = 1.0;
        h[1] = 0.0;
        h[2] = -e2;
        double factorial = 0.5;
        for (int n = 3; n < SeriesTerms; n++)
        {
            h[n] = (-e2 * h[n - 2]) + (e3 * h[n - 3]);
        }

        for (int n = 0; n < SeriesTerms; n++)
        {
            h[n] *= 2.0 * factorial * ((n & 2) == 0 ? 1.0 : -1.0);
            factorial /= n + 3;
        }

        var phase = new Rotor(_firstWavenumber * pathLength, _wavenumberStep * pathLength);
        for (int j = 0; j < _amplitudes.Length; j++)
        {
            double k = _firstWavenumber + (j * _wavenumberStep);
            double k2 = k * k;
            double even = h[10];
            double odd = h[11];
            for (int n = 8; n >= 0; n -= 2)
            {
                even = (even * k2) + h[n];
                odd = (odd * k2) + h[n + 1];
            }

            Add(j, even, odd * k, phase, k * obliquity, near);
            phase.Step();
        }
    }

    private void SumQuotients(double g0, double g1, double g2, double pathLength, double obliquity, double near)
    {
        double half01 = 0.5 * (g0 - g1);
        double half12 = 0.5 * (g1 - g2);
        var phase = new Rotor(_firstWavenumber * pathLength, _wavenumberStep * pathLength);
        var first = new Rotor(-0.5 * _firstWavenumber * g2, -0.5 * _wavenumberStep * g2);
        var second = new Rotor(-0.5 * _firstWavenumber * g0, -0.5 * _wavenumberStep * g0);
        var wide01 = new Rotor(_firstWavenumber * half01, _wavenumberStep * half01);
        var wide12 = new Rotor(_firstWavenumber * half12, _wavenumberStep * half12);
        for (int j = 0; j < _amplitudes.Length; j++)
        {
            double k = _firstWavenumber + (j * _wavenumberStep);
            double w01 = Sinc(k * half01, wide01.Sine);
            double w12 = Sinc(k * half12, wide12.Sine);
            double real = (first.Cosine * w01) - (second.Cosine * w12);
            double imaginary = (first.Sine * w01) - (second.Sine * w12);
            double scale = 2.0 / (k * (g0 - g2));
            Add(j, scale * imaginary, -scale * real, phase, k * obliquity, near);
            phase.Step();
            first.Step();
            second.Step();
            wide01.Step();
            wide12.Step();
        }
    }

    private void Add(int j, double real, double imaginary, in Rotor phase, double obliquity, double near)
    {
        double a = _amplitudes[j];
        double re = a * ((real * phase.Cosine) - (imaginary * phase.Sine));
        double im = a * ((real * phase.Sine) + (imaginary * phase.Cosine));
        Real[j] -= (near * re) + (obliquity * im);
        Imaginary[j] += (obliquity * re) - (near * im);
    }

    private static double Sinc(double x, double sine) => Math.Abs(x) < 1e-4 ? 1.0 - (x * x / 6.0) : sine / x;

    /// <summary>A unit complex number that turns by the same angle at every step.</summary>
    private struct Rotor
    {
        private readonly double _stepCosine;
        private readonly double _stepSine;

        internal Rotor(double startRadians, double stepRadians)
        {
            (Sine, Cosine) = Math.SinCos(startRadians);
            (_stepSine, _stepCosine) = Math.SinCos(stepRadians);
        }

        internal double Cosine { get; private set; }

        internal double Sine { get; private set; }

        internal void Step()
        {
            double cosine = (Cosine * _stepCosine) - (Sine * _stepSine);
            Sine = (Sine * _stepCosine) + (Cosine * _stepSine);
            Cosine = cosine;
        }
    }
}
