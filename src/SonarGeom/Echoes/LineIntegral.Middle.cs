using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

internal readonly partial struct LineIntegral
{
    /// <summary>Phase up to which the middle of the line is integrated point by point in way (b). [rad]</summary>
    private const double MiddlePhase = 12;

    /// <summary>Way (b).</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex MiddleAndTails<TWeight>(LaneBlock block, in TWeight weight, double nearPole, double turn)
        where TWeight : struct, ILineWeight
    {
        var (reachLow, reachHigh) = WhereExcessIs(MiddlePhase / block.SmallestWavenumber);
        LaneComplex sum = new(Vector512<double>.Zero, Vector512<double>.Zero);
        double low = Low;
        double high = High;
        if (low < reachLow)
        {
            double end = Math.Min(reachLow, high);
            sum += Ends(block, weight, low, end);
            low = end;
        }

        if (high > reachHigh)
        {
            double start = Math.Max(reachHigh, low);
            sum += Ends(block, weight, start, high);
            high = start;
        }

        if (!(high > low))
        {
            return sum;
        }

        // Two panels that meet at the stationary point, where the pole is nearest too.
        double split = Math.Clamp(Stationary, low, high);
        return sum + (turn > SharpTurn
            ? Panels(block, weight, low, split, high, nearPole, new BeamExact(this, block))
            : Panels(block, weight, low, split, high, nearPole, new BeamCubic(this, block, low, high)));
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex Panels<TWeight, TBeams>(
        LaneBlock block, in TWeight weight, double low, double split, double high, double nearPole, in TBeams beams)
        where TWeight : struct, ILineWeight
        where TBeams : struct, ILineBeams
    {
        LaneComplex sum = new(Vector512<double>.Zero, Vector512<double>.Zero);
        if (split > low)
        {
            sum += Panel(block, weight, low, split, nearPole, beams);
        }

        return high > split ? sum + Panel(block, weight, split, high, nearPole, beams) : sum;
    }

    /// <summary>Gauss–Legendre over one side of the middle; near a pole in the variable v of z = z₀ + d·sinh v.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex Panel<TWeight, TBeams>(
        LaneBlock block, in TWeight weight, double low, double high, double nearPole, in TBeams beams)
        where TWeight : struct, ILineWeight
        where TBeams : struct, ILineBeams
    {
        Vector512<double> k = block.Wavenumbers;
        double span = block.LargestWavenumber * Math.Abs(PathAt(high) - PathAt(low));
        double reach = Math.Max(Math.Abs(low - Stationary), Math.Abs(high - Stationary));
        bool isGraded = nearPole > 0 && nearPole < reach;
        double from = isGraded ? Math.Asinh((low - Stationary) / nearPole) : low;
        double to = isGraded ? Math.Asinh((high - Stationary) / nearPole) : high;

        // Whole vectors of nodes: 8, 16, … 40.
        double wanted = 5 + (0.55 * span) + (isGraded ? 1.6 * (to - from) : 0) + beams.MoreNodes;
        int count = Math.Min(((int)wanted + 7) & ~7, GaussLegendre.Largest);
        double middle = 0.5 * (from + to);
        double half = 0.5 * (to - from);
        Vector512<double> real = Vector512<double>.Zero;
        Vector512<double> imaginary = Vector512<double>.Zero;
        for (int first = 0; first < count; first += 8)
        {
            Vector512<double> v = Vector512.FusedMultiplyAdd(GaussLegendre.EightNodes(count, first), Vector512.Create(half), Vector512.Create(middle));
            Vector512<double> step = GaussLegendre.EightWeights(count, first) * half;
            Vector512<double> z = v;
            if (isGraded)
            {
                Vector512<double> e = Vector512.Exp(v);
                Vector512<double> inverse = Vector512<double>.One / e;
                z = Vector512.FusedMultiplyAdd(e - inverse, Vector512.Create(0.5 * nearPole), Vector512.Create(Stationary));
                step *= (e + inverse) * (0.5 * nearPole);
            }

            Points points = PointsAt(z);
            Vector512<double> scale = weight.At(z, points.RT, points.RR, points.Inverse) * step;
            Vector512<double> path = points.RT + points.RR;
            for (int i = 0; i < 8; i++)
            {
                Vector512<double> g = beams.At(points, i) * scale[i];
                LaneComplex phase = LaneMath.Phase(k * path[i]);
                real = Vector512.FusedMultiplyAdd(g, phase.Real, real);
                imaginary = Vector512.FusedMultiplyAdd(g, phase.Imaginary, imaginary);
            }
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

    /// <summary>Where a panel takes its beams from; the loop over its nodes is made for each kind, the quick one without a call.</summary>
    private interface ILineBeams
    {
        /// <summary>Nodes wanted beyond those of the phase.</summary>
        double MoreNodes { get; }

        /// <summary>Beams and absorption at one of eight points.</summary>
        Vector512<double> At(in Points points, int i);
    }

    /// <summary>Beams looked up at every node.</summary>
    private readonly struct BeamExact(LineIntegral line, LaneBlock block) : ILineBeams
    {
        public double MoreNodes => 4;

        public Vector512<double> At(in Points points, int i) =>
            line.Beams(block, points.Z[i], points.RT[i], points.RR[i], points.CosineT[i], points.CosineR[i]);
    }

    /// <summary>Beams and absorption along a piece of line as a cubic through four points, where they turn slowly.</summary>
    private readonly struct BeamCubic : ILineBeams
    {
        private readonly double _middle;
        private readonly double _inverseHalf;
        private readonly Vector512<double> _c0;
        private readonly Vector512<double> _c1;
        private readonly Vector512<double> _c2;
        private readonly Vector512<double> _c3;

        internal BeamCubic(in LineIntegral line, LaneBlock block, double low, double high)
        {
            // Chebyshev points of the first kind.
            const double Outer = 0.92387953251128674;
            const double Inner = 0.38268343236508978;
            _middle = 0.5 * (low + high);
            double half = 0.5 * (high - low);
            _inverseHalf = 1 / half;
            Points points = line.PointsAt(Vector512.Create(
                _middle - (Outer * half), _middle - (Inner * half), _middle + (Inner * half), _middle + (Outer * half), low, low, low, low));
            Vector512<double> a = At(line, block, points, 0);
            Vector512<double> b = At(line, block, points, 1);
            Vector512<double> c = At(line, block, points, 2);
            Vector512<double> d = At(line, block, points, 3);

            // Even part e₀ + e₂x² and odd part x(o₁ + o₃x²) through both pairs.
            const double Span = (Outer * Outer) - (Inner * Inner);
            Vector512<double> evenOuter = 0.5 * (a + d);
            Vector512<double> evenInner = 0.5 * (b + c);
            Vector512<double> oddOuter = (d - a) * (0.5 / Outer);
            Vector512<double> oddInner = (c - b) * (0.5 / Inner);
            _c2 = (evenOuter - evenInner) * (1 / Span);
            _c0 = evenInner - (_c2 * (Inner * Inner));
            _c3 = (oddOuter - oddInner) * (1 / Span);
            _c1 = oddInner - (_c3 * (Inner * Inner));

            static Vector512<double> At(in LineIntegral line, LaneBlock block, in Points points, int i) =>
                line.Beams(block, points.Z[i], points.RT[i], points.RR[i], points.CosineT[i], points.CosineR[i]);
        }

        public double MoreNodes => 0;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> At(in Points points, int i)
        {
            Vector512<double> x = Vector512.Create((points.Z[i] - _middle) * _inverseHalf);
            Vector512<double> sum = Vector512.FusedMultiplyAdd(_c3, x, _c2);
            sum = Vector512.FusedMultiplyAdd(sum, x, _c1);
            return Vector512.FusedMultiplyAdd(sum, x, _c0);
        }
    }
}
