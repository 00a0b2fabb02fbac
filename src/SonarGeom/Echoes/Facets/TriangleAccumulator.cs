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

    /// <summary>Adds one flat piece: its two triangles share one amplitude and one local plane wave.</summary>
    /// <param name="piece">The piece, small enough for local plane waves.</param>
    /// <param name="normal">Its normal, on the side of transmitter and receiver.</param>
    /// <param name="visible">The part of it that both see, from 0 to 1.</param>
    /// <param name="path">The path.</param>
    internal void Add(in FacetQuad piece, Vec3 normal, double visible, in BouncePath path)
    {
        double area1 = 0.5 * (piece.B - piece.A).Cross(piece.C - piece.A).Dot(normal);
        double area2 = 0.5 * (piece.C - piece.A).Cross(piece.D - piece.A).Dot(normal);
        double area = area1 + area2;
        Vec3 centre = ((area1 * (piece.A + piece.B + piece.C)) + (area2 * (piece.A + piece.C + piece.D))) / (3.0 * area);
        Vec3 out1 = centre - path.Out.Position;
        Vec3 out2 = centre - path.Back.Position;
        double r1 = out1.Length;
        double r2 = out2.Length;
        Vec3 u1 = out1 / r1;
        Vec3 u2 = out2 / r2;
        double c1 = -u1.Dot(normal);
        double c2 = -u2.Dot(normal);

        double plain = -visible * Math.Abs(area) * _materialAmplitude / (2.0 * Math.PI * r1 * r2);
        for (int m = 0; m < _atNodes.Length; m++)
        {
            double gamma = _nodes.Wavenumbers[m] * _roughness * (c1 + c2);
            _atNodes[m] = plain * Math.Exp((-_nodes.AbsorptionNepersPerMetre[m] * (r1 + r2)) - (0.5 * gamma * gamma));
        }

        path.Out.Apply(u1, _nodes.Wavenumbers, _scratch, _atNodes);
        path.Back.Apply(u2, _nodes.Wavenumbers, _scratch, _atNodes);
        _nodes.Spread(_atNodes, _amplitudes);

        var waves = new LocalWaves(u1, u2, 1.0 / r1, 1.0 / r2);
        double obliquity = 0.5 * (c1 + c2);
        double near = 0.5 * ((c1 / r1) + (c2 / r2));
        double pathLength = r1 + r2;
        if (piece.IsParallelogram)
        {
            double tilt1 = Tilt(centre, 0.5 * (piece.B - piece.A), normal, path);
            double tilt2 = Tilt(centre, 0.5 * (piece.D - piece.A), normal, path);
            SumParallelogram(piece, waves, tilt1, tilt2, pathLength, obliquity, near);
        }
        else
        {
            // Phases at the corners, per unit wavenumber, relative to the centre: −(s₁ + s₂)·x = (u₁ + u₂)·x.
            double a = waves.Slope(piece.A - centre);
            double b = waves.Slope(piece.B - centre);
            double c = waves.Slope(piece.C - centre);
            double d = waves.Slope(piece.D - centre);
            double share = area1 / area;
            double delayed = pathLength + waves.MeanBulge(piece, centre, share);
            Sum(a, b, c, delayed, obliquity * share, near * share);
            Sum(a, c, d, delayed, obliquity * (1.0 - share), near * (1.0 - share));
        }

        NearestPathMetres = Math.Min(NearestPathMetres, pathLength);
        FarthestPathMetres = Math.Max(FarthestPathMetres, pathLength);
        Facets++;
    }

    /// <summary>The relative change of the amplitude between the two ends of a displacement either way, in the middle of the band.</summary>
    private double Tilt(Vec3 centre, Vec3 half, Vec3 normal, in BouncePath path)
    {
        double before = Amplitude(centre - half, normal, path);
        double after = Amplitude(centre + half, normal, path);
        double middle = 0.5 * (before + after);
        double change = after - before;
        return Math.Abs(change) < 2.0 * Math.Abs(middle) ? change / middle : 0.0;
    }

    private double Amplitude(Vec3 point, Vec3 normal, in BouncePath path)
    {
        Vec3 out1 = point - path.Out.Position;
        Vec3 out2 = point - path.Back.Position;
        double r1 = out1.Length;
        double r2 = out2.Length;
        Vec3 u1 = out1 / r1;
        Vec3 u2 = out2 / r2;
        int m = _nodes.Count / 2;
        double absorbed = Math.Exp(-_nodes.AbsorptionNepersPerMetre[m] * (r1 + r2));
        double amplitude = -(u1.Dot(normal) + u2.Dot(normal)) * absorbed / (r1 * r2);
        Span<double> scratch = stackalloc double[1];
        ReadOnlySpan<double> wavenumber = _nodes.Wavenumbers.AsSpan(m, 1);
        path.Out.Apply(u1, wavenumber, scratch, new Span<double>(ref amplitude));
        path.Back.Apply(u2, wavenumber, scratch, new Span<double>(ref amplitude));
        return amplitude;
    }

    /// <summary>A parallelogram: the product of two sincs, with the bulge of the wave fronts and the slope of the amplitude kept to
    /// first order.</summary>
    private void SumParallelogram(
        in FacetQuad piece, in LocalWaves waves, double tilt1, double tilt2, double pathLength, double obliquity, double near)
    {
        // x = u e₁ + v e₂ with u, v from −½ to ½: mean of exp(iαu) = j(α/2), of u² exp(iαu) = −j″/4, of u exp(iαu) = −i j′/2.
        Vec3 e1 = piece.B - piece.A;
        Vec3 e2 = piece.D - piece.A;
        double half1 = 0.5 * waves.Slope(e1);
        double half2 = 0.5 * waves.Slope(e2);
        double bulge11 = waves.Bulge(e1, e1);
        double bulge12 = waves.Bulge(e1, e2);
        double bulge22 = waves.Bulge(e2, e2);
        double delayed = pathLength + ((bulge11 + bulge22) / 24.0);
        var phase = new Rotor(_firstWavenumber * delayed, _wavenumberStep * delayed);
        var wide1 = new Rotor(_firstWavenumber * half1, _wavenumberStep * half1);
        var wide2 = new Rotor(_firstWavenumber * half2, _wavenumberStep * half2);
        for (int j = 0; j < _amplitudes.Length; j++)
        {
            double k = _firstWavenumber + (j * _wavenumberStep);
            var one = SincAndSlopes.Of(k * half1, wide1.Sine, wide1.Cosine);
            var two = SincAndSlopes.Of(k * half2, wide2.Sine, wide2.Cosine);
            double bend1 = -bulge11 * ((0.25 * one.Second) + (one.Value / 12.0)) * two.Value;
            double bend2 = -bulge22 * ((0.25 * two.Second) + (two.Value / 12.0)) * one.Value;
            double slope = 0.5 * ((tilt1 * one.First * two.Value) + (tilt2 * one.Value * two.First));
            double bend12 = -0.5 * bulge12 * one.First * two.First;
            Add(j, one.Value * two.Value, (0.5 * k * (bend1 + bend2 + bend12)) - slope, phase, k * obliquity, near);
            phase.Step();
            wide1.Step();
            wide2.Step();
        }
    }

    private void Sum(double g0, double g1, double g2, double pathLength, double obliquity, double near)
    {
        if (obliquity == 0)
        {
            return;
        }

        double mean = (g0 + g1 + g2) / 3.0;
        (g0, g1, g2) = (g0 - mean, g1 - mean, g2 - mean);
        TrianglePhaseIntegral.Sort(ref g0, ref g1, ref g2);
        double lastWavenumber = _firstWavenumber + ((_amplitudes.Length - 1) * _wavenumberStep);
        if (lastWavenumber * (g2 - g0) < TrianglePhaseIntegral.SeriesSpan)
        {
            SumSeries(g0, g1, g2, pathLength + mean, obliquity, near);
        }
        else
        {
            SumQuotients(g0, g1, g2, pathLength + mean, obliquity, near);
        }
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

    /// <summary>sin h / h and its first two derivatives.</summary>
    private readonly record struct SincAndSlopes(double Value, double First, double Second)
    {
        private const double SeriesBelow = 0.05;

        internal static SincAndSlopes Of(double h, double sine, double cosine)
        {
            if (Math.Abs(h) < SeriesBelow)
            {
                double s = h * h;
                return new(
                    1.0 - (s * ((1.0 / 6.0) - (s * ((1.0 / 120.0) - (s / 5040.0))))),
                    -h * ((1.0 / 3.0) - (s * ((1.0 / 30.0) - (s / 840.0)))),
                    -(1.0 / 3.0) + (s * ((1.0 / 10.0) - (s / 168.0))));
            }

            double value = sine / h;
            double first = (cosine - value) / h;
            return new(value, first, -value - (2.0 * first / h));
        }
    }
}
