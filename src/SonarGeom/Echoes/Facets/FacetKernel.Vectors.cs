using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>The loops of the fast kernel.</summary>
internal sealed partial class FacetKernel
{
    // cos 2πt and sin 2πt / t as polynomials in t² for |t| ≤ ½ and for |t| ≤ ¼, from Chebyshev points: errors below 2e-8 and 6e-8.
    private static readonly float[] WideCosine = Fit(t => Math.Cos(2 * Math.PI * t), 0.5, 7);
    private static readonly float[] WideSine = Fit(t => Math.Sin(2 * Math.PI * t) / t, 0.5, 7);
    private static readonly float[] NarrowCosine = Fit(t => Math.Cos(2 * Math.PI * t), 0.25, 5);
    private static readonly float[] NarrowSine = Fit(t => Math.Sin(2 * Math.PI * t) / t, 0.25, 5);

    /// <summary>Packs the facets that both ends see from the front.</summary>
    private int Gather(FacetCloud cloud, int start, int end, FacetSensor sensor, Vec3 middle, float absorption, ref Extremes extremes)
    {
        Vec3 middleLocal = middle - cloud.OriginMetres;
        Vec3 t = middle - sensor.TransmitterMetres;
        Vec3 r = middle - sensor.ReceiverMetres;
        Vec3 axis = sensor.WorldFromSensor.AxisX;
        Vector512<float> mx = Set(middleLocal.X), my = Set(middleLocal.Y), mz = Set(middleLocal.Z);
        Vector512<float> tx = Set(t.X), ty = Set(t.Y), tz = Set(t.Z);
        Vector512<float> rx = Set(r.X), ry = Set(r.Y), rz = Set(r.Z);
        Vector512<float> ax = Set(axis.X), ay = Set(axis.Y), az = Set(axis.Z);
        Vector512<float> length1 = Set(t.Length), length2 = Set(r.Length);
        Vector512<float> loss = Vector512.Create(-absorption);

        // Beams that reach behind the transducer are not cut off at its face.
        Vector512<float> behind1 = Set(Math.Abs(sensor.Transmit.Amplitude(-Vec3.UnitX, 732)) > 0 ? double.NegativeInfinity : 0.0);
        Vector512<float> behind2 = Set(Math.Abs(sensor.Receive.Amplitude(-Vec3.UnitX, 732)) > 0 ? double.NegativeInfinity : 0.0);
        bool hasExtent = cloud.HasExtent;
        _first = start;

        ref float px = ref MemoryMarshal.GetArrayDataReference(cloud.X);
        ref float py = ref MemoryMarshal.GetArrayDataReference(cloud.Y);
        ref float pz = ref MemoryMarshal.GetArrayDataReference(cloud.Z);
        ref float pnx = ref MemoryMarshal.GetArrayDataReference(cloud.NormalX);
        ref float pny = ref MemoryMarshal.GetArrayDataReference(cloud.NormalY);
        ref float pnz = ref MemoryMarshal.GetArrayDataReference(cloud.NormalZ);
        ref float pa = ref MemoryMarshal.GetArrayDataReference(cloud.Area);
        ref float gain = ref MemoryMarshal.GetArrayDataReference(_gain);
        ref float delta = ref MemoryMarshal.GetArrayDataReference(_delta);
        ref float sine1 = ref MemoryMarshal.GetArrayDataReference(_transmitSine);
        ref float sine2 = ref MemoryMarshal.GetArrayDataReference(_receiveSine);
        ref float smear = ref MemoryMarshal.GetArrayDataReference(_smear);
        ref float index = ref MemoryMarshal.GetArrayDataReference(_index);

        Vector512<float> leastDelta = Set(double.PositiveInfinity), greatestDelta = -leastDelta;
        Vector512<float> least1 = leastDelta, greatest1 = greatestDelta, least2 = leastDelta, greatest2 = greatestDelta;
        Vector512<float> one = Vector512<float>.One;
        Vector512<float> half = Vector512.Create(0.5f);
        int n = 0;
        for (int i = start; i < end; i += Width)
        {
            nuint at = (nuint)i;
            Vector512<float> ex = Vector512.LoadUnsafe(ref px, at) - mx;
            Vector512<float> ey = Vector512.LoadUnsafe(ref py, at) - my;
            Vector512<float> ez = Vector512.LoadUnsafe(ref pz, at) - mz;
            Vector512<float> nx = Vector512.LoadUnsafe(ref pnx, at);
            Vector512<float> ny = Vector512.LoadUnsafe(ref pny, at);
            Vector512<float> nz = Vector512.LoadUnsafe(ref pnz, at);
            Vector512<float> dx = ex + tx, dy = ey + ty, dz = ez + tz;
            Vector512<float> gx = ex + rx, gy = ey + ry, gz = ez + rz;
            Vector512<float> n1 = Dot(dx, dy, dz, nx, ny, nz);
            Vector512<float> n2 = Dot(gx, gy, gz, nx, ny, nz);
            Vector512<float> front = Vector512.LessThan(Vector512.MaxNative(n1, n2), Vector512<float>.Zero);
            if (front == Vector512<float>.Zero)
            {
                continue;
            }

            Vector512<float> a1 = Dot(dx, dy, dz, ax, ay, az);
            Vector512<float> a2 = Dot(gx, gy, gz, ax, ay, az);
            front &= Vector512.GreaterThan(a1, behind1) & Vector512.GreaterThan(a2, behind2);
            if (end - i < Width)
            {
                front &= Vector512.LessThan(Vector512.CreateSequence(0.0f, 1.0f), Vector512.Create((float)(end - i)));
            }

            ulong bits = front.ExtractMostSignificantBits();
            if (bits == 0)
            {
                continue;
            }

            Vector512<float> q1 = Dot(dx, dy, dz, dx, dy, dz);
            Vector512<float> q2 = Dot(gx, gy, gz, gx, gy, gz);
            Vector512<float> y1 = InverseRoot(q1);
            Vector512<float> y2 = InverseRoot(q2);
            Vector512<float> ee = Dot(ex, ey, ez, ex, ey, ez);
            Vector512<float> h1 = Dot(ex, ey, ez, tx, ty, tz);
            Vector512<float> h2 = Dot(ex, ey, ez, rx, ry, rz);

            // r − R = (e·e + 2 e·v)/(r + R): the difference keeps its digits.
            Vector512<float> d1 = (ee + h1 + h1) * Inverse(Fma(q1, y1, length1));
            Vector512<float> d2 = (ee + h2 + h2) * Inverse(Fma(q2, y2, length2));
            Vector512<float> d = d1 + d2;
            Vector512<float> c1 = a1 * y1;
            Vector512<float> c2 = a2 * y2;
            Vector512<float> s1 = Vector512.MaxNative(one - (c1 * c1), Vector512<float>.Zero);
            Vector512<float> s2 = Vector512.MaxNative(one - (c2 * c2), Vector512<float>.Zero);
            Vector512<float> obliquity = Fma(n1, y1, n2 * y2);
            Vector512<float> g = -Vector512.LoadUnsafe(ref pa, at) * half * obliquity * (y1 * y2) * SmallExponential(loss * d);

            leastDelta = Vector512.ConditionalSelect(front, Vector512.MinNative(leastDelta, d), leastDelta);
            greatestDelta = Vector512.ConditionalSelect(front, Vector512.MaxNative(greatestDelta, d), greatestDelta);
            least1 = Vector512.ConditionalSelect(front, Vector512.MinNative(least1, s1), least1);
            greatest1 = Vector512.ConditionalSelect(front, Vector512.MaxNative(greatest1, s1), greatest1);
            least2 = Vector512.ConditionalSelect(front, Vector512.MinNative(least2, s2), least2);
            greatest2 = Vector512.ConditionalSelect(front, Vector512.MaxNative(greatest2, s2), greatest2);

            Pack(g, front, ref gain, n);
            Pack(d, front, ref delta, n);
            Pack(s1, front, ref sine1, n);
            Pack(s2, front, ref sine2, n);
            Pack(Vector512.CreateSequence((float)(i - start), 1.0f), front, ref index, n);
            if (hasExtent)
            {
                Pack(Smear(cloud, at, Fma(dx, y1, gx * y2), Fma(dy, y1, gy * y2), Fma(dz, y1, gz * y2)), front, ref smear, n);
            }

            n += BitOperations.PopCount(bits);
        }

        extremes.LeastDelta = Least(leastDelta);
        extremes.GreatestDelta = -Least(-greatestDelta);
        extremes.LeastTransmit = Least(least1);
        extremes.GreatestTransmit = -Least(-greatest1);
        extremes.LeastReceive = Least(least2);
        extremes.GreatestReceive = -Least(-greatest2);
        return n;
    }

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

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Node(
        ref float table, ref float nodeGains, int m, nuint at, bool isFitted, Vector512<float> v1, int degree1, Vector512<float> v2, int degree2, Vector512<float> smear)
    {
        const int Powers = BeamFit.HighDegree + 1;
        Vector512<float> beams = isFitted
            ? Horner(ref table, m * Powers, degree1, v1) * Horner(ref table, (Nodes + m) * Powers, degree2, v2)
            : Vector512.LoadUnsafe(ref nodeGains, (nuint)(m * Room) + at);

        // exp(−k²M/2) for a facet that the phase crosses with variance k²M.
        return beams * Exponential(smear * Broadcast(ref table, (2 * Nodes * Powers) + (Nodes * Nodes) + Nodes + m));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Quartic(ref float table, int row, Vector512<float> v)
    {
        Vector512<float> p = Fma(v, Broadcast(ref table, row + 4), Broadcast(ref table, row + 3));
        p = Fma(p, v, Broadcast(ref table, row + 2));
        p = Fma(p, v, Broadcast(ref table, row + 1));
        return Fma(p, v, Broadcast(ref table, row));
    }

    private static Vector512<float> Horner(ref float table, int row, int degree, Vector512<float> v)
    {
        Vector512<float> p = Broadcast(ref table, row + degree);
        for (int e = degree - 1; e >= 0; e--)
        {
            p = Fma(p, v, Broadcast(ref table, row + e));
        }

        return p;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Row(
        ref float table, int row, Vector512<float> n0, Vector512<float> n1, Vector512<float> n2, Vector512<float> n3, Vector512<float> n4)
    {
        Vector512<float> sum = n0 * Broadcast(ref table, row);
        sum = Fma(n1, Broadcast(ref table, row + 1), sum);
        sum = Fma(n2, Broadcast(ref table, row + 2), sum);
        sum = Fma(n3, Broadcast(ref table, row + 3), sum);
        return Fma(n4, Broadcast(ref table, row + 4), sum);
    }

    private static Vector512<float> Smear(FacetCloud cloud, nuint at, Vector512<float> x, Vector512<float> y, Vector512<float> z)
    {
        float[][] e = cloud.Extents;
        Vector512<float> p = Dot(
            x, y, z, Vector512.LoadUnsafe(ref e[0][0], at), Vector512.LoadUnsafe(ref e[1][0], at), Vector512.LoadUnsafe(ref e[2][0], at));
        Vector512<float> r = Dot(
            x, y, z, Vector512.LoadUnsafe(ref e[3][0], at), Vector512.LoadUnsafe(ref e[4][0], at), Vector512.LoadUnsafe(ref e[5][0], at));
        return Fma(p, p, r * r);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void WideTurn(Vector512<float> turns, out Vector512<float> cosine, out Vector512<float> sine)
    {
        Vector512<float> t = turns - Vector512.Round(turns);
        Vector512<float> q = t * t;
        ref float c = ref MemoryMarshal.GetArrayDataReference(WideCosine);
        ref float s = ref MemoryMarshal.GetArrayDataReference(WideSine);
        Vector512<float> p = Broadcast(ref c, 6);
        Vector512<float> o = Broadcast(ref s, 6);
        for (int i = 5; i >= 0; i--)
        {
            p = Fma(p, q, Broadcast(ref c, i));
            o = Fma(o, q, Broadcast(ref s, i));
        }

        cosine = p;
        sine = o * t;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void NarrowTurn(Vector512<float> t, out Vector512<float> cosine, out Vector512<float> sine)
    {
        Vector512<float> q = t * t;
        ref float c = ref MemoryMarshal.GetArrayDataReference(NarrowCosine);
        ref float s = ref MemoryMarshal.GetArrayDataReference(NarrowSine);
        Vector512<float> p = Broadcast(ref c, 4);
        Vector512<float> o = Broadcast(ref s, 4);
        for (int i = 3; i >= 0; i--)
        {
            p = Fma(p, q, Broadcast(ref c, i));
            o = Fma(o, q, Broadcast(ref s, i));
        }

        cosine = p;
        sine = o * t;
    }

    /// <summary>exp x for |x| up to a few tenths: the paths of a chunk differ by decimetres. Error below 3e-7 for |x| ≤ 0.3.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> SmallExponential(Vector512<float> x)
    {
        Vector512<float> p = Fma(x, Vector512.Create(1.0f / 120), Vector512.Create(1.0f / 24));
        p = Fma(p, x, Vector512.Create(1.0f / 6));
        p = Fma(p, x, Vector512.Create(0.5f));
        p = Fma(p, x, Vector512<float>.One);
        return Fma(p, x, Vector512<float>.One);
    }

    private static Vector512<float> Exponential(Vector512<float> x) => Vector512.Exp(x);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> InverseRoot(Vector512<float> x)
    {
        if (Avx512F.IsSupported)
        {
            Vector512<float> y = Avx512F.ReciprocalSqrt14(x);
            Vector512<float> h = x * y * Vector512.Create(-0.5f);
            return y * Fma(h, y, Vector512.Create(1.5f));
        }

        return Vector512<float>.One / Vector512.Sqrt(x);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Inverse(Vector512<float> x)
    {
        if (Avx512F.IsSupported)
        {
            Vector512<float> y = Avx512F.Reciprocal14(x);
            return Fma(y, Fma(-x, y, Vector512<float>.One), y);
        }

        return Vector512<float>.One / x;
    }

    /// <summary>Writes the chosen lanes side by side; a whole vector is written, of which the next overwrites the rest.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Pack(Vector512<float> values, Vector512<float> mask, ref float to, int index)
    {
        if (Avx512F.IsSupported)
        {
            Avx512F.Compress(Vector512<float>.Zero, mask, values).StoreUnsafe(ref to, (nuint)index);
            return;
        }

        for (int lane = 0; lane < Width; lane++)
        {
            if (BitConverter.SingleToInt32Bits(mask[lane]) != 0)
            {
                Unsafe.Add(ref to, index++) = values[lane];
            }
        }
    }

    private static float Least(Vector512<float> values)
    {
        float least = values[0];
        for (int lane = 1; lane < Width; lane++)
        {
            least = Math.Min(least, values[lane]);
        }

        return least;
    }

    private static double Fraction(double turns) => turns - Math.Floor(turns);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Fma(Vector512<float> a, Vector512<float> b, Vector512<float> c) => Vector512.FusedMultiplyAdd(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Dot(
        Vector512<float> ax, Vector512<float> ay, Vector512<float> az, Vector512<float> bx, Vector512<float> by, Vector512<float> bz) =>
        Fma(ax, bx, Fma(ay, by, az * bz));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Set(double value) => Vector512.Create((float)value);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Broadcast(ref float table, int index) => Vector512.Create(Unsafe.Add(ref table, index));

    /// <summary>Fits an even function by a polynomial in t², through Chebyshev points of t² from 0 to the square of the reach.</summary>
    private static float[] Fit(Func<double, double> function, double reach, int terms)
    {
        var polynomial = new double[terms];
        var coefficients = new double[terms];
        for (int i = 0; i < terms; i++)
        {
            Array.Clear(polynomial);
            polynomial[0] = 1.0;
            double denominator = 1.0;
            int degree = 0;
            for (int other = 0; other < terms; other++)
            {
                if (other != i)
                {
                    double root = Point(other);
                    denominator *= Point(i) - root;
                    degree++;
                    for (int e = degree; e >= 0; e--)
                    {
                        polynomial[e] = (e > 0 ? polynomial[e - 1] : 0.0) - (root * polynomial[e]);
                    }
                }
            }

            double value = function(Math.Sqrt(Point(i))) / denominator;
            for (int e = 0; e < terms; e++)
            {
                coefficients[e] += polynomial[e] * value;
            }
        }

        return [.. coefficients.Select(c => (float)c)];

        double Point(int i) => 0.5 * reach * reach * (1.0 - Math.Cos(Math.PI * (i + 0.5) / terms));
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
