using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <remarks>
/// Many rays of any direction travel down the tree together: each node is visited once for the list of all rays that meet it.
/// No ray waits for the outcome of another, so that the processor works on several at a time.
/// </remarks>
internal sealed unsafe partial class SearchTree
{
    // So many rays fit into the inner caches.
    private const int MostRaysPerStream = 1024;

    // Room for lists on the way down, in lists of all rays; where it does not suffice, rays go on alone.
    private const int StreamRoom = 24;

    // Lists are written in blocks of so many rays.
    private const int StreamBlock = 32;

    /// <summary>Finds for each ray whether anything lies on it, many at a time.</summary>
    private void SearchStream(Ray* rays, bool* hits, int first, int end, in RayReader reader)
    {
        int capacity = Math.Min(end - first, MostRaysPerStream);
        RayStream stream = new(rays, hits, capacity);
        try
        {
            while (first < end)
            {
                stream.Count = 0;
                for (int next = Math.Min(end, first + capacity); first < next; first++)
                {
                    RayClass kind = reader.Read(rays + first, out Vector256<float> row);
                    if (kind == RayClass.Special)
                    {
                        SearchAlone<Any>(rays, hits, first);
                        continue;
                    }

                    hits[first] = false;
                    stream.Lists[stream.Count] = (ushort)stream.Count;
                    stream.Rays[stream.Count].Fill(first, row, kind.AxisW);
                    stream.Count++;
                }

                if (stream.Count > 0)
                {
                    WalkStream(stream);
                }
            }
        }
        finally
        {
            stream.Free();
        }
    }

    [SkipLocalsInit]
    private void WalkStream(in RayStream stream)
    {
        // The lists lie one on the other, the one to visit next at the top.
        ulong* stack = stackalloc ulong[StackSize];
        ulong* top = stack;
        byte* memory = _memory.Pointer;
        ushort* lists = stream.Lists;
        StreamRay* rays = stream.Rays;
        ushort* numbers = stream.Numbers;
        ushort* masks = (ushort*)stream.Masks;
        int count = stream.Count;
        int used = 0;
        uint current = _root;
        while (true)
        {
            ushort* list = lists + used;
            if (TreeReference.IsLeaf(current))
            {
                VisitLeaf(stream, list, count, current);
            }
            else if (used + (WideNode.Width * count) > stream.Room)
            {
                SearchOneByOne(stream, list, count, current);
            }
            else
            {
                byte* node = memory + current;
                int met = 0;
                uint all = 0;
                for (int i = 0; i < count; i++)
                {
                    uint number = list[i];
                    uint mask = Meet(node, rays + number);
                    numbers[met] = (ushort)number;
                    masks[met] = (ushort)mask;
                    met += mask != 0 ? 1 : 0;
                    all |= mask;
                }

                Vector512<ushort>.Zero.Store(masks + met);
                uint* children = (uint*)(node + (6 * WideNode.Row));
                while (all != 0)
                {
                    int lane = 31 - BitOperations.LeadingZeroCount(all);
                    all ^= 1u << lane;
                    int chosen = Choose(numbers, masks, met, lane, lists + used);
                    *top++ = ((ulong)chosen << 32) | children[lane];
                    used += chosen;
                }
            }

            if (top == stack)
            {
                return;
            }

            ulong entry = *--top;
            current = (uint)entry;
            count = (int)(entry >> 32);
            used -= count;
        }
    }

