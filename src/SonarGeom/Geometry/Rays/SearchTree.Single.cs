using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

internal sealed unsafe partial class SearchTree
{
    // The builder cuts at most 71 times in a row, and each node on the way leaves at most seven children waiting.
    private const int StackSize = 512;

    // Stands in for a direction component of zero, whose reciprocal would turn products into NaN.
    private const float LeastDirection = 1e-18f;

    /// <summary>What a search has found.</summary>
    /// <param name="Slot">The slot of the primitive hit, or -1.</param>
    /// <param name="DistanceMetres">How far along the ray. [m]</param>
    internal readonly record struct Found(int Slot, double DistanceMetres);

    /// <summary>Returns the nearest hit of a ray, or any hit.</summary>
    [SkipLocalsInit]
    public Found Search<TGoal>(in Ray ray)
        where TGoal : struct, IGoal
    {
        double near = Math.Max(ray.NearMetres, 0);
        double far = ray.FarMetres;
        if (!(near <= far) || _numbers.Length == 0)
        {
            return double.IsNaN(near) || double.IsNaN(far)
                ? throw new ArgumentException($"A ray from {near} m to {far} m has no extent.", nameof(ray))
                : new Found(-1, 0);
        }

        Vec3 origin = ray.Origin - _centre;
        double moved = 0;
        if (!Holds(ray.Origin, ray.UnitDirection))
        {
            if (!EnterBounds(ray, out moved))
            {
                return new Found(-1, 0);
            }

            origin += moved * ray.UnitDirection;
        }

        State state;
        Unsafe.SkipInit(out state);
        state.Ray = ray with { NearMetres = near };
        state.Origin = origin;
        state.Moved = moved;
        state.Near = near - moved;
        state.Far = far - moved;
        state.Slot = -1;
        Walk<TGoal>(ref state);
        GC.KeepAlive(this);
        return new Found(state.Slot, state.Far + moved);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<float> Narrow(Vec3 v) => Vector128.Create((float)v.X, (float)v.Y, (float)v.Z, 0);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool Holds(Vec3 point, Vec3 direction) =>
        point.X >= _bounds.Low.X & point.X <= _bounds.High.X
        & point.Y >= _bounds.Low.Y & point.Y <= _bounds.High.Y
        & point.Z >= _bounds.Low.Z & point.Z <= _bounds.High.Z
        & direction.LengthSquared <= 2;

    private bool EnterBounds(in Ray ray, out double moved)
    {
        if (!ray.Origin.IsFinite || !ray.UnitDirection.IsFinite)
        {
            throw new ArgumentException($"A ray from {ray.Origin} along {ray.UnitDirection} is not finite.", nameof(ray));
        }

        RigidTransform pose = new(Rotation.Identity, _bounds.Centre);
        Vec3 half = 0.5 * (_bounds.High - _bounds.Low);
        Chord chord = new BoxShape(pose, half).ChordOf(ray.Origin, ray.UnitDirection);
        moved = Math.Max(chord.Enter, 0);
        return chord.Enter <= chord.Leave && chord.Leave >= ray.NearMetres && chord.Enter <= ray.FarMetres;
    }

    [SkipLocalsInit]
    private void Walk<TGoal>(ref State state)
        where TGoal : struct, IGoal
    {
        ulong* stack = stackalloc ulong[StackSize];
        float* distances = stackalloc float[WideNode.Width];
        byte* memory = _memory.Pointer;

        Vector128<float> origin = Narrow(state.Origin);
        Vector128<float> direction = Narrow(state.Ray.UnitDirection);
        ShearedRay.Prepare(origin, direction, out ShearedRay sheared);
        Vector128<float> magnitude = Vector128.MaxNative(Vector128.Abs(direction), Vector128.Create(LeastDirection));
        Vector128<float> signs = direction & Vector128.Create(-0f);
        Vector128<float> inverse = Vector128<float>.One / (magnitude | signs);
        Vector128<float> offset = -(origin * inverse);
        Vector256<float> inverseX = Vector256.Create(inverse.GetElement(0));
        Vector256<float> inverseY = Vector256.Create(inverse.GetElement(1));
        Vector256<float> inverseZ = Vector256.Create(inverse.GetElement(2));
        Vector256<float> offsetX = Vector256.Create(offset.GetElement(0));
        Vector256<float> offsetY = Vector256.Create(offset.GetElement(1));
        Vector256<float> offsetZ = Vector256.Create(offset.GetElement(2));
        uint negative = direction.ExtractMostSignificantBits();
        nint nearX = (nint)(negative & 1) * WideNode.Row;
        nint nearY = ((nint)((negative >> 1) & 1) * WideNode.Row) + (2 * WideNode.Row);
        nint nearZ = ((nint)((negative >> 2) & 1) * WideNode.Row) + (4 * WideNode.Row);
        nint farX = nearX ^ WideNode.Row;
        nint farY = nearY ^ WideNode.Row;
        nint farZ = nearZ ^ WideNode.Row;
        Vector256<float> nearest = Vector256.Create(MathF.BitDecrement((float)state.Near));
        nearest = Vector256.MaxNative(nearest, Vector256<float>.Zero);
        Vector256<float> farthest = Vector256.Create(MathF.BitIncrement((float)state.Far));

        int waiting = 0;
        uint current = _root;
        while (true)
        {
            while (!TreeReference.IsLeaf(current))
            {
                byte* node = memory + ((nuint)current * TreeReference.Unit);
                Vector256<float> enterX = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + nearX)), inverseX, offsetX);
                Vector256<float> enterY = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + nearY)), inverseY, offsetY);
                Vector256<float> enterZ = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + nearZ)), inverseZ, offsetZ);
                Vector256<float> leaveX = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + farX)), inverseX, offsetX);
                Vector256<float> leaveY = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + farY)), inverseY, offsetY);
                Vector256<float> leaveZ = Vector256.FusedMultiplyAdd(Vector256.Load((float*)(node + farZ)), inverseZ, offsetZ);
                Vector256<float> enter = Vector256.MaxNative(Vector256.MaxNative(enterX, enterY), Vector256.MaxNative(enterZ, nearest));
                Vector256<float> leave = Vector256.MinNative(Vector256.MinNative(leaveX, leaveY), Vector256.MinNative(leaveZ, farthest));
                uint met = Vector256.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
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
                int firstLane = BitOperations.TrailingZeroCount(met);
                int secondLane = BitOperations.TrailingZeroCount(rest);
                uint second = children[secondLane];
                ulong firstKey = ((ulong)BitConverter.SingleToUInt32Bits(distances[firstLane]) << 32) | first;
                ulong secondKey = ((ulong)BitConverter.SingleToUInt32Bits(distances[secondLane]) << 32) | second;
                rest &= rest - 1;
                if (rest == 0)
                {
                    bool inOrder = firstKey <= secondKey;
                    stack[waiting++] = inOrder ? secondKey : firstKey;
                    current = (uint)(inOrder ? firstKey : secondKey);
                    continue;
                }

                ulong* bottom = stack + waiting;
                ulong* top = bottom + 1;
                bottom[0] = Math.Max(firstKey, secondKey);
                bottom[1] = Math.Min(firstKey, secondKey);
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
                waiting = (int)(top - stack);
            }

            if (VisitLeaf<TGoal>(ref state, sheared, memory, current))
            {
                if (TGoal.IsAny)
                {
                    return;
                }

                farthest = Vector256.Create(MathF.BitIncrement((float)state.Far));
            }

        next:
            do
            {
                if (waiting == 0)
                {
                    return;
                }

                ulong key = stack[--waiting];
                current = (uint)key;
                if (TGoal.IsAny || BitConverter.UInt32BitsToSingle((uint)(key >> 32)) <= farthest.ToScalar())
                {
                    break;
                }
            }
            while (true);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool VisitLeaf<TGoal>(ref State state, in ShearedRay sheared, byte* memory, uint reference)
        where TGoal : struct, IGoal
    {
        byte* leaf = memory + ((nuint)(reference & TreeReference.Place) * TreeReference.Unit);
        if ((reference & TreeReference.Single) != 0)
        {
            SolidRecord* solid = (SolidRecord*)leaf;
            return solid->Intersect(state.Ray) is double distance && Take(ref state, solid->Slot, distance - state.Moved);
        }

        TrianglePatch.Propose(leaf, sheared, out uint possible, out uint sure);
        bool nearer = false;
        while (possible != 0)
        {
            int lane = BitOperations.TrailingZeroCount(possible);
            possible &= possible - 1;
            int slot = ((TrianglePatch*)leaf)->FirstSlot + lane;
            if (((sure >> lane) & 1) != 0)
            {
                nearer |= Take(ref state, slot, TrianglePatch.DistanceTo(leaf, lane, state.Origin, state.Ray.UnitDirection));
            }
            else
            {
                nearer |= TakeUnlessMissed(ref state, leaf, lane, slot);
            }

            if (TGoal.IsAny && nearer)
            {
                return true;
            }
        }

        return nearer;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool TakeUnlessMissed(ref State state, byte* patch, int lane, int slot)
    {
        switch (TrianglePatch.Decide(patch, lane, state.Origin, state.Ray.UnitDirection))
        {
            case TrianglePatch.Verdict.Miss:
                return false;
            case TrianglePatch.Verdict.Hit:
                return Take(ref state, slot, TrianglePatch.DistanceTo(patch, lane, state.Origin, state.Ray.UnitDirection));
            default:
                return _primitives.Intersect(_numbers[slot], state.Ray) is double distance
                    && Take(ref state, slot, distance - state.Moved);
        }
    }

    /// <summary>Takes a hit if it is on the ray and nearer than the last, or as near and of a primitive added earlier.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool Take(ref State state, int slot, double distance)
    {
        if (!(distance <= state.Far && distance >= state.Near)
            || (distance == state.Far && state.Slot >= 0 && _numbers[slot] > _numbers[state.Slot]))
        {
            return false;
        }

        state.Far = distance;
        state.Slot = slot;
        return true;
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

    private struct State
    {
        public Ray Ray;
        public Vec3 Origin;
        public double Moved;
        public double Near;
        public double Far;
        public int Slot;
    }
}
