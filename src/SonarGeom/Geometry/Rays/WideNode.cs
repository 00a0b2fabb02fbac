using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A node of the search tree: the boxes of up to eight children, coordinate by coordinate, and references to them.
/// Boxes are relative to the centre of the scene and a little larger than what they hold. [m]
/// </summary>
[StructLayout(LayoutKind.Sequential, Size = 448)]
internal unsafe struct WideNode
{
    /// <summary>The number of children.</summary>
    public const int Width = 16;

    /// <summary>Bytes from one list of eight coordinates to the next.</summary>
    public const int Row = Width * sizeof(float);

    /// <summary>Low X, high X, low Y, high Y, low Z, high Z of each child; an unused child is inside out.</summary>
    public fixed float Planes[6 * Width];

    /// <summary>The references of the children.</summary>
    public fixed uint Children[Width];
}

/// <summary>
/// Where something lies in the memory of a search tree, in bytes, and what it is: a node, a patch of triangles or one analytic
/// primitive. Everything starts on a cache line, which leaves the low bits free.
/// </summary>
internal static class TreeReference
{
    /// <summary>Set when the reference is not a node.</summary>
    public const uint Leaf = 1;

    /// <summary>Set, with <see cref="Leaf"/>, when the reference is an analytic primitive.</summary>
    public const uint Solid = 2;

    /// <summary>Set, with <see cref="Solid"/>, when the primitive is a sphere, capsule or cylinder.</summary>
    public const uint Round = 8;

    /// <summary>Waits at the bottom of the stack: nothing is left to visit.</summary>
    public const uint End = 7;

    /// <summary>The child of the first node that says that nothing is left to visit.</summary>
    public const int EndLane = 0;

    /// <summary>The child of the first node that is the root.</summary>
    public const int RootLane = 1;

    /// <summary>The part that says where.</summary>
    public const uint Place = ~(CacheLine - 1);

    /// <summary>Bytes in a cache line.</summary>
    public const uint CacheLine = 64;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool IsLeaf(uint reference) => (reference & Leaf) != 0;
}
