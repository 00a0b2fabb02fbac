using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

internal readonly partial struct LineIntegral
{
    /// <summary>Phase up to which the middle of the line is integrated point by point in way (b). [rad]</summary>
    private const double MiddlePhase = 12;

    /// <summary>Nodes wanted beyond those of the phase where beams are looked up at every node.</summary>
    private const double NodesForBeams = 4;

    /// <summary>Way (b).</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex MiddleAndTails<TWeight>(in EchoView view, in TWeight weight, double nearPole, double turn)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        var (reachLow, reachHigh) = WhereExcessIs(MiddlePhase / block.SmallestWavenumber);
        LaneComplex sum = new(Vector512<double>.Zero, Vector512<double>.Zero);
        double low = Low;
        double high = High;
        if (low < reachLow)
        {
            double end = Math.Min(reachLow, high);
            sum += Ends(view, weight, low, end);
            low = end;
        }

        if (high > reachHigh)
        {
            double start = Math.Max(reachHigh, low);
            sum += Ends(view, weight, start, high);
            high = start;
        }

        if (!(high > low))
        {
            return sum;
        }

        // Two panels that meet at the stationary point, where the pole is nearest too.
        double split = Math.Clamp(Stationary, low, high);
        if (turn > SharpTurn)
        {
            return sum + (split > low ? Panel(view, weight, low, split, nearPole) : default) + (high > split ? Panel(view, weight, split, high, nearPole) : default);
        }

        var cubic = new BeamCubic(low, high);
        CubicShares shares = default;
        if (split > low)
        {
            AddPanel(block, weight, low, split, nearPole, cubic, ref shares);
        }

        if (high > split)
        {
            AddPanel(block, weight, split, high, nearPole, cubic, ref shares);
        }

        Points points = PointsAt(cubic.Points);
        if (view.Gross is { } gross)
        {
            gross.Add(shares, points.CosineT, points.CosineR);
            SlopesOf(block, points, 0, 1, out Vector512<double> ya, out Vector512<double> za);
            SlopesOf(block, points, 1, 1, out Vector512<double> yb, out Vector512<double> zb);
            SlopesOf(block, points, 2, 1, out Vector512<double> yc, out Vector512<double> zc);
            SlopesOf(block, points, 3, 1, out Vector512<double> yd, out Vector512<double> zd);
            gross.AddSlopes(
                (shares.A * ya) + (shares.B * yb) + (shares.C * yc) + (shares.D * yd), (shares.A * za) + (shares.B * zb) + (shares.C * zc) + (shares.D * zd));
        }

        return sum + (shares.A * BeamsAt(block, points, 0)) + (shares.B * BeamsAt(block, points, 1))
            + (shares.C * BeamsAt(block, points, 2)) + (shares.D * BeamsAt(block, points, 3));
    }

    /// <summary>Gauss–Legendre over one side of the middle with beams looked up at every node; near a pole in the variable v of z = z₀ + d·sinh v.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex Panel<TWeight>(in EchoView view, in TWeight weight, double low, double high, double nearPole)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        Vector512<double> k = block.Wavenumbers;
        PanelNodes nodes = NodesOf(block, low, high, nearPole, NodesForBeams);
        Vector512<double> real = Vector512<double>.Zero;
        Vector512<double> imaginary = Vector512<double>.Zero;
        for (int first = 0; first < nodes.Count; first += 8)
        {
            Vector512<double> z = nodes.Eight(first, this, out Vector512<double> step);
            Points points = PointsAt(z);
            Vector512<double> scale = weight.At(z, points.RT, points.RR, points.Inverse) * step;
            Vector512<double> path = points.RT + points.RR;
            view.Gross?.Add(Vector512.Abs(scale), points.CosineT, points.CosineR);
            for (int i = 0; i < 8; i++)
            {
                Vector512<double> g = BeamsAt(block, points, i) * scale[i];
                LaneComplex phase = LaneMath.Phase(k * path[i]);
                real = Vector512.FusedMultiplyAdd(g, phase.Real, real);
                imaginary = Vector512.FusedMultiplyAdd(g, phase.Imaginary, imaginary);
                if (view.Gross is { } gross)
                {
                    SlopesOf(block, points, i, scale[i], out Vector512<double> y, out Vector512<double> z1);
                    gross.AddSlopes(phase * y, phase * z1);
                }
            }
        }

        return new LaneComplex(real, imaginary);
    }

    /// <summary>The same where beams turn slowly: adds what each of the four points of a cubic through the beams is worth.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void AddPanel<TWeight>(LaneBlock block, in TWeight weight, double low, double high, double nearPole, in BeamCubic cubic, ref CubicShares shares)
        where TWeight : struct, ILineWeight
    {
        Vector512<double> k = block.Wavenumbers;
        PanelNodes nodes = NodesOf(block, low, high, nearPole, 0);
        Vector512<double> aReal = Vector512<double>.Zero, aImaginary = aReal, bReal = aReal, bImaginary = aReal;
        Vector512<double> cReal = aReal, cImaginary = aReal, dReal = aReal, dImaginary = aReal;
        for (int first = 0; first < nodes.Count; first += 8)
        {
            Vector512<double> z = nodes.Eight(first, this, out Vector512<double> step);
            Points points = PointsAt(z);
            Vector512<double> scale = weight.At(z, points.RT, points.RR, points.Inverse) * step;
            Vector512<double> path = points.RT + points.RR;
            (Vector512<double> a, Vector512<double> b, Vector512<double> c, Vector512<double> d) = cubic.SharesAt(z, scale);
            for (int i = 0; i < 8; i++)
            {
                LaneComplex phase = LaneMath.Phase(k * path[i]);
                aReal = Vector512.FusedMultiplyAdd(Vector512.Create(a[i]), phase.Real, aReal);
                aImaginary = Vector512.FusedMultiplyAdd(Vector512.Create(a[i]), phase.Imaginary, aImaginary);
                bReal = Vector512.FusedMultiplyAdd(Vector512.Create(b[i]), phase.Real, bReal);
                bImaginary = Vector512.FusedMultiplyAdd(Vector512.Create(b[i]), phase.Imaginary, bImaginary);
                cReal = Vector512.FusedMultiplyAdd(Vector512.Create(c[i]), phase.Real, cReal);
                cImaginary = Vector512.FusedMultiplyAdd(Vector512.Create(c[i]), phase.Imaginary, cImaginary);
                dReal = Vector512.FusedMultiplyAdd(Vector512.Create(d[i]), phase.Real, dReal);
                dImaginary = Vector512.FusedMultiplyAdd(Vector512.Create(d[i]), phase.Imaginary, dImaginary);
            }
        }

        shares = new CubicShares(
            shares.A + new LaneComplex(aReal, aImaginary), shares.B + new LaneComplex(bReal, bImaginary),
            shares.C + new LaneComplex(cReal, cImaginary), shares.D + new LaneComplex(dReal, dImaginary));
    }

    private Vector512<double> BeamsAt(LaneBlock block, in Points points, int i) =>
        Beams(block, points.Z[i], points.RT[i], points.RR[i], points.CosineT[i], points.CosineR[i]);

    private PanelNodes NodesOf(LaneBlock block, double low, double high, double nearPole, double moreNodes)
    {
        double span = block.LargestWavenumber * Math.Abs(PathAt(high) - PathAt(low));
        double reach = Math.Max(Math.Abs(low - Stationary), Math.Abs(high - Stationary));
        bool isGraded = nearPole > 0 && nearPole < reach;
        double from = isGraded ? Math.Asinh((low - Stationary) / nearPole) : low;
        double to = isGraded ? Math.Asinh((high - Stationary) / nearPole) : high;

        // Whole vectors of nodes: 8, 16, … 40.
        double wanted = 5 + (0.55 * span) + (isGraded ? 1.6 * (to - from) : 0) + moreNodes;
        int count = Math.Min(((int)wanted + 7) & ~7, GaussLegendre.Largest);
        return new PanelNodes(count, 0.5 * (from + to), 0.5 * (to - from), isGraded ? nearPole : 0);
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

    /// <summary>The nodes of one panel, straight or in the variable v of z = z₀ + d·sinh v.</summary>
    private readonly struct PanelNodes(int count, double middle, double half, double pole)
    {
        internal int Count => count;

        /// <summary>Eight coordinates along the line, and their weights.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        internal Vector512<double> Eight(int first, in LineIntegral line, out Vector512<double> step)
        {
            Vector512<double> v = Vector512.FusedMultiplyAdd(GaussLegendre.EightNodes(count, first), Vector512.Create(half), Vector512.Create(middle));
            step = GaussLegendre.EightWeights(count, first) * half;
            if (!(pole > 0))
            {
                return v;
            }

            Vector512<double> e = Vector512.Exp(v);
            Vector512<double> inverse = Vector512<double>.One / e;
            step *= (e + inverse) * (0.5 * pole);
            return Vector512.FusedMultiplyAdd(e - inverse, Vector512.Create(0.5 * pole), Vector512.Create(line.Stationary));
        }
    }

    /// <summary>A cubic along a piece of line through four points, where beams and absorption turn slowly.</summary>
    private readonly struct BeamCubic
    {
        // Chebyshev points of the first kind.
        private const double Outer = 0.92387953251128674;
        private const double Inner = 0.38268343236508978;
        private const double Span = (Outer * Outer) - (Inner * Inner);

        private readonly double _middle;
        private readonly double _inverseHalf;

        internal BeamCubic(double low, double high)
        {
            _middle = 0.5 * (low + high);
            double half = 0.5 * (high - low);
            _inverseHalf = 1 / half;
            Points = Vector512.Create(
                _middle - (Outer * half), _middle - (Inner * half), _middle + (Inner * half), _middle + (Outer * half), low, low, low, low);
        }

        /// <summary>The four coordinates at which beams are looked up; the other four are the low end.</summary>
        internal Vector512<double> Points { get; }

        /// <summary>What the values at the four points count for in the cubic at eight coordinates, times a scale.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        internal (Vector512<double> A, Vector512<double> B, Vector512<double> C, Vector512<double> D) SharesAt(Vector512<double> z, Vector512<double> scale)
        {
            // Even part e₀ + e₂x² and odd part x(o₁ + o₃x²) through both pairs.
            Vector512<double> x = (z - Vector512.Create(_middle)) * _inverseHalf;
            Vector512<double> square = x * x;
            Vector512<double> outer = scale * (square - Vector512.Create(Inner * Inner)) * (0.5 / Span);
            Vector512<double> inner = scale * (Vector512.Create(Outer * Outer) - square) * (0.5 / Span);
            Vector512<double> oddOuter = outer * x * (1 / Outer), oddInner = inner * x * (1 / Inner);
            return (outer - oddOuter, inner - oddInner, inner + oddInner, outer + oddOuter);
        }
    }
}

/// <summary>What the beams at the four points of a cubic are worth in an integral.</summary>
internal readonly record struct CubicShares(LaneComplex A, LaneComplex B, LaneComplex C, LaneComplex D);
