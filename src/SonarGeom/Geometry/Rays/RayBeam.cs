using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// The ranges of origins, reciprocal directions and ends of a group of rays: enough to tell which boxes none of them meets
/// (interval arithmetic on the slab test).
/// </summary>
[StructLayout(LayoutKind.Sequential)]
internal unsafe struct RayBeam
{
    /// <summary>The greatest origin that a near plane is seen from, by axis: it makes the entry earliest.</summary>
    public fixed float NearOrigins[3];

    /// <summary>The origin that makes the exit latest, by axis.</summary>
    public fixed float FarOrigins[3];

    /// <summary>The least reciprocals.</summary>
    public fixed float LowInverses[3];

    /// <summary>The greatest reciprocals.</summary>
    public fixed float HighInverses[3];

    /// <summary>The nearest near end.</summary>
    public float Nearest;

    /// <summary>Gathers the ranges of some packets.</summary>
    public static RayBeam Around(RayPacket* packets, int count, RayClass kind)
    {
        RayBeam beam = default;
        for (int axis = 0; axis < 3; axis++)
        {
            int row = axis * RayPacket.Width;
            Vector512<float> lowOrigin = Vector512.Create(float.PositiveInfinity);
            Vector512<float> highOrigin = -lowOrigin;
            Vector512<float> lowInverse = lowOrigin;
            Vector512<float> highInverse = highOrigin;
            for (int i = 0; i < count; i++)
            {
                Vector512<float> origin = Vector512.Load(packets[i].Origins + row);
                Vector512<float> inverse = Vector512.Load(packets[i].Inverses + row);
                lowOrigin = Vector512.MinNative(lowOrigin, origin);
                highOrigin = Vector512.MaxNative(highOrigin, origin);
                lowInverse = Vector512.MinNative(lowInverse, inverse);
                highInverse = Vector512.MaxNative(highInverse, inverse);
            }

            (float least, float most) = (Least(lowOrigin), -Least(-highOrigin));
            bool isNegative = kind.IsNegative(axis);
            beam.NearOrigins[axis] = isNegative ? least : most;
            beam.FarOrigins[axis] = isNegative ? most : least;
            beam.LowInverses[axis] = Least(lowInverse);
            beam.HighInverses[axis] = -Least(-highInverse);
        }

        Vector512<float> nearest = Vector512.Create(float.PositiveInfinity);
        for (int i = 0; i < count; i++)
        {
            nearest = Vector512.MinNative(nearest, Vector512.Load(packets[i].Nearest));
        }

        beam.Nearest = Least(nearest);
        return beam;
    }

    /// <summary>Returns where the rays may first pass the near planes of sixteen boxes on one axis.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly Vector512<float> Enter(byte* planes, int axis)
    {
        Vector512<float> gap = Vector512.Load((float*)planes) - Vector512.Create(NearOrigins[axis]);
        return Vector512.MinNative(gap * Vector512.Create(LowInverses[axis]), gap * Vector512.Create(HighInverses[axis]));
    }

    /// <summary>Returns where the rays have passed the far planes of sixteen boxes on one axis.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly Vector512<float> Leave(byte* planes, int axis)
    {
        Vector512<float> gap = Vector512.Load((float*)planes) - Vector512.Create(FarOrigins[axis]);
        return Vector512.MaxNative(gap * Vector512.Create(LowInverses[axis]), gap * Vector512.Create(HighInverses[axis]));
    }

    /// <summary>Returns the least of sixteen numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static float Least(Vector512<float> v)
    {
        Vector256<float> a = Vector256.MinNative(v.GetLower(), v.GetUpper());
        Vector128<float> b = Vector128.MinNative(a.GetLower(), a.GetUpper());
        b = Vector128.MinNative(b, Vector128.Shuffle(b, Vector128.Create(2, 3, 0, 1)));
        b = Vector128.MinNative(b, Vector128.Shuffle(b, Vector128.Create(1, 0, 3, 2)));
        return b.ToScalar();
    }
}
