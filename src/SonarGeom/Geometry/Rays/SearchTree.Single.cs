using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

internal sealed unsafe partial class SearchTree
{
    // Each node on the way down leaves at most all but one of its children waiting.
    private const int StackSize = ((WideNode.Width - 1) * TreeBuilder.DeepestCut) + 1;

    private static Vector256<double> IsEnd => Vector256.Create(0, 0, 0, -1L).AsDouble();

    /// <summary>What a search has found.</summary>
    /// <param name="Slot">The slot of the primitive hit, or -1.</param>
    /// <param name="DistanceMetres">How far along the ray. [m]</param>
    internal readonly record struct Found(int Slot, double DistanceMetres);

    /// <summary>Returns the nearest hit of a ray, or any hit.</summary>
    /// <remarks>The numbers of the ray come one by one so that they travel in registers.</remarks>
    [SkipLocalsInit]
    public Found Search<TGoal>(double ox, double oy, double oz, double dx, double dy, double dz, double near, double far)
        where TGoal : struct, IGoal
    {
        Vector256<double> origin = Vector256.Create(ox, oy, oz, near);
        Vector256<double> direction = Vector256.Create(dx, dy, dz, far);
        Vector256<double> high = Vector256.ConditionalSelect(IsEnd, direction, _mostOrigin);
        Vector256<double> isPlain = Vector256.GreaterThanOrEqual(origin, _leastOrigin) & Vector256.LessThanOrEqual(origin, high)
            & Vector256.LessThanOrEqual(Vector256.Abs(direction), _mostDirection);
        if (isPlain.ExtractMostSignificantBits() != 0xF)
        {
            return SearchFromOutside<TGoal>(new Ray(new Vec3(ox, oy, oz), new Vec3(dx, dy, dz), near, far));
        }

        PreparedRay prepared;
        Unsafe.SkipInit(out prepared);
        prepared.Prepare(_origin, origin, direction);
        if (TGoal.IsAny)
        {
            WalkAny(ref prepared, _root);
        }
        else
        {
            Walk<TGoal>(ref prepared, _root);
        }

        GC.KeepAlive(_memory);
        return new Found(prepared.Slot, prepared.Far);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private Found SearchFromOutside<TGoal>(Ray ray)
        where TGoal : struct, IGoal
    {
        if (!ray.Origin.IsFinite || !ray.UnitDirection.IsFinite)
        {
            throw new ArgumentException($"A ray from {ray.Origin} along {ray.UnitDirection} is not finite.", nameof(ray));
        }

        if (double.IsNaN(ray.NearMetres) || double.IsNaN(ray.FarMetres))
        {
            throw new ArgumentException($"A ray from {ray.NearMetres} m to {ray.FarMetres} m has no extent.", nameof(ray));
        }

        ray = ray with { NearMetres = Math.Max(ray.NearMetres, 0) };
        Vec3 half = 0.5 * (_bounds.High - _bounds.Low);
        Chord chord = _numbers.Length == 0 ? Chord.None
            : new BoxShape(new RigidTransform(Rotation.Identity, _centre), half).ChordOf(ray.Origin, ray.UnitDirection);
        if (!(chord.Enter <= chord.Leave && chord.Leave >= ray.NearMetres && chord.Enter <= ray.FarMetres && ray.NearMetres <= ray.FarMetres))
        {
            return new Found(-1, 0);
        }

        double moved = Math.Max(chord.Enter, 0);
        Vec3 origin = ray.Origin;
        Vec3 direction = ray.UnitDirection;
        PreparedRay prepared = default;
        prepared.Prepare(
            _origin, Vector256.Create(origin.X, origin.Y, origin.Z, Math.Max(ray.NearMetres - moved, 0)),
            Vector256.Create(direction.X, direction.Y, direction.Z, ray.FarMetres - moved), moved);
        Walk<TGoal>(ref prepared, _root);
        GC.KeepAlive(_memory);
        return new Found(prepared.Slot, prepared.Far + moved);
    }

    [SkipLocalsInit]
    private void Walk<TGoal>(ref PreparedRay ray, uint start)
        where TGoal : struct, IGoal
    {
        WaitingChildren waitingChildren;
        Unsafe.SkipInit(out waitingChildren);
        ulong* stack = (ulong*)&waitingChildren;
        stack[0] = ((ulong)BitConverter.SingleToUInt32Bits(float.NegativeInfinity) << 32) | TreeReference.End;
        ulong* top = stack + 1;
        Vector512<float> distanceStore;
        Unsafe.SkipInit(out distanceStore);
        float* distances = (float*)&distanceStore;
        byte* memory = _memory.Pointer;

        uint negative = ray.Negative;
        nint nearX = (nint)(negative & 1) * WideNode.Row;
        nint nearY = ((nint)((negative >> 1) & 1) * WideNode.Row) + (2 * WideNode.Row);
        nint nearZ = ((nint)((negative >> 2) & 1) * WideNode.Row) + (4 * WideNode.Row);
        nint farX = nearX ^ WideNode.Row;
        nint farY = nearY ^ WideNode.Row;
        nint farZ = nearZ ^ WideNode.Row;

        uint current = start;
        while (true)
        {
            while (!TreeReference.IsLeaf(current))
            {
                byte* node = memory + current;
                Vector512<float> enterX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearX)), Vector512.Create(ray.InverseX), Vector512.Create(ray.OffsetX));
                Vector512<float> leaveX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farX)), Vector512.Create(ray.InverseX), Vector512.Create(ray.OffsetX));
                Vector512<float> enterY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearY)), Vector512.Create(ray.InverseY), Vector512.Create(ray.OffsetY));
                Vector512<float> leaveY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farY)), Vector512.Create(ray.InverseY), Vector512.Create(ray.OffsetY));
                Vector512<float> enterZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearZ)), Vector512.Create(ray.InverseZ), Vector512.Create(ray.OffsetZ));
                Vector512<float> leaveZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farZ)), Vector512.Create(ray.InverseZ), Vector512.Create(ray.OffsetZ));
                Vector512<float> enter = Vector512.MaxNative(Vector512.MaxNative(enterX, enterY), Vector512.MaxNative(enterZ, Vector512.Create(ray.Nearest)));
                Vector512<float> leave = Vector512.MinNative(Vector512.MinNative(leaveX, leaveY), Vector512.MinNative(leaveZ, Vector512.Create(ray.Farthest)));
                uint met = (uint)Vector512.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
                if (met == 0)
                {
                    goto next;
                }

                uint* children = (uint*)(node + (6 * WideNode.Row));
                uint first = children[BitOperations.TrailingZeroCount(met)];
                uint rest = met & (met - 1);
                if (rest == 0)
                {
                    current = first;
                    continue;
                }

                enter.Store(distances);
                int secondLane = BitOperations.TrailingZeroCount(rest);
                ulong firstKey = ((ulong)BitConverter.SingleToUInt32Bits(distances[BitOperations.TrailingZeroCount(met)]) << 32) | first;
                ulong secondKey = ((ulong)BitConverter.SingleToUInt32Bits(distances[secondLane]) << 32) | children[secondLane];
                rest &= rest - 1;
                ulong swap = (firstKey ^ secondKey) & (0UL - (firstKey > secondKey ? 1UL : 0UL));
                ulong nearer = firstKey ^ swap;
                *top++ = secondKey ^ swap;
                if (rest == 0)
                {
                    current = (uint)nearer;
                    continue;
                }

                ulong* bottom = top - 1;
                *top = nearer;
                do
                {
                    int lane = BitOperations.TrailingZeroCount(rest);
                    rest &= rest - 1;
                    ulong key = ((ulong)BitConverter.SingleToUInt32Bits(distances[lane]) << 32) | children[lane];
                    ulong* place = ++top;
                    while (place > bottom && place[-1] < key)
                    {
                        *place = place[-1];
                        place--;
                    }

                    *place = key;
                }
                while (rest != 0);
                current = (uint)*top;
            }

            byte* leaf = memory + (current & TreeReference.Place);
            if ((current & TreeReference.Solid) == 0)
            {
                uint possible = TrianglePatch.Propose(leaf, ray, out uint sure);
                while (possible != 0)
                {
                    int lane = BitOperations.TrailingZeroCount(possible);
                    possible &= possible - 1;
                    int slot = ((TrianglePatch*)leaf)->FirstSlot + lane;
                    if (((sure >> lane) & 1) != 0)
                    {
                        double distance = TrianglePatch.DistanceTo(leaf, lane, ray);
                        if (distance < ray.Far & distance >= ray.Near)
                        {
                            ray.Take(slot, distance);
                            continue;
                        }

                        if (distance != ray.Far)
                        {
                            continue;
                        }
                    }

                    TakeUnlessMissed(ref ray, leaf, lane, slot);
                }
            }
            else if (current == TreeReference.End)
            {
                return;
            }
            else
            {
                VisitSolid(ref ray, memory, current);
            }

            if (TGoal.IsAny && ray.Slot >= 0)
            {
                return;
            }

        next:
            float farthest = ray.Farthest;
            do
            {
                current = (uint)*--top;
            }
            while (!TGoal.IsAny && !(((float*)top)[1] <= farthest));
        }
    }

    [SkipLocalsInit]
    private bool WalkAny(ref PreparedRay ray, uint start)
    {
        WaitingChildren waitingChildren;
        Unsafe.SkipInit(out waitingChildren);
        ulong* top = (ulong*)&waitingChildren;
        byte* memory = _memory.Pointer;
        *top++ = 1;

        uint negative = ray.Negative;
        nint nearX = (nint)(negative & 1) * WideNode.Row;
        nint nearY = ((nint)((negative >> 1) & 1) * WideNode.Row) + (2 * WideNode.Row);
        nint nearZ = ((nint)((negative >> 2) & 1) * WideNode.Row) + (4 * WideNode.Row);
        nint farX = nearX ^ WideNode.Row;
        nint farY = nearY ^ WideNode.Row;
        nint farZ = nearZ ^ WideNode.Row;

        uint current = start;
        while (true)
        {
            uint met;
            uint parent;
            if (!TreeReference.IsLeaf(current))
            {
                byte* node = memory + current;
                Vector512<float> enterX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearX)), Vector512.Create(ray.InverseX), Vector512.Create(ray.OffsetX));
                Vector512<float> leaveX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farX)), Vector512.Create(ray.InverseX), Vector512.Create(ray.OffsetX));
                Vector512<float> enterY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearY)), Vector512.Create(ray.InverseY), Vector512.Create(ray.OffsetY));
                Vector512<float> leaveY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farY)), Vector512.Create(ray.InverseY), Vector512.Create(ray.OffsetY));
                Vector512<float> enterZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + nearZ)), Vector512.Create(ray.InverseZ), Vector512.Create(ray.OffsetZ));
                Vector512<float> leaveZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + farZ)), Vector512.Create(ray.InverseZ), Vector512.Create(ray.OffsetZ));
                Vector512<float> enter = Vector512.MaxNative(Vector512.MaxNative(enterX, enterY), Vector512.MaxNative(enterZ, Vector512.Create(ray.Nearest)));
                Vector512<float> leave = Vector512.MinNative(Vector512.MinNative(leaveX, leaveY), Vector512.MinNative(leaveZ, Vector512.Create(ray.Farthest)));
                met = (uint)Vector512.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
                parent = current;
                if (met != 0)
                {
                    goto descend;
                }
            }
            else if ((current & TreeReference.Solid) == 0)
            {
                byte* leaf = memory + (current & TreeReference.Place);
                uint possible = TrianglePatch.Propose(leaf, ray, out uint sure);
                while (possible != 0)
                {
                    int lane = BitOperations.TrailingZeroCount(possible);
                    possible &= possible - 1;
                    int slot = ((TrianglePatch*)leaf)->FirstSlot + lane;
                    if (((sure >> lane) & 1) != 0)
                    {
                        double distance = TrianglePatch.DistanceTo(leaf, lane, ray);
                        if (distance <= ray.Far & distance >= ray.Near)
                        {
                            ray.Take(slot, distance);
                            return true;
                        }
                    }
                    else
                    {
                        TakeUnlessMissed(ref ray, leaf, lane, slot);
                        if (ray.Slot >= 0)
                        {
                            return true;
                        }
                    }
                }
            }
            else if (current == TreeReference.End)
            {
                return false;
            }
            else
            {
                VisitSolid(ref ray, memory, current);
                if (ray.Slot >= 0)
                {
                    return true;
                }
            }

            ulong entry = *--top;
            parent = (uint)(entry >> 32);
            met = (uint)entry;

        descend:
            uint rest = met & (met - 1);
            *top = ((ulong)parent << 32) | rest;
            top += rest != 0 ? 1 : 0;
            current = ((uint*)(memory + parent + (6 * WideNode.Row)))[BitOperations.TrailingZeroCount(met)];
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void VisitSolid(ref PreparedRay ray, byte* memory, uint reference)
    {
        SolidRecord* solid = (SolidRecord*)(memory + (reference & TreeReference.Place));
        TakeIfFirst(ref ray, solid->Slot, solid->FirstFrom(ray, (reference & TreeReference.Round) != 0));
    }

    /// <summary>Settles a triangle that is missed or hit by so little that single precision cannot tell.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void TakeUnlessMissed(ref PreparedRay ray, byte* patch, int lane, int slot)
    {
        switch (TrianglePatch.Decide(patch, lane, ray))
        {
            case TrianglePatch.Verdict.Miss:
                break;
            case TrianglePatch.Verdict.Hit:
                TakeIfFirst(ref ray, slot, TrianglePatch.DistanceTo(patch, lane, ray));
                break;
            default:
                if (_primitives.Intersect(_numbers[slot], ray.InScene()) is double distance)
                {
                    TakeIfFirst(ref ray, slot, distance - ray.Moved);
                }

                break;
        }
    }

    /// <summary>Takes a hit if it is on the ray and nearer than the last, or as near and of a primitive added earlier.</summary>
    private void TakeIfFirst(ref PreparedRay ray, int slot, double distance)
    {
        if (distance <= ray.Far && distance >= ray.Near
            && !(distance == ray.Far && ray.Slot >= 0 && _numbers[slot] > _numbers[ray.Slot]))
        {
            ray.Take(slot, distance);
        }
    }

    /// <summary>Says at compile time whether any hit ends a search.</summary>
    internal interface IGoal
    {
        static abstract bool IsAny { get; }
    }

    internal readonly struct Closest : IGoal
    {
        public static bool IsAny => false;
    }

    internal readonly struct Any : IGoal
    {
        public static bool IsAny => true;
    }

    [InlineArray(StackSize)]
    private struct WaitingChildren
    {
        private ulong _first;
    }
}
