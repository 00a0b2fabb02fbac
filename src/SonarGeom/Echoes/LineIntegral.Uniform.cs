using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <content>Way (a), and pieces without a stationary point.</content>
internal readonly partial struct LineIntegral
{
    /// <summary>Way (a).</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex Uniform<TWeight>(in EchoView view, in TWeight weight, bool withSecondTerms)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        const double Inner = 0.94;
        double step = 1 / Math.Sqrt(block.LargestWavenumber * HalfCurvature);
        Points points = PointsInT(weight, Vector512.Create(
            Stationary, Stationary + step, Stationary - step, Low, High,
            Stationary + (Inner * (Low - Stationary)), Stationary + (Inner * (High - Stationary)), Stationary));
        UniformSide low = SideOf(block, points, 3, 5, withSecondTerms), high = SideOf(block, points, 4, 6, withSecondTerms);
        bool isInside = points.T[3] < 0 && points.T[4] >= 0;
        LaneComplex least = isInside ? LaneMath.PhaseOnce(block.Wavenumbers * LeastPath) : default;
        Span<Vector512<double>> g = stackalloc Vector512<double>[LaneBlock.Lanes];
        for (int i = 0; i < 5; i++)
        {
            g[i] = G(block, points, i);
        }

        g[5] = low.HasSecond ? G(block, points, 5) : Vector512<double>.Zero;
        g[6] = high.HasSecond ? G(block, points, 6) : Vector512<double>.Zero;
        if (view.Gross is { } gross)
        {
            AddUniform(gross, block, points, withSecondTerms);
            Span<Vector512<double>> y = stackalloc Vector512<double>[LaneBlock.Lanes], z = stackalloc Vector512<double>[LaneBlock.Lanes];
            for (int i = 0; i < 7; i++)
            {
                SlopesOf(block, points, i, points.Scale[i], out y[i], out z[i]);
            }

            gross.AddSlopes(UniformSum(block, points, low, high, isInside, least, y), UniformSum(block, points, low, high, isInside, least, z));
        }

        return UniformSum(block, points, low, high, isInside, least, g);
    }

    /// <summary>Way (a) for given G at its seven points.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LaneComplex UniformSum(
        LaneBlock block, in Points points, in UniformSide low, in UniformSide high, bool isInside, in LaneComplex least, ReadOnlySpan<Vector512<double>> g)
    {
        Vector512<double> g0 = g[0];
        double tPlus = points.T[1];
        double tMinus = points.T[2];
        Vector512<double> hPlus = (g[1] - g0) * (1 / tPlus);
        Vector512<double> hMinus = (g[2] - g0) * (1 / tMinus);

        // h(0) and h′(0): straight line through h at both neighbours.
        Vector512<double> dh0 = (hPlus - hMinus) * (1 / (tPlus - tMinus));
        Vector512<double> h0 = hPlus - (dh0 * tPlus);

        // A = G₀ − h′(0)/(2ik) = G₀ + i·h′(0)/2k.
        Vector512<double> inverseTwoK = 0.5 * block.InverseWavenumbers;
        var around = new Neighbourhood(g0, h0, dh0, new LaneComplex(g0, dh0 * inverseTwoK));
        LaneComplex sum = UniformEnd(block, high, g[4], g[6], around) - UniformEnd(block, low, g[3], g[5], around);
        if (isInside)
        {
            Vector512<double> root = block.InverseRootWavenumbers * LaneMath.FullFresnelPart;
            sum += least * around.A * new LaneComplex(root, root);
        }

        return sum;
    }

    /// <summary>What does not depend on G in the terms of one end in way (a).</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static UniformSide SideOf(LaneBlock block, in Points points, int at, int inner, bool withSecondTerms)
    {
        double t = points.T[at];
        double phase = t * t * block.SmallestWavenumber;
        LaneComplex tail = phase > FarEndPhase
            ? default
            : LaneMath.FresnelTail(block.RootWavenumbers * Math.Abs(t)) * (block.InverseRootWavenumbers * (t < 0 ? 1.0 : -1.0));
        return new UniformSide(
            t, points.T[inner], phase, withSecondTerms && phase is > 2 and <= FarEndPhase, tail,
            LaneMath.PhaseOnce(block.Wavenumbers * (points.RT[at] + points.RR[at])));
    }

    /// <summary>The terms of one end in way (a): minus the Fresnel tail on its own side, and the end terms.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LaneComplex UniformEnd(LaneBlock block, in UniformSide side, Vector512<double> g, Vector512<double> inner, in Neighbourhood around)
    {
        double t = side.T;
        if (side.Phase > FarEndPhase)
        {
            // The tail and h's share of G₀ cancel to G/(2ikt).
            return side.Travel * new LaneComplex(Vector512<double>.Zero, g * block.InverseWavenumbers * (-0.5 / t));
        }

        Vector512<double> inverseTwoK = 0.5 * block.InverseWavenumbers;
        Vector512<double> h = side.Phase > 0.05 ? (g - around.G0) * (1 / t) : around.H0 + (around.Dh0 * t);

        // h/(2ik) + (h′ − h′(0))/(4k²t).
        Vector512<double> second = Vector512<double>.Zero;
        if (side.HasSecond)
        {
            Vector512<double> dh = (h - ((inner - around.G0) * (1 / side.TInner))) * (1 / (t - side.TInner));
            second = (dh - around.Dh0) * (inverseTwoK * inverseTwoK * (1 / t));
        }

        LaneComplex end = (side.Tail * around.A) + new LaneComplex(second, -h * inverseTwoK);
        return side.Travel * end;
    }

    /// <summary>A piece of line without a stationary point, from its two ends: G/(2ikt) + (G/t)′/(4k²t) at each.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private LaneComplex Ends<TWeight>(in EchoView view, in TWeight weight, double low, double high)
        where TWeight : struct, ILineWeight
    {
        LaneBlock block = view.Block;
        const double Inner = 0.97;
        Points points = PointsInT(weight, Vector512.Create(
            low, high, Stationary + (Inner * (low - Stationary)), Stationary + (Inner * (high - Stationary)), low, low, low, low));
        Span<Vector512<double>> g = stackalloc Vector512<double>[4];
        LaneComplex travelLow = TravelTo(block, points, 0), travelHigh = TravelTo(block, points, 1);
        for (int i = 0; i < 4; i++)
        {
            g[i] = IsUsed(i, points) ? G(block, points, i) : Vector512<double>.Zero;
        }

        if (view.Gross is { } gross)
        {
            AddEnds(gross, block, points);
            Span<Vector512<double>> y = stackalloc Vector512<double>[4], z = stackalloc Vector512<double>[4];
            for (int i = 0; i < 4; i++)
            {
                SlopesOf(block, points, i, points.Scale[i], out y[i], out z[i]);
            }

            gross.AddSlopes(
                End(block, points, 1, y[1], y[3], travelHigh) - End(block, points, 0, y[0], y[2], travelLow),
                End(block, points, 1, z[1], z[3], travelHigh) - End(block, points, 0, z[0], z[2], travelLow));
        }

        return End(block, points, 1, g[1], g[3], travelHigh) - End(block, points, 0, g[0], g[2], travelLow);

        bool IsUsed(int i, in Points points) => i < 2 || points.T[i - 2] * points.T[i - 2] * block.SmallestWavenumber < FarEndPhase;
    }

    private static LaneComplex TravelTo(LaneBlock block, in Points points, int at) =>
        LaneMath.PhaseOnce(block.Wavenumbers * (points.RT[at] + points.RR[at]));

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LaneComplex End(
        LaneBlock block, in Points points, int at, Vector512<double> g, Vector512<double> inner, in LaneComplex travel)
    {
        Vector512<double> inverseTwoK = 0.5 * block.InverseWavenumbers;
        double t = points.T[at];
        Vector512<double> h = g * (1 / t);
        Vector512<double> second = Vector512<double>.Zero;
        if (t * t * block.SmallestWavenumber < FarEndPhase)
        {
            double tInner = points.T[at + 2];
            second = (h - (inner * (1 / tInner))) * inverseTwoK * inverseTwoK * (1 / ((t - tInner) * t));
        }

        return travel * new LaneComplex(second, -h * inverseTwoK);
    }

    /// <summary>One end in way (a), what does not depend on G.</summary>
    private readonly struct UniformSide(double t, double tInner, double phase, bool hasSecond, LaneComplex tail, LaneComplex travel)
    {
        internal readonly double T = t;
        internal readonly double TInner = tInner;
        internal readonly double Phase = phase;
        internal readonly bool HasSecond = hasSecond;
        internal readonly LaneComplex Tail = tail;
        internal readonly LaneComplex Travel = travel;
    }

    /// <summary>G and h about the stationary point, for every frequency.</summary>
    private readonly struct Neighbourhood(Vector512<double> g0, Vector512<double> h0, Vector512<double> dh0, LaneComplex a)
    {
        internal readonly Vector512<double> G0 = g0;
        internal readonly Vector512<double> H0 = h0;
        internal readonly Vector512<double> Dh0 = dh0;
        internal readonly LaneComplex A = a;
    }
}
