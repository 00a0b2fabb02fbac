using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>How strongly each point of a line answers, beams, phase and absorption left out.</summary>
internal interface ILineWeight
{
    /// <summary>The weights at eight coordinates along the line, given their distances from transmitter and receiver and 1/(r_T r_R).</summary>
    Vector512<double> At(Vector512<double> z, Vector512<double> rT, Vector512<double> rR, Vector512<double> inverse);
}

/// <summary>1/(r_T r_R): plain spreading both ways.</summary>
internal readonly struct SpreadingWeight : ILineWeight
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<double> At(Vector512<double> z, Vector512<double> rT, Vector512<double> rR, Vector512<double> inverse) => inverse;
}

/// <summary>
/// The integral <c>∫ w(z) D_T D_R e^{(ik − α)(r_T + r_R)} dz</c> along a straight line, for eight frequencies at once, valid from
/// lines much shorter than a Fresnel zone to lines much longer.
/// </summary>
/// <remarks>
/// <para>With t² = P − P₀, the excess of the path over its least value, the integral is <c>e^{ikP₀} ∫ G(t) e^{ikt²} dt</c>. Two ways:
/// (a) uniform: <c>G = G₀ + t·h(t)</c>, once more for h′, which leaves Fresnel integrals and end terms and errs by order
/// (1/k)³ (integration by parts; Bleistein and Handelsman, Asymptotic Expansions of Integrals, §9.4); (b) where G changes too fast
/// for that, Gauss–Legendre over the middle Fresnel zones and end terms beyond them.</para>
/// <para>Vectors run over the eight frequencies, except where they run over eight points of the line: there the name says so.</para>
/// </remarks>
internal readonly partial struct LineIntegral
{
    /// <summary>S/kR of the beams above which way (a) is not used: it would err by 0.3 %.</summary>
    internal const double SharpTurn = 0.08;

    /// <summary>S/kR below which the second end terms of way (a) are left out: 0.1 % of the whole.</summary>
    private const double GentleTurn = 0.03;

    /// <summary>Phase at an end beyond which there is no stationary point worth its Fresnel integral beside the end itself. [rad]</summary>
    private const double BesidePhase = 14;

    /// <summary>Phase beyond which the second term of an end is less than 1 % of the first. [rad]</summary>
    private const double FarEndPhase = 60;

    /// <summary>Below this share of the path the excess is taken from the curvature, free of cancellation.</summary>
    private const double NearStationary = 1e-4;

    // Displacements from the transducers along the sensor's axes: these at z = 0, plus z times the last.
    private readonly Vec3 _fromTransmitter;
    private readonly Vec3 _fromReceiver;
    private readonly Vec3 _along;
    private readonly bool _isAxial;
    private readonly double _zT;
    private readonly double _zR;
    private readonly double _hT2;
    private readonly double _hR2;
    private readonly double _rT0;
    private readonly double _rR0;

    /// <summary>Prepares the integral over z from <paramref name="low"/> to <paramref name="high"/> along a line.</summary>
    internal LineIntegral(in EchoView view, Vec3 origin, Vec3 along, double low, double high)
    {
        Vec3 fromTransmitter = origin - view.Transmitter;
        Vec3 fromReceiver = origin - view.Receiver;
        _zT = -fromTransmitter.Dot(along);
        _zR = -fromReceiver.Dot(along);
        _hT2 = Math.Max((fromTransmitter + (_zT * along)).LengthSquared, 1e-12);
        _hR2 = Math.Max((fromReceiver + (_zR * along)).LengthSquared, 1e-12);
        _isAxial = view.Block.Transmit.IsAxial && view.Block.Receive.IsAxial;
        _fromTransmitter = view.Axes.ApplyInverse(fromTransmitter);
        _fromReceiver = view.Axes.ApplyInverse(fromReceiver);
        _along = view.Axes.ApplyInverse(along);
        double hT = Math.Sqrt(_hT2);
        double hR = Math.Sqrt(_hR2);
        Stationary = ((_zT * hR) + (_zR * hT)) / (hT + hR);
        _rT0 = Math.Sqrt(_hT2 + ((Stationary - _zT) * (Stationary - _zT)));
        _rR0 = Math.Sqrt(_hR2 + ((Stationary - _zR) * (Stationary - _zR)));
        LeastPath = _rT0 + _rR0;
        HalfCurvature = 0.5 * ((_hT2 / (_rT0 * _rT0 * _rT0)) + (_hR2 / (_rR0 * _rR0 * _rR0)));
        Low = low;
        High = high;
        Nearest = Stationary < low ? low : Stationary > high ? high : Stationary;
        NearestPath = PathAt(Nearest);
    }

    /// <summary>The coordinate of least path on the endless line. [m]</summary>
    internal double Stationary { get; }

    /// <summary>The least path on the endless line. [m]</summary>
    internal double LeastPath { get; }

    /// <summary>Half the second derivative of the path there: the path grows as this times the square of the distance. [1/m]</summary>
    internal double HalfCurvature { get; }

    internal double Low { get; }

    internal double High { get; }

    /// <summary>The coordinate of least path on the piece of line that exists. [m]</summary>
    internal double Nearest { get; }

    /// <summary>The least path on the piece of line that exists. [m]</summary>
    internal double NearestPath { get; }

    /// <summary>Whether the stationary point lies on the piece of line that exists.</summary>
    internal bool IsStationaryInside => Stationary >= Low && Stationary <= High;

    /// <summary>Evaluates the integral.</summary>
    /// <param name="view">The sensor.</param>
    /// <param name="weight">The weight along the line.</param>
    /// <param name="nearPole">
    /// Distance from the line to a point near which the weight rises like 1/distance², when it is so near that way (a) fails;
    /// else 0. [m]
    /// </param>
    /// <param name="beamTurn">S/kR of the beams; by default that of the sensor at the range of the line.</param>
    internal LaneComplex Evaluate<TWeight>(in EchoView view, in TWeight weight, double nearPole = 0, double? beamTurn = null)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        double turn = beamTurn ?? block.BeamTurnAt(0.5 * LeastPath);
        LaneComplex sum = nearPole > 0 || turn > SharpTurn
            ? MiddleAndTails(view, weight, nearPole, turn)
            : IsBeside(block) ? Ends(view, weight, Low, High) : Uniform(view, weight, turn > GentleTurn);
        Vector512<double> decay = LaneMath.Decay(block.AbsorptionNepersPerMetre, NearestPath);
        view.Gross?.Settle(decay);
        return sum * decay;
    }

    /// <summary>Reference: one frequency, one beam product per point, dense Gauss–Legendre panels.</summary>
    internal (double Real, double Imaginary) Reference<TWeight>(
        in TWeight weight, double wavenumber, double absorptionNepers, Func<double, double> beams, int panels)
        where TWeight : struct, ILineWeight
    {
        double real = 0;
        double imaginary = 0;
        const int Order = 16;
        double half = 0.5 * (High - Low) / panels;
        for (int panel = 0; panel < panels; panel++)
        {
            double middle = Low + (((2 * panel) + 1) * half);
            for (int i = 0; i < Order; i++)
            {
                double z = middle + (half * GaussLegendre.Nodes(Order)[i]);
                double rT = Math.Sqrt(_hT2 + ((z - _zT) * (z - _zT)));
                double rR = Math.Sqrt(_hR2 + ((z - _zR) * (z - _zR)));
                double at = weight.At(Vector512.Create(z), Vector512.Create(rT), Vector512.Create(rR), Vector512.Create(1 / (rT * rR)))[0];
                double amplitude = GaussLegendre.Weights(Order)[i] * half * at * beams(z) * Math.Exp(-absorptionNepers * (rT + rR));
                var (s, c) = Math.SinCos(wavenumber * (rT + rR));
                real += amplitude * c;
                imaginary += amplitude * s;
            }
        }

        return (real, imaginary);
    }

    internal double PathAt(double z) =>
        Math.Sqrt(_hT2 + ((z - _zT) * (z - _zT))) + Math.Sqrt(_hR2 + ((z - _zR) * (z - _zR)));

    private bool IsBeside(LaneBlock block)
    {
        double distance = Stationary < Low ? Low - Stationary : Stationary - High;
        return distance > 0 && (PathAt(Nearest) - LeastPath) * block.SmallestWavenumber > BesidePhase;
    }

    /// <summary>Beams and absorption (relative to the nearest path) for the given direction cosines off boresight.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private Vector512<double> Beams(LaneBlock block, double z, double rT, double rR, double cosineT, double cosineR)
    {
        Vector512<double> beams = _isAxial
            ? block.Transmit.AtCosine(cosineT) * block.Receive.AtCosine(cosineR)
            : BeamsOfPlanes(block, z, rT, rR, cosineT, cosineR);
        return beams * LaneMath.SmallDecay(block.AbsorptionNepersPerMetre * Math.Max(0, rT + rR - NearestPath));
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private Vector512<double> BeamsOfPlanes(LaneBlock block, double z, double rT, double rR, double cosineT, double cosineR) =>
        block.Transmit.AtCosines(cosineT, (_fromTransmitter.Y + (z * _along.Y)) / rT, (_fromTransmitter.Z + (z * _along.Z)) / rT)
        * block.Receive.AtCosines(cosineR, (_fromReceiver.Y + (z * _along.Y)) / rR, (_fromReceiver.Z + (z * _along.Z)) / rR);

    /// <summary>Eight points of the line: distances, cosines off boresight, t, and w·dz/dt.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Points PointsInT<TWeight>(in TWeight weight, Vector512<double> z)
        where TWeight : struct, ILineWeight
    {
        Points points = PointsAt(z);
        Vector512<double> d = z - Vector512.Create(Stationary);
        Vector512<double> fromT = z - Vector512.Create(_zT);
        Vector512<double> fromR = z - Vector512.Create(_zR);

        // P − P₀ without cancellation: r² − r₀² is a product of sums.
        Vector512<double> sumT = points.RT + Vector512.Create(_rT0);
        Vector512<double> sumR = points.RR + Vector512.Create(_rR0);
        Vector512<double> excess = d * (((fromT + Vector512.Create(Stationary - _zT)) * sumR) + ((fromR + Vector512.Create(Stationary - _zR)) * sumT)) / (sumT * sumR);
        Vector512<double> isNear = Vector512.LessThan(Vector512.Abs(d), Vector512.Create(NearStationary * LeastPath));
        excess = Vector512.ConditionalSelect(isNear, Vector512.Create(HalfCurvature) * d * d, Vector512.Max(excess, Vector512<double>.Zero));
        Vector512<double> t = Vector512.CopySign(Vector512.Sqrt(excess), d);

        // dz/dt = 2t/P′, P′ = ((z − z_T) r_R + (z − z_R) r_T)/(r_T r_R); the product in the weight is divided out once.
        Vector512<double> product = points.RT * points.RR;
        Vector512<double> slope = (fromT * points.RR) + (fromR * points.RT);
        Vector512<double> stretch = Vector512.ConditionalSelect(isNear, Vector512.Create(1 / Math.Sqrt(HalfCurvature)), (t + t) * product / slope);
        return points with { T = t, Scale = weight.At(z, points.RT, points.RR, points.Inverse) * stretch };
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Points PointsAt(Vector512<double> z)
    {
        Vector512<double> fromT = z - Vector512.Create(_zT);
        Vector512<double> fromR = z - Vector512.Create(_zR);
        Vector512<double> rT = Vector512.Sqrt(Vector512.FusedMultiplyAdd(fromT, fromT, Vector512.Create(_hT2)));
        Vector512<double> rR = Vector512.Sqrt(Vector512.FusedMultiplyAdd(fromR, fromR, Vector512.Create(_hR2)));
        Vector512<double> along = z * Vector512.Create(_along.X);
        Vector512<double> inverse = Vector512<double>.One / (rT * rR);
        return new Points
        {
            Z = z,
            RT = rT,
            RR = rR,
            Inverse = inverse,
            CosineT = (along + Vector512.Create(_fromTransmitter.X)) * (rR * inverse),
            CosineR = (along + Vector512.Create(_fromReceiver.X)) * (rT * inverse),
        };
    }

    /// <summary>G at one of eight points.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<double> G(LaneBlock block, in Points points, int i) =>
        Beams(block, points.Z[i], points.RT[i], points.RR[i], points.CosineT[i], points.CosineR[i]) * points.Scale[i];

    /// <summary>Eight points of the line: here vectors run over the points.</summary>
    private readonly struct Points
    {
        internal Vector512<double> Z { get; init; }

        internal Vector512<double> RT { get; init; }

        internal Vector512<double> RR { get; init; }

        internal Vector512<double> Inverse { get; init; }

        internal Vector512<double> CosineT { get; init; }

        internal Vector512<double> CosineR { get; init; }

        internal Vector512<double> T { get; init; }

        internal Vector512<double> Scale { get; init; }
    }
}
