using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>How strongly each point of a line answers, beams, phase and absorption left out.</summary>
internal interface ILineWeight
{
    /// <summary>The weight at a coordinate along the line, given its distances from transmitter and receiver.</summary>
    double At(double z, double rT, double rR);
}

/// <summary>
/// The integral <c>∫ w(z) D_T D_R e^{(ik − α)(r_T + r_R)} dz</c> along a straight line, for eight frequencies at once, valid from
/// lines much shorter than a Fresnel zone to lines much longer.
/// </summary>
/// <remarks>
/// With t² = P − P₀, the excess of the path over its least value, the integral is <c>e^{ikP₀} ∫ G(t) e^{ikt²} dt</c>. Two ways:
/// (a) uniform: <c>G = G₀ + t·h(t)</c>, once more for h′, which leaves Fresnel integrals and end terms and errs by order
/// (1/k)³ (integration by parts; Bleistein and Handelsman, Asymptotic Expansions of Integrals, §9.4); (b) where G changes too fast
/// for that, Gauss–Legendre over the middle Fresnel zones and end terms beyond them.
/// </remarks>
internal readonly struct LineIntegral
{
    /// <summary>Phase up to which the middle of the line is integrated point by point in way (b). [rad]</summary>
    internal const double MiddlePhase = 14;

    private readonly Vec3 _fromTransmitter;
    private readonly Vec3 _fromReceiver;
    private readonly Vec3 _along;
    private readonly double _zT;
    private readonly double _zR;
    private readonly double _hT2;
    private readonly double _hR2;
    private readonly double _rT0;
    private readonly double _rR0;
    private readonly double _referencePath;

    /// <summary>Prepares the integral over z from <paramref name="low"/> to <paramref name="high"/> along a line.</summary>
    internal LineIntegral(in EchoView view, Vec3 origin, Vec3 along, double low, double high)
    {
        _fromTransmitter = origin - view.Transmitter;
        _fromReceiver = origin - view.Receiver;
        _along = along;
        _zT = -_fromTransmitter.Dot(along);
        _zR = -_fromReceiver.Dot(along);
        _hT2 = Math.Max(_fromTransmitter.LengthSquared - (_zT * _zT), 1e-12);
        _hR2 = Math.Max(_fromReceiver.LengthSquared - (_zR * _zR), 1e-12);
        double hT = Math.Sqrt(_hT2);
        double hR = Math.Sqrt(_hR2);
        Stationary = ((_zT * hR) + (_zR * hT)) / (hT + hR);
        _rT0 = Math.Sqrt(_hT2 + ((Stationary - _zT) * (Stationary - _zT)));
        _rR0 = Math.Sqrt(_hR2 + ((Stationary - _zR) * (Stationary - _zR)));
        LeastPath = _rT0 + _rR0;
        HalfCurvature = 0.5 * ((_hT2 / (_rT0 * _rT0 * _rT0)) + (_hR2 / (_rR0 * _rR0 * _rR0)));
        Low = low;
        High = high;
        double nearest = Math.Clamp(Stationary, low, high);
        _referencePath = PathAt(nearest);
    }

    /// <summary>The coordinate of least path on the endless line. [m]</summary>
    internal double Stationary { get; }

    /// <summary>The least path on the endless line. [m]</summary>
    internal double LeastPath { get; }

    /// <summary>Half the second derivative of the path there: the path grows as this times the square of the distance. [1/m]</summary>
    internal double HalfCurvature { get; }

    internal double Low { get; }

    internal double High { get; }

    /// <summary>The least path on the piece of line that exists. [m]</summary>
    internal double NearestPath => _referencePath;

    /// <summary>The point of least path on the piece of line that exists, from the line's origin. [m]</summary>
    internal double Nearest => Math.Clamp(Stationary, Low, High);

    /// <summary>Evaluates the integral.</summary>
    /// <param name="view">The sensor.</param>
    /// <param name="weight">The weight along the line.</param>
    /// <param name="nearPole">
    /// Distance from the line to a point near which the weight rises like 1/distance², when it is so near that way (a) fails;
    /// else 0. [m]
    /// </param>
    /// <param name="isSharpBeam">Whether the beams turn so fast at this range that way (a) fails.</param>
    internal LaneComplex Evaluate<TWeight>(in EchoView view, in TWeight weight, double nearPole = 0, bool isSharpBeam = false)
        where TWeight : struct, ILineWeight
    {
        LaneComplex sum;
        if (nearPole > 0 || isSharpBeam)
        {
            sum = MiddleAndTails(view, weight, nearPole);
        }
        else
        {
            double excessLow = Excess(Low);
            double excessHigh = Excess(High);
            bool isBeside = (Low > Stationary || High < Stationary)
                && Math.Min(excessLow, excessHigh) * view.Block.SmallestWavenumber > MiddlePhase;
            sum = isBeside
                ? End(view, weight, High) - End(view, weight, Low)
                : Uniform(view, weight);
        }

        return sum * Vector512.Exp(view.Block.AbsorptionNepersPerMetre * -_referencePath);
    }

    /// <summary>Scalar reference: one frequency, one beam product per point, dense Gauss–Legendre panels.</summary>
    internal (double Real, double Imaginary) Reference<TWeight>(
        in TWeight weight, double wavenumber, double absorptionNepers, Func<double, double> beams, int panels)
        where TWeight : struct, ILineWeight
    {
        double real = 0;
        double imaginary = 0;
        ReadOnlySpan<double> nodes = GaussLegendre.Nodes(16);
        ReadOnlySpan<double> weights = GaussLegendre.Weights(16);
        double half = 0.5 * (High - Low) / panels;
        for (int panel = 0; panel < panels; panel++)
        {
            double middle = Low + (((2 * panel) + 1) * half);
            for (int i = 0; i < 16; i++)
            {
                double z = middle + (half * nodes[i]);
                double rT = Math.Sqrt(_hT2 + ((z - _zT) * (z - _zT)));
                double rR = Math.Sqrt(_hR2 + ((z - _zR) * (z - _zR)));
                double amplitude = weights[i] * half * weight.At(z, rT, rR) * beams(z) * Math.Exp(-absorptionNepers * (rT + rR));
                var (s, c) = Math.SinCos(wavenumber * (rT + rR));
                real += amplitude * c;
                imaginary += amplitude * s;
            }
        }

        return (real, imaginary);
    }

    internal double PathAt(double z) =>
        Math.Sqrt(_hT2 + ((z - _zT) * (z - _zT))) + Math.Sqrt(_hR2 + ((z - _zR) * (z - _zR)));

    /// <summary>P(z) − P₀ without cancellation.</summary>
    private double Excess(double z)
    {
        double rT = Math.Sqrt(_hT2 + ((z - _zT) * (z - _zT)));
        double rR = Math.Sqrt(_hR2 + ((z - _zR) * (z - _zR)));
        return Excess(z, rT, rR);
    }

    private double Excess(double z, double rT, double rR)
    {
        double d = z - Stationary;
        if (Math.Abs(d) < 1e-4 * (_rT0 + _rR0))
        {
            return HalfCurvature * d * d;
        }

        return Math.Max(0, d * (((z + Stationary - (2 * _zT)) / (rT + _rT0)) + ((z + Stationary - (2 * _zR)) / (rR + _rR0))));
    }

    /// <summary>Weight, beams and absorption (relative to the nearest path) at a point of the line; and dz/dt there.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<double> Sample<TWeight>(in EchoView view, in TWeight weight, double z, out double path, out double rT, out double rR)
        where TWeight : struct, ILineWeight
    {
        Vec3 outward = _fromTransmitter + (z * _along);
        Vec3 back = _fromReceiver + (z * _along);
        rT = outward.Length;
        rR = back.Length;
        path = rT + rR;
        Vector512<double> beams = view.Beams(outward, 1 / rT, back, 1 / rR);
        Vector512<double> decay = LaneMath.SmallDecay(view.Block.AbsorptionNepersPerMetre * Math.Max(0, path - _referencePath));
        return beams * decay * weight.At(z, rT, rR);
    }

    /// <summary>G(t) = g·dz/dt and t itself.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<double> SampleInT<TWeight>(in EchoView view, in TWeight weight, double z, out double t, out double path)
        where TWeight : struct, ILineWeight
    {
        Vector512<double> g = Sample(view, weight, z, out path, out double rT, out double rR);
        double d = z - Stationary;
        t = Math.CopySign(Math.Sqrt(Excess(z, rT, rR)), d);
        double slope = ((z - _zT) / rT) + ((z - _zR) / rR);
        double stretch = Math.Abs(d) < 1e-4 * LeastPath ? 1 / Math.Sqrt(HalfCurvature) : 2 * t / slope;
        return g * stretch;
    }

    /// <summary>Way (a).</summary>
    private LaneComplex Uniform<TWeight>(in EchoView view, in TWeight weight)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        double step = 1 / Math.Sqrt(block.LargestWavenumber * HalfCurvature);
        Vector512<double> g0 = SampleInT(view, weight, Stationary, out _, out _);
        Vector512<double> gPlus = SampleInT(view, weight, Stationary + step, out double tPlus, out _);
        Vector512<double> gMinus = SampleInT(view, weight, Stationary - step, out double tMinus, out _);
        Vector512<double> hPlus = (gPlus - g0) * (1 / tPlus);
        Vector512<double> hMinus = (gMinus - g0) * (1 / tMinus);

        // h(0) and h′(0): straight line through h at both neighbours.
        Vector512<double> dh0 = (hPlus - hMinus) * (1 / (tPlus - tMinus));
        Vector512<double> h0 = hPlus - (dh0 * tPlus);
        Vector512<double> inverseTwoK = 0.5 * block.InverseWavenumbers;

        // A = G₀ − h′(0)/(2ik) = G₀ + i·h′(0)/2k.
        var a = new LaneComplex(g0, dh0 * inverseTwoK);
        LaneComplex low = UniformEnd(view, weight, Low, g0, h0, dh0, a, out double tLow);
        LaneComplex high = UniformEnd(view, weight, High, g0, h0, dh0, a, out double tHigh);
        LaneComplex sum = high - low;
        if (tLow < 0 && tHigh >= 0)
        {
            Vector512<double> root = block.InverseRootWavenumbers * LaneMath.FullFresnelPart;
            sum += LaneMath.Phase(block.Wavenumbers * LeastPath) * a * new LaneComplex(root, root);
        }

        return sum;
    }

    /// <summary>The terms of one end in way (a): minus the Fresnel tail on its own side, and the end terms.</summary>
    private LaneComplex UniformEnd<TWeight>(
        in EchoView view, in TWeight weight, double z, Vector512<double> g0, Vector512<double> h0, Vector512<double> dh0, in LaneComplex a, out double t)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        Vector512<double> g = SampleInT(view, weight, z, out t, out double path);
        double size = Math.Abs(t);
        double phase = t * t * block.SmallestWavenumber;
        LaneComplex tail = LaneMath.FresnelTail(block.RootWavenumbers * size) * (block.InverseRootWavenumbers * (t < 0 ? 1.0 : -1.0));
        Vector512<double> inverseTwoK = 0.5 * block.InverseWavenumbers;
        Vector512<double> h = phase > 0.05 ? (g - g0) * (1 / t) : h0 + (dh0 * t);

        // h/(2ik) + (h′ − h′(0))/(4k²t).
        Vector512<double> second = Vector512<double>.Zero;
        if (phase > 2)
        {
            double inner = Stationary + (0.94 * (z - Stationary));
            Vector512<double> gInner = SampleInT(view, weight, inner, out double tInner, out _);
            Vector512<double> dh = (h - ((gInner - g0) * (1 / tInner))) * (1 / (t - tInner));
            second = (dh - dh0) * (inverseTwoK * inverseTwoK * (1 / t));
        }

        LaneComplex end = (tail * a) + new LaneComplex(second, -h * inverseTwoK);
        return LaneMath.Phase(block.Wavenumbers * path) * end;
    }

    /// <summary>The terms of one end far from the stationary point: G/(2ikt) + (G/t)′/(4k²t).</summary>
    private LaneComplex End<TWeight>(in EchoView view, in TWeight weight, double z)
        where TWeight : struct, ILineWeight
    {
        Vector512<double> inverseTwoK = 0.5 * view.Block.InverseWavenumbers;
        Vector512<double> g = SampleInT(view, weight, z, out double t, out double path);
        double inner = Stationary + (0.97 * (z - Stationary));
        Vector512<double> gInner = SampleInT(view, weight, inner, out double tInner, out _);
        Vector512<double> h = g * (1 / t);
        Vector512<double> dh = (h - (gInner * (1 / tInner))) * (1 / (t - tInner));
        var end = new LaneComplex(dh * inverseTwoK * inverseTwoK * (1 / t), -h * inverseTwoK);
        return LaneMath.Phase(view.Block.Wavenumbers * path) * end;
    }

    /// <summary>Way (b).</summary>
    private LaneComplex MiddleAndTails<TWeight>(in EchoView view, in TWeight weight, double nearPole)
        where TWeight : struct, ILineWeight
    {
        double excess = MiddlePhase / view.Block.SmallestWavenumber;
        var (reachLow, reachHigh) = WhereExcessIs(excess);
        LaneComplex sum = new(Vector512<double>.Zero, Vector512<double>.Zero);
        double low = Low;
        double high = High;
        if (low < reachLow)
        {
            double end = Math.Min(reachLow, high);
            sum += End(view, weight, end) - End(view, weight, low);
            low = end;
        }

        if (high > reachHigh)
        {
            double start = Math.Max(reachHigh, low);
            sum += End(view, weight, high) - End(view, weight, start);
            high = start;
        }

        if (!(high > low))
        {
            return sum;
        }

        // Two panels that meet at the stationary point, where the pole is nearest too.
        double split = Math.Clamp(Stationary, low, high);
        if (split > low)
        {
            sum += Panel(view, weight, low, split, nearPole);
        }

        if (high > split)
        {
            sum += Panel(view, weight, split, high, nearPole);
        }

        return sum;
    }

    /// <summary>Gauss–Legendre over one side of the middle; near a pole in the variable v of z = z₀ + d·sinh v.</summary>
    private LaneComplex Panel<TWeight>(in EchoView view, in TWeight weight, double low, double high, double nearPole)
        where TWeight : struct, ILineWeight
    {
        Vector512<double> k = view.Block.Wavenumbers;
        double span = view.Block.LargestWavenumber * Math.Abs(PathAt(high) - PathAt(low));
        double reach = Math.Max(Math.Abs(low - Stationary), Math.Abs(high - Stationary));
        bool isGraded = nearPole > 0 && nearPole < reach;
        double from = isGraded ? Math.Asinh((low - Stationary) / nearPole) : low;
        double to = isGraded ? Math.Asinh((high - Stationary) / nearPole) : high;
        int count = Math.Clamp((int)(7 + (0.6 * span) + (isGraded ? 1.6 * (to - from) : 0)), 7, GaussLegendre.Largest);
        ReadOnlySpan<double> nodes = GaussLegendre.Nodes(count);
        ReadOnlySpan<double> weights = GaussLegendre.Weights(count);
        double middle = 0.5 * (from + to);
        double half = 0.5 * (to - from);
        Vector512<double> real = Vector512<double>.Zero;
        Vector512<double> imaginary = Vector512<double>.Zero;
        for (int i = 0; i < count; i++)
        {
            double v = middle + (half * nodes[i]);
            double stretch = half * weights[i];
            double z = v;
            if (isGraded)
            {
                double e = Math.Exp(v);
                z = Stationary + (0.5 * nearPole * (e - (1 / e)));
                stretch *= 0.5 * nearPole * (e + (1 / e));
            }

            Vector512<double> g = Sample(view, weight, z, out double path, out _, out _) * stretch;
            LaneComplex phase = LaneMath.Phase(k * path);
            real = Vector512.FusedMultiplyAdd(g, phase.Real, real);
            imaginary = Vector512.FusedMultiplyAdd(g, phase.Imaginary, imaginary);
        }

        return new LaneComplex(real, imaginary);
    }

    /// <summary>The two coordinates at which the path exceeds its least value by a given length: an ellipsoid cut by the line.</summary>
    private (double Low, double High) WhereExcessIs(double excess)
    {
        // r_T + r_R = S and r_T² − r_R² = a z + b give r_T = (S + (a z + b)/S)/2; its square is a quadratic in z.
        double s = LeastPath + excess;
        double a = 2 * (_zR - _zT);
        double b = (_zT * _zT) + _hT2 - (_zR * _zR) - _hR2;
        double p = 0.5 * (s + (b / s));
        double q = 0.5 * a / s;
        double c2 = 1 - (q * q);
        double c1 = -(_zT + (p * q));
        double c0 = (_zT * _zT) + _hT2 - (p * p);
        double root = Math.Sqrt(Math.Max(0, (c1 * c1) - (c2 * c0)));
        return ((-c1 - root) / c2, (-c1 + root) / c2);
    }
}
