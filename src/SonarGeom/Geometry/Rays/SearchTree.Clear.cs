using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <content>Boxes in which there is surely nothing.</content>
internal sealed unsafe partial class SearchTree
{
    /// <summary>Returns whether no box of primitives meets a box: then no ray hits anything in it.</summary>
    /// <param name="low">Its least corner. [m]</param>
    /// <param name="high">Its largest corner. [m]</param>
    [SkipLocalsInit]
    public bool IsClear(Vec3 low, Vec3 high)
    {
        if (_numbers.Length == 0
            || low.X > _bounds.High.X || low.Y > _bounds.High.Y || low.Z > _bounds.High.Z
            || high.X < _bounds.Low.X || high.Y < _bounds.Low.Y || high.Z < _bounds.Low.Z)
        {
            return true;
        }

        // The boxes of the tree are wider than what they hold by more than the rounding here.
        Vec3 from = low - _centre, to = high - _centre;
        Vector512<float> lowX = Vector512.Create((float)from.X), lowY = Vector512.Create((float)from.Y), lowZ = Vector512.Create((float)from.Z);
        Vector512<float> highX = Vector512.Create((float)to.X), highY = Vector512.Create((float)to.Y), highZ = Vector512.Create((float)to.Z);
        WaitingChildren waitingChildren;
        Unsafe.SkipInit(out waitingChildren);
        ulong* bottom = (ulong*)&waitingChildren;
        ulong* top = bottom;
        byte* memory = _memory.Pointer;
        *top++ = _root;
        while (top > bottom)
        {
            uint current = (uint)*--top;
            if (TreeReference.IsLeaf(current))
            {
                GC.KeepAlive(_memory);
                return false;
            }

            float* planes = (float*)(memory + current);
            uint met = (uint)(Vector512.LessThanOrEqual(Vector512.Load(planes), highX)
                & Vector512.GreaterThanOrEqual(Vector512.Load(planes + WideNode.Width), lowX)
                & Vector512.LessThanOrEqual(Vector512.Load(planes + (2 * WideNode.Width)), highY)
                & Vector512.GreaterThanOrEqual(Vector512.Load(planes + (3 * WideNode.Width)), lowY)
                & Vector512.LessThanOrEqual(Vector512.Load(planes + (4 * WideNode.Width)), highZ)
                & Vector512.GreaterThanOrEqual(Vector512.Load(planes + (5 * WideNode.Width)), lowZ)).ExtractMostSignificantBits();
            uint* children = (uint*)(planes + (6 * WideNode.Width));
            for (; met != 0; met &= met - 1)
            {
                *top++ = children[BitOperations.TrailingZeroCount(met)];
            }
        }

        GC.KeepAlive(_memory);
        return true;
    }
}
