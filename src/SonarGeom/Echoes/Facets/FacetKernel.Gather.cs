using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>First step of the fast kernel: facets that are seen, packed, with what the sum needs of each.</summary>
internal sealed partial class FacetKernel
{
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
}
