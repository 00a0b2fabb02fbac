using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A ray prepared for patches of triangles: the axis along which it runs fastest is called Z here, and the shear that turns
/// the ray into that axis. Relative to the centre of the scene.
/// </summary>
internal struct ShearedRay
{
    public int RowX;
    public int RowY;
    public int RowZ;
    public float OriginReach;
    public Vector512<float> OriginX;
    public Vector512<float> OriginY;
    public Vector512<float> OriginZ;
    public Vector512<float> ShearX;
    public Vector512<float> ShearY;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static unsafe void Prepare(Vector128<float> origin, Vector128<float> direction, out ShearedRay ray)
    {
        float* o = stackalloc float[4];
        float* d = stackalloc float[4];
        origin.Store(o);
        direction.Store(d);
        (float x, float y, float z) = (MathF.Abs(d[0]), MathF.Abs(d[1]), MathF.Abs(d[2]));
        int fastest = x > y ? (x > z ? 0 : 2) : (y > z ? 1 : 2);
        int next = fastest == 2 ? 0 : fastest + 1;
        int last = next == 2 ? 0 : next + 1;
        float inverse = -1 / d[fastest];
        ray.RowX = next * TrianglePatch.Row;
        ray.RowY = last * TrianglePatch.Row;
        ray.RowZ = fastest * TrianglePatch.Row;
        ray.OriginX = Vector512.Create(o[next]);
        ray.OriginY = Vector512.Create(o[last]);
        ray.OriginZ = Vector512.Create(o[fastest]);
        ray.ShearX = Vector512.Create(d[next] * inverse);
        ray.ShearY = Vector512.Create(d[last] * inverse);
        ray.OriginReach = MathF.Max(MathF.Abs(o[0]), MathF.Max(MathF.Abs(o[1]), MathF.Abs(o[2])));
    }
}
