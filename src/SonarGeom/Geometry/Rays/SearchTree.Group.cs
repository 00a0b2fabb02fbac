using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

internal sealed unsafe partial class SearchTree
{
    // So few rays go on alone below a node.
    private const int MostLoneRays = 4;

    [SkipLocalsInit]
    private void WalkGroup<TGoal>(ref RayGroup group)
        where TGoal : struct, IGoal
    {
        Ray* rays = group.Rays;
        RayPacket* packets = group.Packets;
        int packetCount = group.PacketCount;
        RayClass kind = group.Kind;
        uint* alive = stackalloc uint[MostPackets];
        ulong* stack = stackalloc ulong[StackSize + 1];
        float* distances = stackalloc float[WideNode.Width];
        ulong* top = stack;
        *top++ = ((ulong)BitConverter.SingleToUInt32Bits(float.NegativeInfinity) << 32) | TreeReference.EndLane;
        byte* memory = _memory.Pointer;
        RayBeam beam = RayBeam.Around(packets, packetCount, kind);
        float farthest = FarthestOf(packets, packetCount);

        nint nearX = kind.IsNegative(0) ? WideNode.Row : 0;
        nint nearY = (kind.IsNegative(1) ? WideNode.Row : 0) + (2 * WideNode.Row);
        nint nearZ = (kind.IsNegative(2) ? WideNode.Row : 0) + (4 * WideNode.Row);
        nint farX = nearX ^ WideNode.Row;
        nint farY = nearY ^ WideNode.Row;
        nint farZ = nearZ ^ WideNode.Row;

        uint place = TreeReference.RootLane;
        while (true)
        {
            byte* parent = memory + (place & TreeReference.Place);
            int childLane = (int)(place & (WideNode.Width - 1));
            uint current = ((uint*)(parent + (6 * WideNode.Row)))[childLane];
            if (current == TreeReference.End)
            {
                return;
            }

            int shift = childLane * sizeof(float);
            int count = 0;
            for (int i = 0; i < packetCount; i++)
            {
                RayPacket* packet = packets + i;
                alive[i] = packet->Active;
                if (alive[i] != 0)
                {
                    alive[i] &= packet->Meet(
                        parent + nearX + shift, parent + farX + shift, parent + nearY + shift, parent + farY + shift, parent + nearZ + shift, parent + farZ + shift);
                    count += BitOperations.PopCount(alive[i]);
                }
            }

            bool isChanged = false;
            if (count == 0)
            {
            }
            else if (TreeReference.IsLeaf(current))
            {
                for (int i = 0; i < packetCount; i++)
                {
                    if (alive[i] != 0)
                    {
                        isChanged |= VisitLeaf<TGoal>(rays, packets + i, alive[i], memory, current, kind);
                    }
                }
            }
            else if (count <= MostLoneRays)
            {
                for (int i = 0; i < packetCount; i++)
                {
                    while (alive[i] != 0)
                    {
                        int lane = BitOperations.TrailingZeroCount(alive[i]);
                        alive[i] &= alive[i] - 1;
                        isChanged |= WalkAlone<TGoal>(ref group, i, lane, current);
                    }
                }
            }
            else
            {
                byte* node = memory + current;
                Vector512<float> enter = Vector512.MaxNative(
                    Vector512.MaxNative(beam.Enter(node + nearX, 0), beam.Enter(node + nearY, 1)),
                    Vector512.MaxNative(beam.Enter(node + nearZ, 2), Vector512.Create(beam.Nearest)));
                Vector512<float> leave = Vector512.MinNative(
                    Vector512.MinNative(beam.Leave(node + farX, 0), beam.Leave(node + farY, 1)),
                    Vector512.MinNative(beam.Leave(node + farZ, 2), Vector512.Create(farthest)));
                uint met = (uint)Vector512.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
                if (met != 0)
                {
                    enter.Store(distances);
                    ulong* bottom = top;
                    do
                    {
                        int lane = BitOperations.TrailingZeroCount(met);
                        met &= met - 1;
                        ulong key = ((ulong)BitConverter.SingleToUInt32Bits(distances[lane]) << 32) | current | (uint)lane;
                        ulong* position = top++;
                        while (position > bottom && position[-1] < key)
                        {
                            *position = position[-1];
                            position--;
                        }

                        *position = key;
                    }
                    while (met != 0);
                    place = (uint)*--top;
                    continue;
                }
            }

            if (isChanged)
            {
                if (TGoal.IsAny)
                {
                    uint active = 0;
                    for (int i = 0; i < packetCount; i++)
                    {
                        active |= packets[i].Active;
                    }

                    if (active == 0)
                    {
                        return;
                    }
                }
                else
                {
                    farthest = FarthestOf(packets, packetCount);
                }
            }

            do
            {
                place = (uint)*--top;
            }
            while (!(((float*)top)[1] <= farthest));
        }
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool WalkAlone<TGoal>(ref RayGroup group, int packetNumber, int lane, uint start)
        where TGoal : struct, IGoal
    {
        RayPacket* packet = group.Packets + packetNumber;
        int number = (packetNumber * RayPacket.Width) + lane;
        PreparedRay* prepared = group.Prepared + number;
        if (((group.IsPrepared >> number) & 1) == 0)
        {
            group.IsPrepared |= 1UL << number;
            PrepareAlone(out *prepared, group.Rays, packet, lane);
        }

        prepared->Far = packet->Far[lane];
        prepared->Farthest = packet->Farthest[lane];
        prepared->Slot = packet->Slots[lane];
        int before = prepared->Slot;
        if (TGoal.IsAny)
        {
            WalkAny(ref *prepared, start);
        }
        else
        {
            Walk<TGoal>(ref *prepared, start);
        }

        if (prepared->Slot == before)
        {
            return false;
        }

        packet->Far[lane] = prepared->Far;
        packet->Farthest[lane] = prepared->Farthest;
        packet->Slots[lane] = prepared->Slot;
        if (TGoal.IsAny)
        {
            packet->Active &= ~(1u << lane);
        }

        return true;
    }

    private static float FarthestOf(RayPacket* packets, int packetCount)
    {
        Vector512<float> farthest = Vector512<float>.Zero;
        for (int i = 0; i < packetCount; i++)
        {
            farthest = Vector512.MaxNative(farthest, Vector512.Load(packets[i].Farthest));
        }

        return -RayBeam.Least(-farthest);
    }

    [SkipLocalsInit]
    private bool VisitLeaf<TGoal>(Ray* rays, RayPacket* packet, uint alive, byte* memory, uint reference, RayClass kind)
        where TGoal : struct, IGoal
    {
        byte* leaf = memory + (reference & TreeReference.Place);
        bool isChanged = false;
        if ((reference & TreeReference.Solid) != 0)
        {
            SolidRecord* solid = (SolidRecord*)leaf;
            do
            {
                int lane = BitOperations.TrailingZeroCount(alive);
                alive &= alive - 1;
                Ray* ray = rays + packet->Numbers[lane];
                double distance = solid->FirstFrom(packet->Near[lane] + packet->Moved[lane], ray->Origin, ray->UnitDirection);
                isChanged |= Take<TGoal>(packet, lane, solid->Slot, distance - packet->Moved[lane]);
            }
            while (alive != 0);
            return isChanged;
        }

        TrianglePatch* patch = (TrianglePatch*)leaf;
        float* us = stackalloc float[TrianglePatch.Capacity * RayPacket.Width];
        float* vs = stackalloc float[TrianglePatch.Capacity * RayPacket.Width];
        float* patchU = (float*)leaf + (kind.AxisU * TrianglePatch.Capacity);
        float* patchV = (float*)leaf + (kind.AxisV * TrianglePatch.Capacity);
        float* patchW = (float*)leaf + (kind.AxisW * TrianglePatch.Capacity);
        float* originU = packet->Origins + (kind.AxisU * RayPacket.Width);
        float* originV = packet->Origins + (kind.AxisV * RayPacket.Width);
        float* originW = packet->Origins + (kind.AxisW * RayPacket.Width);
        int vertexCount = patch->VertexCount;
        int triangleCount = BitOperations.PopCount((uint)patch->Used);
        if (BitOperations.PopCount(alive) * 6 <= vertexCount + (3 * triangleCount))
        {
            Vector512<float> pu = Vector512.Load(patchU);
            Vector512<float> pv = Vector512.Load(patchV);
            Vector512<float> pw = Vector512.Load(patchW);
            do
            {
                int lane = BitOperations.TrailingZeroCount(alive);
                alive &= alive - 1;
                Vector512<float> w = pw - Vector512.Create(originW[lane]);
                Vector512<float> u = Vector512.FusedMultiplyAdd(Vector512.Create(packet->Shears[lane]), w, pu - Vector512.Create(originU[lane]));
                Vector512<float> v = Vector512.FusedMultiplyAdd(Vector512.Create(packet->Shears[RayPacket.Width + lane]), w, pv - Vector512.Create(originV[lane]));
                uint possible = TrianglePatch.Propose(leaf, u, v, packet->Reaches[lane], out uint sure);
                while (possible != 0)
                {
                    int triangle = BitOperations.TrailingZeroCount(possible);
                    possible &= possible - 1;
                    isChanged |= Settle<TGoal>(rays, packet, lane, patch, triangle, ((sure >> triangle) & 1) != 0);
                }
            }
            while (alive != 0);
            return isChanged;
        }

        Vector512<float> ou = Vector512.Load(originU);
        Vector512<float> ov = Vector512.Load(originV);
        Vector512<float> ow = Vector512.Load(originW);
        Vector512<float> shearU = Vector512.Load(packet->Shears);
        Vector512<float> shearV = Vector512.Load(packet->Shears + RayPacket.Width);
        for (int i = 0; i < vertexCount; i++)
        {
            Vector512<float> w = Vector512.Create(patchW[i]) - ow;
            Vector512.FusedMultiplyAdd(shearU, w, Vector512.Create(patchU[i]) - ou).Store(us + (i * RayPacket.Width));
            Vector512.FusedMultiplyAdd(shearV, w, Vector512.Create(patchV[i]) - ov).Store(vs + (i * RayPacket.Width));
        }

        Vector512<float> band = (Vector512.Create(patch->BandSlope) * Vector512.Load(packet->Reaches)) + Vector512.Create(patch->BandStart);
        for (int i = 0; i < triangleCount; i++)
        {
            int a = patch->Corners[i] * RayPacket.Width;
            int b = patch->Corners[i + TrianglePatch.Capacity] * RayPacket.Width;
            int c = patch->Corners[i + (2 * TrianglePatch.Capacity)] * RayPacket.Width;
            Vector512<float> au = Vector512.Load(us + a), av = Vector512.Load(vs + a);
            Vector512<float> bu = Vector512.Load(us + b), bv = Vector512.Load(vs + b);
            Vector512<float> cu = Vector512.Load(us + c), cv = Vector512.Load(vs + c);
            Vector512<float> bc = TrianglePatch.Area(bu, bv, cu, cv);
            Vector512<float> ca = TrianglePatch.Area(cu, cv, au, av);
            Vector512<float> ab = TrianglePatch.Area(au, av, bu, bv);
            Vector512<float> least = Vector512.MinNative(bc, Vector512.MinNative(ca, ab));
            Vector512<float> most = Vector512.MaxNative(bc, Vector512.MaxNative(ca, ab));
            Vector512<float> depth = Vector512.MaxNative(least, -most);
            uint possible = alive & (uint)Vector512.GreaterThanOrEqual(depth, -band).ExtractMostSignificantBits();
            if (possible == 0)
            {
                continue;
            }

            uint sure = possible & (uint)Vector512.GreaterThanOrEqual(depth, band).ExtractMostSignificantBits();
            if (sure != 0)
            {
                uint taken = packet->TakeNearer(leaf, i, sure, patch->FirstSlot + i, out uint equal);
                isChanged |= taken != 0;
                possible = (possible ^ sure) | equal;
                if (TGoal.IsAny)
                {
                    alive &= ~taken;
                    packet->Active &= ~taken;
                }
            }

            while (possible != 0)
            {
                int lane = BitOperations.TrailingZeroCount(possible);
                possible &= possible - 1;
                if (Settle<TGoal>(rays, packet, lane, patch, i, ((sure >> lane) & 1) != 0))
                {
                    isChanged = true;
                    if (TGoal.IsAny)
                    {
                        alive &= ~(1u << lane);
                    }
                }
            }
        }

        return isChanged;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool Settle<TGoal>(Ray* rays, RayPacket* packet, int lane, TrianglePatch* patch, int triangle, bool isSure)
        where TGoal : struct, IGoal
    {
        int slot = patch->FirstSlot + triangle;
        if (!isSure)
        {
            return SettleUnsure<TGoal>(rays, packet, lane, patch, triangle, slot);
        }

        double* exact = packet->Exact + lane;
        double distance = TrianglePatch.DistanceTo(
            (byte*)patch, triangle, exact[0], exact[RayPacket.Width], exact[2 * RayPacket.Width], exact[3 * RayPacket.Width],
            exact[4 * RayPacket.Width], exact[5 * RayPacket.Width]);
        return Take<TGoal>(packet, lane, slot, distance);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool SettleUnsure<TGoal>(Ray* rays, RayPacket* packet, int lane, TrianglePatch* patch, int triangle, int slot)
        where TGoal : struct, IGoal
    {
        PrepareAlone(out PreparedRay prepared, rays, packet, lane);
        TakeUnlessMissed(ref prepared, (byte*)patch, triangle, slot);
        return prepared.Slot >= 0 && Take<TGoal>(packet, lane, slot, prepared.Far);
    }

    private void PrepareAlone(out PreparedRay prepared, Ray* rays, RayPacket* packet, int lane)
    {
        Ray* ray = rays + packet->Numbers[lane];
        prepared = default;
        prepared.Prepare(
            _origin, Vector256.Create(ray->Origin.X, ray->Origin.Y, ray->Origin.Z, packet->Near[lane]),
            Vector256.Create(ray->UnitDirection.X, ray->UnitDirection.Y, ray->UnitDirection.Z, packet->Far[lane]), packet->Moved[lane]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool Take<TGoal>(RayPacket* packet, int lane, int slot, double distance)
        where TGoal : struct, IGoal
    {
        double far = packet->Far[lane];
        if (!(distance <= far & distance >= packet->Near[lane]))
        {
            return false;
        }

        if (!TGoal.IsAny && distance == far && packet->Slots[lane] >= 0 && _numbers[slot] > _numbers[packet->Slots[lane]])
        {
            return false;
        }

        packet->Far[lane] = distance;
        packet->Farthest[lane] = (float)distance * PreparedRay.Up;
        packet->Slots[lane] = slot;
        if (TGoal.IsAny)
        {
            packet->Active &= ~(1u << lane);
        }

        return true;
    }
}
