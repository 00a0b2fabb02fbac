using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Up to sixteen triangles over up to sixteen shared vertices, laid out for one vector instruction per step. Vertices are
/// relative to the centre of the scene, rounded to single precision.
/// </summary>
/// <remarks>
/// <para>
/// The vertices are first sheared so that the ray becomes the third axis (Woop, Benthin, Wald 2013, "Watertight ray/triangle
/// intersection"); then the sign of three plane areas tells whether the ray passes inside. Single precision only proposes:
/// a triangle is proposed unless it is missed by more than a band, which bounds the rounding, and
/// <see cref="Decide"/> settles it in double precision, in the last resort on the original vertices.
/// </para>
/// <para>
/// The bound: with ε = 2⁻²⁴, M the largest coordinate of patch and ray origin together and P the extent of the patch, a
/// sheared coordinate is off by at most 7εM + 2εP, and since the ray passes through the box of the patch the sheared
/// coordinates are at most √2·P; an area, a difference of two products, is off by at most 40εMP + 16εP² ≤ 64εMP + 16εP².
/// </para>
/// </remarks>
[StructLayout(LayoutKind.Sequential, Size = 256)]
internal unsafe struct TrianglePatch
{
    /// <summary>The largest number of triangles, and of vertices.</summary>
    public const int Capacity = 16;

    /// <summary>Bytes from the list of one coordinate to the next.</summary>
    public const int Row = Capacity * sizeof(float);

    private const float Epsilon = 1f / (1 << 24);

    /// <summary>X, then Y, then Z of each vertex. [m]</summary>
    public fixed float Coordinates[3 * Capacity];

    /// <summary>The first, then the second, then the third vertex of each triangle.</summary>
    public fixed byte Corners[3 * Capacity];

    /// <summary>The slot of the first triangle.</summary>
    public int FirstSlot;

    /// <summary>A bit for each triangle.</summary>
    public ushort Used;

    /// <summary>The number of vertices.</summary>
    public ushort VertexCount;

    /// <summary>The part of the error bound that grows with the distance of the ray's origin from the centre. [m]</summary>
    public float BandSlope;

    /// <summary>The part of the error bound that does not depend on the ray. [m²]</summary>
    public float BandStart;

    /// <summary>The outcome of a test in double precision.</summary>
    public enum Verdict
    {
        /// <summary>The ray misses the triangle.</summary>
        Miss,

        /// <summary>The ray passes through the triangle.</summary>
        Hit,

        /// <summary>Only the original vertices can tell.</summary>
        Unclear,
    }

    /// <summary>Sets the error bound.</summary>
    /// <param name="extent">The diagonal of the box around the vertices. [m]</param>
    /// <param name="reach">The largest magnitude of a coordinate of a vertex. [m]</param>
    public void SetBand(float extent, float reach)
    {
        BandSlope = 64 * Epsilon * extent;
        BandStart = BandSlope * (reach + (0.25f * extent));
    }

    /// <summary>Returns the triangles that a ray may pass through, one bit each, and those it surely passes through.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint Propose(byte* patch, in PreparedRay ray, out uint sure)
    {
        Vector512<float> w = Vector512.Load((float*)(patch + ray.RowW)) - Vector512.Create(ray.OriginW);
        Vector512<float> u = Vector512.Load((float*)(patch + ray.RowU)) - Vector512.Create(ray.OriginU);
        Vector512<float> v = Vector512.Load((float*)(patch + ray.RowV)) - Vector512.Create(ray.OriginV);
        u = Vector512.FusedMultiplyAdd(Vector512.Create(ray.ShearU), w, u);
        v = Vector512.FusedMultiplyAdd(Vector512.Create(ray.ShearV), w, v);
        return Propose(patch, u, v, ray.OriginReach, out sure);
    }

    /// <summary>The same for vertices that have been sheared.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static uint Propose(byte* patch, Vector512<float> u, Vector512<float> v, float originReach, out uint sure)
    {

        byte* corners = patch + (3 * Row);
        Vector512<int> a = Widen(corners);
        Vector512<int> b = Widen(corners + Capacity);
        Vector512<int> c = Widen(corners + (2 * Capacity));
        Vector512<float> au = Pick(u, a), av = Pick(v, a);
        Vector512<float> bu = Pick(u, b), bv = Pick(v, b);
        Vector512<float> cu = Pick(u, c), cv = Pick(v, c);
        Vector512<float> bc = Area(bu, bv, cu, cv);
        Vector512<float> ca = Area(cu, cv, au, av);
        Vector512<float> ab = Area(au, av, bu, bv);
        Vector512<float> least = Vector512.MinNative(bc, Vector512.MinNative(ca, ab));
        Vector512<float> most = Vector512.MaxNative(bc, Vector512.MaxNative(ca, ab));

        TrianglePatch* header = (TrianglePatch*)patch;
        Vector512<float> band = Vector512.Create((header->BandSlope * originReach) + header->BandStart);
        Vector512<float> depth = Vector512.MaxNative(least, -most);
        sure = (uint)Vector512.GreaterThanOrEqual(depth, band).ExtractMostSignificantBits();
        return header->Used & (uint)Vector512.GreaterThanOrEqual(depth, -band).ExtractMostSignificantBits();
    }