    /// <summary>Returns which children of a node a ray meets, one bit each.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Meet(byte* node, StreamRay* ray)
    {
        nint x = ray->NearX;
        nint y = ray->NearY;
        nint z = ray->NearZ;
        Vector512<float> inverseX = Vector512.Create(ray->InverseX);
        Vector512<float> inverseY = Vector512.Create(ray->InverseY);
        Vector512<float> inverseZ = Vector512.Create(ray->InverseZ);
        Vector512<float> offsetX = Vector512.Create(ray->OffsetX);
        Vector512<float> offsetY = Vector512.Create(ray->OffsetY);
        Vector512<float> offsetZ = Vector512.Create(ray->OffsetZ);
        Vector512<float> enterX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + x)), inverseX, offsetX);
        Vector512<float> leaveX = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + (x ^ WideNode.Row))), inverseX, offsetX);
        Vector512<float> enterY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + y)), inverseY, offsetY);
        Vector512<float> leaveY = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + (y ^ WideNode.Row))), inverseY, offsetY);
        Vector512<float> enterZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + z)), inverseZ, offsetZ);
        Vector512<float> leaveZ = Vector512.FusedMultiplyAdd(Vector512.Load((float*)(node + (z ^ WideNode.Row))), inverseZ, offsetZ);
        Vector512<float> enter = Vector512.MaxNative(Vector512.MaxNative(enterX, enterY), Vector512.MaxNative(enterZ, Vector512.Create(ray->Nearest)));
        Vector512<float> leave = Vector512.MinNative(Vector512.MinNative(leaveX, leaveY), Vector512.MinNative(leaveZ, Vector512.Create(ray->Farthest)));
        return (uint)Vector512.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
    }

    /// <summary>Lists the numbers whose masks have a bit set, and returns how many they are. Whole blocks are written.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Choose(ushort* numbers, ushort* masks, int count, int bit, ushort* list)
    {
        int chosen = 0;
        if (Avx512Vbmi2.IsSupported)
        {
            Vector512<ushort> wanted = Vector512.Create((ushort)(1 << bit));
            for (int i = 0; i < count; i += StreamBlock)
            {
                Vector512<ushort> isChosen = Vector512.Equals(Vector512.Load(masks + i) & wanted, wanted);
                Avx512Vbmi2.Compress(Vector512<ushort>.Zero, isChosen, Vector512.Load(numbers + i)).Store(list + chosen);
                chosen += BitOperations.PopCount(isChosen.ExtractMostSignificantBits());
            }

            return chosen;
        }

        for (int i = 0; i < count; i++)
        {
            list[chosen] = numbers[i];
            chosen += (masks[i] >> bit) & 1;
        }

        return chosen;
    }

    private void VisitLeaf(in RayStream stream, ushort* list, int count, uint reference)
    {
        StreamRay* rays = stream.Rays;
        byte* leaf = _memory.Pointer + (reference & TreeReference.Place);
        if ((reference & TreeReference.Solid) != 0)
        {
            SolidRecord* solid = (SolidRecord*)leaf;
            for (int i = 0; i < count; i++)
            {
                StreamRay* ray = rays + list[i];
                Ray* source = stream.Source + ray->Number;
                if (ray->Farthest >= 0 && solid->FirstFrom(source->NearMetres, source->Origin, source->UnitDirection) <= source->FarMetres)
                {
                    Take(stream, ray);
                }
            }

            return;
        }

        ushort* numbers = stream.Numbers;
        uint* masks = stream.Masks;
        int met = 0;
        for (int i = 0; i < count; i++)
        {
            StreamRay* ray = rays + list[i];
            Vector512<float> w = Vector512.Load((float*)(leaf + ray->RowW)) - Vector512.Create(ray->OriginW);
            Vector512<float> u = Vector512.Load((float*)(leaf + ray->RowU)) - Vector512.Create(ray->OriginU);
            Vector512<float> v = Vector512.Load((float*)(leaf + ray->RowV)) - Vector512.Create(ray->OriginV);
            u = Vector512.FusedMultiplyAdd(Vector512.Create(ray->ShearU), w, u);
            v = Vector512.FusedMultiplyAdd(Vector512.Create(ray->ShearV), w, v);
            uint possible = TrianglePatch.Propose(leaf, u, v, ray->OriginReach, out uint sure);
            numbers[met] = list[i];
            masks[met] = possible | (sure << 16);
            met += possible != 0 & ray->Farthest >= 0 ? 1 : 0;
        }

        for (int i = 0; i < met; i++)
        {
            uint possible = (ushort)masks[i];
            uint sure = masks[i] >> 16;
            StreamRay* ray = rays + numbers[i];
            Ray* source = stream.Source + ray->Number;
            do
            {
                int lane = BitOperations.TrailingZeroCount(possible);
                possible &= possible - 1;
                if (IsHit(source, leaf, lane, ((sure >> lane) & 1) != 0))
                {
                    Take(stream, ray);
                    break;
                }
            }
            while (possible != 0);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool IsHit(Ray* ray, byte* patch, int lane, bool isSure)
    {
        if (!isSure)
        {
            return IsHitAfterAll(ray, patch, lane);
        }

        double distance = TrianglePatch.DistanceTo(
            patch, lane, ray->Origin.X - _centre.X, ray->Origin.Y - _centre.Y, ray->Origin.Z - _centre.Z,
            ray->UnitDirection.X, ray->UnitDirection.Y, ray->UnitDirection.Z);
        return distance <= ray->FarMetres & distance >= ray->NearMetres;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private bool IsHitAfterAll(Ray* ray, byte* patch, int lane)
    {
        PreparedRay prepared = PreparedOf(ray);
        TakeUnlessMissed(ref prepared, patch, lane, ((TrianglePatch*)patch)->FirstSlot + lane);
        return prepared.Slot >= 0;
    }

    private PreparedRay PreparedOf(Ray* ray)
    {
        PreparedRay prepared = default;
        prepared.Prepare(
            _origin, Vector256.Create(ray->Origin.X, ray->Origin.Y, ray->Origin.Z, ray->NearMetres),
            Vector256.Create(ray->UnitDirection.X, ray->UnitDirection.Y, ray->UnitDirection.Z, ray->FarMetres));
        return prepared;
    }

    private void SearchOneByOne(in RayStream stream, ushort* list, int count, uint start)
    {
        for (int i = 0; i < count; i++)
        {
            StreamRay* ray = stream.Rays + list[i];
            if (ray->Farthest >= 0)
            {
                PreparedRay prepared = PreparedOf(stream.Source + ray->Number);
                if (WalkAny(ref prepared, start))
                {
                    Take(stream, ray);
                }
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Take(in RayStream stream, StreamRay* ray)
    {
        ray->Farthest = -1;
        stream.Hits[ray->Number] = true;
    }

    /// <summary>Rays on their way through the tree, and where lists of them are kept.</summary>
    private struct RayStream
    {
        public readonly Ray* Source;
        public readonly bool* Hits;
        public readonly StreamRay* Rays;

        /// <summary>Lists of rays, one on the other.</summary>
        public readonly ushort* Lists;

        /// <summary>How many numbers the lists have room for.</summary>
        public readonly int Room;

        /// <summary>The rays that meet something at the place visited.</summary>
        public readonly ushort* Numbers;

        /// <summary>What each of them meets.</summary>
        public readonly uint* Masks;

        public int Count;

        public RayStream(Ray* source, bool* hits, int capacity)
        {
            Source = source;
            Hits = hits;
            Room = StreamRoom * capacity;
            int numbers = Room + capacity + (2 * StreamBlock);
            long bytes = (capacity * (long)sizeof(StreamRay)) + (numbers * sizeof(ushort)) + ((capacity + StreamBlock) * sizeof(uint));
            Rays = (StreamRay*)NativeMemory.AlignedAlloc((nuint)bytes, CacheLine);
            Masks = (uint*)(Rays + capacity);
            Numbers = (ushort*)(Masks + capacity + StreamBlock);
            Lists = Numbers + capacity + StreamBlock;
        }

        public readonly void Free() => NativeMemory.AlignedFree(Rays);
    }
}
