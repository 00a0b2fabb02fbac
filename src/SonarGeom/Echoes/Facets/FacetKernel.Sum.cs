using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes.Facets;

/// <summary>Last step of the fast kernel: phases and amplitudes carried from frequency to frequency.</summary>
internal sealed partial class FacetKernel
{
    private void SumChunk(
        int padded, bool isFitted, bool hasExtent, bool isCoarse, in PhasePlan phases, Span<Vector512<float>> real, Span<Vector512<float>> imaginary)
    {
        const int Powers = BeamFit.HighDegree + 1;
        ref float gain = ref MemoryMarshal.GetArrayDataReference(_gain);
        ref float delta = ref MemoryMarshal.GetArrayDataReference(_delta);
        ref float sine1 = ref MemoryMarshal.GetArrayDataReference(_transmitSine);
        ref float sine2 = ref MemoryMarshal.GetArrayDataReference(_receiveSine);
        ref float smear = ref MemoryMarshal.GetArrayDataReference(_smear);
        ref float nodeGains = ref MemoryMarshal.GetArrayDataReference(_nodeGains);
        ref float table = ref MemoryMarshal.GetArrayDataReference(_table);
        ref Vector512<float> re = ref MemoryMarshal.GetReference(real);
        ref Vector512<float> im = ref MemoryMarshal.GetReference(imaginary);
        int degree1 = _transmitFit.Degree;
        int degree2 = _receiveFit.Degree;
        Vector512<float> middle1 = Vector512.Create(_transmitFit.Middle), scale1 = Vector512.Create(_transmitFit.Scale);
        Vector512<float> middle2 = Vector512.Create(_receiveFit.Middle), scale2 = Vector512.Create(_receiveFit.Scale);

        // Phase at the grid's middle f_c: f_c d; then ± steps of (d − reference) step + ¼ turn.
        int count = phases.Count;
        double centreTurns = phases.LowestTurnsPerMetre + (0.5 * (count - 1) * phases.StepTurnsPerMetre);
        Vector512<float> centre = Set(centreTurns);
        Vector512<float> step = Set(phases.StepTurnsPerMetre);
        Vector512<float> reference = Set(phases.Reference);
        Vector512<float> back = Set(-0.5 * (count - 1));
        Vector512<float> backQuarter = Set(Fraction(-0.125 * (count - 1)));
        Vector512<float> lowest = Set(phases.LowestTurnsPerMetre);
        bool isLow = isFitted && degree1 == 4 && degree2 == 4 && !hasExtent;
        Block b0 = default;
        Block b1 = default;
        for (int i = 0; i < padded; i += 2 * Width)
        {
            for (int u = 0; u < 2; u++)
            {
                nuint at = (nuint)(i + (u * Width));
                Vector512<float> g = Vector512.LoadUnsafe(ref gain, at);
                Vector512<float> d = Vector512.LoadUnsafe(ref delta, at);
                Vector512<float> v1 = (Vector512.LoadUnsafe(ref sine1, at) - middle1) * scale1;
                Vector512<float> v2 = (Vector512.LoadUnsafe(ref sine2, at) - middle2) * scale2;
                Vector512<float> node0, node1, node2, node3, node4;
                if (isLow)
                {
                    node0 = Quartic(ref table, 0, v1) * Quartic(ref table, Nodes * Powers, v2);
                    node1 = Quartic(ref table, Powers, v1) * Quartic(ref table, (Nodes + 1) * Powers, v2);
                    node2 = Quartic(ref table, 2 * Powers, v1) * Quartic(ref table, (Nodes + 2) * Powers, v2);
                    node3 = Quartic(ref table, 3 * Powers, v1) * Quartic(ref table, (Nodes + 3) * Powers, v2);
                    node4 = Quartic(ref table, 4 * Powers, v1) * Quartic(ref table, (Nodes + 4) * Powers, v2);
                }
                else
                {
                    Vector512<float> s = hasExtent ? Vector512.LoadUnsafe(ref smear, at) : Vector512<float>.Zero;
                    node0 = Node(ref table, ref nodeGains, 0, at, isFitted, v1, degree1, v2, degree2, s);
                    node1 = Node(ref table, ref nodeGains, 1, at, isFitted, v1, degree1, v2, degree2, s);
                    node2 = Node(ref table, ref nodeGains, 2, at, isFitted, v1, degree1, v2, degree2, s);
                    node3 = Node(ref table, ref nodeGains, 3, at, isFitted, v1, degree1, v2, degree2, s);
                    node4 = Node(ref table, ref nodeGains, 4, at, isFitted, v1, degree1, v2, degree2, s);
                }

                const int Matrix = 2 * Nodes * Powers;
                const int Loss = Matrix + (Nodes * Nodes);
                Vector512<float> gd = g * d;
                node0 *= Fma(gd, Broadcast(ref table, Loss), g);
                node1 *= Fma(gd, Broadcast(ref table, Loss + 1), g);
                node2 *= Fma(gd, Broadcast(ref table, Loss + 2), g);
                node3 *= Fma(gd, Broadcast(ref table, Loss + 3), g);
                node4 *= Fma(gd, Broadcast(ref table, Loss + 4), g);

                ref Block b = ref (u == 0 ? ref b0 : ref b1);
                b.A = Row(ref table, Matrix, node0, node1, node2, node3, node4);
                b.D1 = Row(ref table, Matrix + 5, node0, node1, node2, node3, node4);
                b.D2 = Row(ref table, Matrix + 10, node0, node1, node2, node3, node4);
                b.D3 = Row(ref table, Matrix + 15, node0, node1, node2, node3, node4);
                b.D4 = Row(ref table, Matrix + 20, node0, node1, node2, node3, node4);
                if (isCoarse)
                {
                    // z is the value at the first frequency, w that before it; the turn per step is θ + ¼.
                    Vector512<float> theta = (d - reference) * step;
                    WideTurn(Fma(theta, back, Fma(d, centre, backQuarter)), out Vector512<float> zr, out Vector512<float> zi);
                    NarrowTurn(theta, out Vector512<float> cosine, out Vector512<float> sine);

                    // exp(i(θ + ¼ turn)) = −sin θ + i cos θ; the value before is z times its conjugate.
                    b.Zr = zr;
                    b.Zi = zi;
                    b.Wr = Fma(zi, cosine, -(zr * sine));
                    b.Wi = -Fma(zr, cosine, zi * sine);
                    b.Two = -(sine + sine);
                }
                else
                {
                    WideTurn(d * lowest, out b.Zr, out b.Zi);
                    WideTurn(d * step, out b.Wr, out b.Wi);
                }
            }

            if (isCoarse)
            {
                Recur(b0, b1, count, ref re, ref im);
            }
            else
            {
                Rotate(b0, b1, count, ref re, ref im);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Recur(in Block b0, in Block b1, int count, ref Vector512<float> re, ref Vector512<float> im)
    {
        Vector512<float> a = b0.A, a1 = b0.D1, a2 = b0.D2, a3 = b0.D3, a4 = b0.D4;
        Vector512<float> zr = b0.Zr, zi = b0.Zi, wr = b0.Wr, wi = b0.Wi, two = b0.Two;
        Vector512<float> c = b1.A, c1 = b1.D1, c2 = b1.D2, c3 = b1.D3, c4 = b1.D4;
        Vector512<float> ur = b1.Zr, ui = b1.Zi, vr = b1.Wr, vi = b1.Wi, twice = b1.Two;
        for (int m = 0; m < count; m += 2)
        {
            ref Vector512<float> r0 = ref Unsafe.Add(ref re, m);
            ref Vector512<float> i0 = ref Unsafe.Add(ref im, m);
            r0 = Fma(a, zr, Fma(c, ur, r0));
            i0 = Fma(a, zi, Fma(c, ui, i0));
            wr = Fma(two, zr, -wr);
            wi = Fma(two, zi, -wi);
            vr = Fma(twice, ur, -vr);
            vi = Fma(twice, ui, -vi);
            a += a1;
            a1 += a2;
            a2 += a3;
            a3 += a4;
            c += c1;
            c1 += c2;
            c2 += c3;
            c3 += c4;
            ref Vector512<float> r1 = ref Unsafe.Add(ref re, m + 1);
            ref Vector512<float> i1 = ref Unsafe.Add(ref im, m + 1);
            r1 = Fma(a, wr, Fma(c, vr, r1));
            i1 = Fma(a, wi, Fma(c, vi, i1));
            zr = Fma(two, wr, -zr);
            zi = Fma(two, wi, -zi);
            ur = Fma(twice, vr, -ur);
            ui = Fma(twice, vi, -ui);
            a += a1;
            a1 += a2;
            a2 += a3;
            a3 += a4;
            c += c1;
            c1 += c2;
            c2 += c3;
            c3 += c4;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Rotate(in Block b0, in Block b1, int count, ref Vector512<float> re, ref Vector512<float> im)
    {
        Vector512<float> a = b0.A, a1 = b0.D1, a2 = b0.D2, a3 = b0.D3, a4 = b0.D4;
        Vector512<float> zr = b0.Zr, zi = b0.Zi, wr = b0.Wr, wi = b0.Wi;
        Vector512<float> c = b1.A, c1 = b1.D1, c2 = b1.D2, c3 = b1.D3, c4 = b1.D4;
        Vector512<float> ur = b1.Zr, ui = b1.Zi, vr = b1.Wr, vi = b1.Wi;
        for (int m = 0; m < count; m++)
        {
            ref Vector512<float> r0 = ref Unsafe.Add(ref re, m);
            ref Vector512<float> i0 = ref Unsafe.Add(ref im, m);
            r0 = Fma(a, zr, Fma(c, ur, r0));
            i0 = Fma(a, zi, Fma(c, ui, i0));
            Vector512<float> next = Fma(zr, wr, -(zi * wi));
            zi = Fma(zr, wi, zi * wr);
            zr = next;
            next = Fma(ur, vr, -(ui * vi));
            ui = Fma(ur, vi, ui * vr);
            ur = next;
            a += a1;
            a1 += a2;
            a2 += a3;
            a3 += a4;
            c += c1;
            c1 += c2;
            c2 += c3;
            c3 += c4;
        }
    }

    /// <summary>Sixteen facets: amplitude and its forward differences, phase and its step.</summary>
    private struct Block
    {
        internal Vector512<float> A;
        internal Vector512<float> D1;
        internal Vector512<float> D2;
        internal Vector512<float> D3;
        internal Vector512<float> D4;
        internal Vector512<float> Zr;
        internal Vector512<float> Zi;
        internal Vector512<float> Wr;
        internal Vector512<float> Wi;
        internal Vector512<float> Two;
    }
}
