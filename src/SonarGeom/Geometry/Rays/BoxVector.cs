using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A box in one vector register: the low corner with its sign turned, a spare number, the high corner and a spare number.
/// The larger of two such vectors is the box around both.
/// </summary>
internal static class BoxVector
{
    public static Vector256<float> Empty => Vector256.Create(float.NegativeInfinity);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Around(Vector256<float> a, Vector256<float> b) => Vector256.MaxNative(a, b);

    /// <summary>Returns twice the centre.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<float> DoubleCentre(Vector256<float> box) => box.GetUpper() - box.GetLower();

    /// <summary>Returns half the surface, or 0 for an empty box. [m²]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static float HalfArea(Vector256<float> box)
    {
        Vector128<float> size = Vector128.MaxNative(box.GetUpper() + box.GetLower(), Vector128<float>.Zero);
        Vector128<float> turned = Vector128.Shuffle(size, Vector128.Create(1, 2, 0, 3));
        Vector128<float> product = size * turned;
        return product.GetElement(0) + product.GetElement(1) + product.GetElement(2);
    }
}
