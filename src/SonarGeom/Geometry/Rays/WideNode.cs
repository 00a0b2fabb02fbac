using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A node of the search tree: the boxes of up to eight children, coordinate by coordinate, and references to them.
/// Boxes are relative to the centre of the scene and a little larger than what they hold. [m]
/// </summary>
[StructLayout(LayoutKind.Sequential, Size = 256)]
internal unsafe struct WideNode
{
    /// <summary>The number of children.</summary>
    public const int Width = 8;

    /// <summary>Bytes from one list of eight coordinates to the next.</summary>
    public const int Row = Width * sizeof(float);

    /// <summary>Low X, high X, low Y, high Y, low Z, high Z of each child; an unused child is inside out.</summary>
    public fixed float Planes[6 * Width];

    /// <summary>The references of the children.</summary>
    public fixed uint Children[Width];
}

/// <summary>
/// Where something lies in the memory of a search tree, in units of 64 bytes, and what it is: a node, a patch of triangles
/// or one analytic primitive.
/// </summary>
internal static class TreeReference
{
    /// <summary>Set when the reference is not a node.</summary>
    public const uint Leaf = 0x8000_0000;

    /// <summary>Set, with <see cref="Leaf"/>, when the reference is an analytic primitive: the rest is its slot.</summary>
    public const uint Single = 0x4000_0000;

    /// <summary>The part that says where.</summary>
    public const uint Place = 0x3FFF_FFFF;

    /// <summary>Bytes in one unit of place.</summary>
    public const int Unit = 64;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool IsLeaf(uint reference) => (int)reference < 0;
}