    /// <summary>Returns the plane of a triangle, from the rounded vertices.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Plane PlaneOf(byte* patch, int lane)
    {
        float* a = (float*)patch + patch[(3 * Row) + lane];
        float* b = (float*)patch + patch[(3 * Row) + Capacity + lane];
        float* c = (float*)patch + patch[(3 * Row) + (2 * Capacity) + lane];
        double ax = a[0], ay = a[Capacity], az = a[2 * Capacity];
        double px = b[0] - ax, py = b[Capacity] - ay, pz = b[2 * Capacity] - az;
        double qx = c[0] - ax, qy = c[Capacity] - ay, qz = c[2 * Capacity] - az;
        return new(ax, ay, az, (py * qz) - (pz * qy), (pz * qx) - (px * qz), (px * qy) - (py * qx));
    }

    /// <summary>Returns the distance to the plane of a triangle, from the rounded vertices. [m]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double DistanceTo(
        byte* patch, int lane, double originX, double originY, double originZ, double directionX, double directionY, double directionZ)
    {
        Plane plane = PlaneOf(patch, lane);
        double height = (plane.NormalX * (plane.X - originX)) + (plane.NormalY * (plane.Y - originY)) + (plane.NormalZ * (plane.Z - originZ));
        return height / ((plane.NormalX * directionX) + (plane.NormalY * directionY) + (plane.NormalZ * directionZ));
    }

    /// <summary>Returns the distance to the plane of a triangle, from the rounded vertices. [m]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double DistanceTo(byte* patch, int lane, in PreparedRay ray) => DistanceTo(
        patch, lane, ray.OriginX, ray.OriginY, ray.OriginZ, ray.DirectionX, ray.DirectionY, ray.DirectionZ);

    /// <summary>Decides from the rounded vertices whether a ray passes through a triangle, if they suffice.</summary>
    /// <remarks>The rounding moves a vertex by ε·reach in each coordinate, hence a volume by at most 4ε·reach·extent.</remarks>
    public static Verdict Decide(byte* patch, int lane, in PreparedRay ray)
    {
        float* a = (float*)patch + patch[(3 * Row) + lane];
        float* b = (float*)patch + patch[(3 * Row) + Capacity + lane];
        float* c = (float*)patch + patch[(3 * Row) + (2 * Capacity) + lane];
        double ax = a[0] - ray.OriginX, ay = a[Capacity] - ray.OriginY, az = a[2 * Capacity] - ray.OriginZ;
        double bx = b[0] - ray.OriginX, by = b[Capacity] - ray.OriginY, bz = b[2 * Capacity] - ray.OriginZ;
        double cx = c[0] - ray.OriginX, cy = c[Capacity] - ray.OriginY, cz = c[2 * Capacity] - ray.OriginZ;
        (double dx, double dy, double dz) = (ray.DirectionX, ray.DirectionY, ray.DirectionZ);
        double ab = (dx * ((ay * bz) - (az * by))) + (dy * ((az * bx) - (ax * bz))) + (dz * ((ax * by) - (ay * bx)));
        double bc = (dx * ((by * cz) - (bz * cy))) + (dy * ((bz * cx) - (bx * cz))) + (dz * ((bx * cy) - (by * cx)));
        double ca = (dx * ((cy * az) - (cz * ay))) + (dy * ((cz * ax) - (cx * az))) + (dz * ((cx * ay) - (cy * ax)));
        TrianglePatch* header = (TrianglePatch*)patch;
        double band = header->BandStart / 8;
        if ((ab > band & bc > band & ca > band) | (ab < -band & bc < -band & ca < -band))
        {
            return Verdict.Hit;
        }

        bool isBelow = ab < -band | bc < -band | ca < -band;
        bool isAbove = ab > band | bc > band | ca > band;
        return isBelow & isAbove ? Verdict.Miss : Verdict.Unclear;
    }

    /// <summary>Returns the area that two vectors span, one way round.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> Area(Vector512<float> pu, Vector512<float> pv, Vector512<float> qu, Vector512<float> qv) =>
        Avx512F.IsSupported
            ? Avx512F.FusedMultiplySubtract(pu, qv, pv * qu)
            : Vector512.FusedMultiplyAdd(pu, qv, -(pv * qu));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<int> Widen(byte* source)
    {
        if (Avx512F.IsSupported)
        {
            return Avx512F.ConvertToVector512Int32(Vector128.Load(source));
        }

        (Vector128<ushort> low, Vector128<ushort> high) = Vector128.Widen(Vector128.Load(source));
        (Vector128<uint> a, Vector128<uint> b) = Vector128.Widen(low);
        (Vector128<uint> c, Vector128<uint> d) = Vector128.Widen(high);
        return Vector512.Create(Vector256.Create(a, b), Vector256.Create(c, d)).AsInt32();
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Pick(Vector512<float> table, Vector512<int> index)
    {
        if (Avx512F.IsSupported)
        {
            return Avx512F.PermuteVar16x32(table, index);
        }

        return Vector512.Create(Pick(table, index.GetLower()), Pick(table, index.GetUpper()));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Pick(Vector512<float> table, Vector256<int> index)
    {
        Vector256<int> within = index & Vector256.Create(7);
        return Vector256.ConditionalSelect(
            Vector256.GreaterThan(index, Vector256.Create(7)).AsSingle(),
            Vector256.Shuffle(table.GetUpper(), within),
            Vector256.Shuffle(table.GetLower(), within));
    }

    /// <summary>A position on the plane of a triangle and its normal, of any length. [m]</summary>
    public readonly record struct Plane(double X, double Y, double Z, double NormalX, double NormalY, double NormalZ);
}
