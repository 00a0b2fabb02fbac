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
/// a triangle is proposed unless it is missed by more than <see cref="Band"/>, which bounds the rounding, and
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
    public uint Used;

    /// <summary>The sum of the three sides of the box around the vertices. [m]</summary>
    public float Extent;

    /// <summary>The largest magnitude of a coordinate. [m]</summary>
    public float Reach;

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

    /// <summary>Returns the bound on the error of an area in single precision. [m²]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static float Band(float extent, float patchReach, float originReach) =>
        extent * ((64 * Epsilon * (patchReach + originReach)) + (16 * Epsilon * extent));

    /// <summary>Returns the triangles that a ray may pass through, one bit each; the low half those it surely passes through.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Propose(byte* patch, in ShearedRay ray, out uint possible, out uint sure)
    {
        Vector512<float> pz = Vector512.Load((float*)(patch + ray.RowZ)) - ray.OriginZ;
        Vector512<float> px = Vector512.Load((float*)(patch + ray.RowX)) - ray.OriginX;
        Vector512<float> py = Vector512.Load((float*)(patch + ray.RowY)) - ray.OriginY;
        px = Vector512.FusedMultiplyAdd(ray.ShearX, pz, px);
        py = Vector512.FusedMultiplyAdd(ray.ShearY, pz, py);

        byte* corners = patch + (3 * Row);
        Vector512<int> a = Widen(corners);
        Vector512<int> b = Widen(corners + Capacity);
        Vector512<int> c = Widen(corners + (2 * Capacity));
        Vector512<float> ax = Pick(px, a), ay = Pick(py, a);
        Vector512<float> bx = Pick(px, b), by = Pick(py, b);
        Vector512<float> cx = Pick(px, c), cy = Pick(py, c);
        Vector512<float> u = Vector512.FusedMultiplyAdd(bx, cy, -(by * cx));
        Vector512<float> v = Vector512.FusedMultiplyAdd(cx, ay, -(cy * ax));
        Vector512<float> w = Vector512.FusedMultiplyAdd(ax, by, -(ay * bx));
        Vector512<float> least = Vector512.MinNative(u, Vector512.MinNative(v, w));
        Vector512<float> most = Vector512.MaxNative(u, Vector512.MaxNative(v, w));

        TrianglePatch* header = (TrianglePatch*)patch;
        Vector512<float> band = Vector512.Create(Band(header->Extent, header->Reach, ray.OriginReach));
        Vector512<float> depth = Vector512.MaxNative(least, -most);
        possible = header->Used & (uint)Vector512.GreaterThanOrEqual(depth, -band).ExtractMostSignificantBits();
        sure = (uint)Vector512.GreaterThanOrEqual(depth, band).ExtractMostSignificantBits();
    }

    /// <summary>
    /// Returns the distance to a triangle that the ray surely passes through, from the rounded vertices. [m]
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double DistanceTo(byte* patch, int lane, Vec3 origin, Vec3 direction)
    {
        (Vec3 a, Vec3 b, Vec3 c) = (Corner(patch, lane, 0), Corner(patch, lane, 1), Corner(patch, lane, 2));
        Vec3 normal = (b - a).Cross(c - a);
        return normal.Dot(a - origin) / normal.Dot(direction);
    }

    /// <summary>Decides from the rounded vertices whether a ray passes through a triangle, if they suffice.</summary>
    /// <remarks>The rounding moves a vertex by ε·reach in each coordinate, hence a volume by at most 4ε·reach·extent.</remarks>
    public static Verdict Decide(byte* patch, int lane, Vec3 origin, Vec3 direction)
    {
        Vec3 a = Corner(patch, lane, 0) - origin;
        Vec3 b = Corner(patch, lane, 1) - origin;
        Vec3 c = Corner(patch, lane, 2) - origin;
        double ab = direction.Dot(a.Cross(b));
        double bc = direction.Dot(b.Cross(c));
        double ca = direction.Dot(c.Cross(a));
        TrianglePatch* header = (TrianglePatch*)patch;
        double band = 8 * Epsilon * (double)header->Reach * header->Extent;
        double depth = Math.Max(Math.Min(ab, Math.Min(bc, ca)), -Math.Max(ab, Math.Max(bc, ca)));
        return depth > band ? Verdict.Hit : depth < -band ? Verdict.Miss : Verdict.Unclear;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vec3 Corner(byte* patch, int lane, int corner)
    {
        float* vertex = (float*)patch + patch[(3 * Row) + (corner * Capacity) + lane];
        return new Vec3(vertex[0], vertex[Capacity], vertex[2 * Capacity]);
    }

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
}
