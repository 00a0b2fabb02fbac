using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Geometry.Rays;

internal sealed unsafe partial class SearchTree
{
    private const int MostRaysPerChunk = 1 << 15;
    private const int LeastRaysPerChunk = 1 << 12;
    private const int LeastChunks = 16;
    private const int CacheLine = 64;
    private const int MostPackets = 4;
    private const int RaysPerGroup = MostPackets * RayPacket.Width;

    // Sorting shuffled rays costs some 50 ns each. It pays where the search for one takes longer: for the nearest hit in a tree
    // that the inner caches do not hold.
    private const long LeastBytesToSort = 1 << 20;

    // Fewer rays than this are searched for one by one.
    private const int LeastRaysPerGroup = 8;

    // So few rays asked for any hit are searched for one by one: making them ready to travel together would take longer.
    private const int MostLoneAnyRays = 32;

    /// <summary>Finds the nearest hit of each ray.</summary>
    public void SearchAll(ReadOnlySpan<Ray> rays, Span<RayHit?> hits, int threads)
    {
        fixed (Ray* firstRay = rays)
        fixed (void* firstHit = &Unsafe.As<RayHit?, byte>(ref MemoryMarshal.GetReference(hits)))
        {
            SearchChunks<Closest>(firstRay, firstHit, rays.Length, threads);
        }
    }

    /// <summary>Finds for each ray whether anything lies on it.</summary>
    public void SearchAll(ReadOnlySpan<Ray> rays, Span<bool> hits, int threads)
    {
        fixed (Ray* firstRay = rays)
        fixed (bool* firstHit = hits)
        {
            SearchChunks<Any>(firstRay, firstHit, rays.Length, threads);
        }
    }

    private void SearchChunks<TGoal>(Ray* rays, void* hits, int count, int threads)
        where TGoal : struct, IGoal
    {
        if (PrimitiveCount == 0)
        {
            for (int i = 0; i < count; i++)
            {
                Write<TGoal>(hits, i, -1, 0);
            }

            return;
        }

        if (TGoal.IsAny && count <= MostLoneAnyRays)
        {
            for (int i = 0; i < count; i++)
            {
                SearchAlone<TGoal>(rays, hits, i);
            }

            return;
        }

        int size = Math.Clamp(count / LeastChunks, LeastRaysPerChunk, MostRaysPerChunk);
        int chunks = (count + size - 1) / size;
        if (threads == 1 || chunks <= 1)
        {
            RayReader reader = new(_bounds, _centre);
            RayOrder order = new(reader);
            for (int chunk = 0; chunk < chunks; chunk++)
            {
                SearchChunk<TGoal>(rays, hits, chunk * size, Math.Min(count, (chunk + 1) * size), order, reader);
            }
        }
        else
        {
            ShareChunks<TGoal>(rays, hits, count, size, threads);
        }

        GC.KeepAlive(_memory);
    }

    private void ShareChunks<TGoal>(Ray* rays, void* hits, int count, int size, int threads)
        where TGoal : struct, IGoal
    {
        RayReader reader = new(_bounds, _centre);
        ParallelOptions options = new() { MaxDegreeOfParallelism = threads == 0 ? -1 : threads };
        _ = Parallel.For(0, (count + size - 1) / size, options, () => new RayOrder(reader), (chunk, _, order) =>
        {
            SearchChunk<TGoal>(rays, hits, chunk * size, Math.Min(count, (chunk + 1) * size), order, reader);
            return order;
        }, _ => { });
    }

    [SkipLocalsInit]
    private void SearchChunk<TGoal>(Ray* rays, void* hits, int first, int end, RayOrder order, in RayReader reader)
        where TGoal : struct, IGoal
    {
        if (!order.Take(rays, first, end, !TGoal.IsAny && Bytes >= LeastBytesToSort))
        {
            if (TGoal.IsAny)
            {
                SearchStream(rays, (bool*)hits, first, end, reader);
                return;
            }

            for (int i = first; i < end; i++)
            {
                SearchAlone<TGoal>(rays, hits, i);
            }

            return;
        }

        byte* memory = stackalloc byte[(RaysPerGroup * sizeof(PreparedRay)) + ((MostPackets + 1) * sizeof(RayPacket)) + CacheLine];
        RayGroup group = default;
        group.Rays = rays;
        group.Packets = (RayPacket*)(((nint)memory + CacheLine - 1) & ~(CacheLine - 1));
        group.Prepared = (PreparedRay*)(group.Packets + MostPackets + 1);
        int next = 0;
        while (next < order.Count)
        {
            RayPacket* packet = group.Packets + group.PacketCount;
            int count = Math.Min(RayPacket.Width, order.Count - next);
            for (int i = 0; i < RayPacket.Width; i++)
            {
                packet->Numbers[i] = order.NumberAt(i < count ? next + i : next);
            }

            count = packet->Fill(rays, reader, count, out RayClass kind);
            next += count;
            bool isOneMore = group.PacketCount > 0 && kind == group.Kind;
            if (kind == RayClass.Special || (count < LeastRaysPerGroup && !isOneMore))
            {
                for (int i = 0; i < count; i++)
                {
                    SearchAlone<TGoal>(rays, hits, packet->Numbers[i]);
                }

                continue;
            }

            if (group.PacketCount > 0 && !isOneMore)
            {
                SearchGroup<TGoal>(ref group, hits);
                *group.Packets = *packet;
            }

            group.Kind = kind;
            if (++group.PacketCount == MostPackets)
            {
                SearchGroup<TGoal>(ref group, hits);
            }
        }

        if (group.PacketCount > 0)
        {
            SearchGroup<TGoal>(ref group, hits);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void SearchAlone<TGoal>(Ray* rays, void* hits, int number)
        where TGoal : struct, IGoal
    {
        Ray* ray = rays + number;
        Found found = Search<TGoal>(
            ray->Origin.X, ray->Origin.Y, ray->Origin.Z, ray->UnitDirection.X, ray->UnitDirection.Y, ray->UnitDirection.Z,
            ray->NearMetres, ray->FarMetres);
        Write<TGoal>(hits, number, found.Slot, found.DistanceMetres);
    }

    private void SearchGroup<TGoal>(ref RayGroup group, void* hits)
        where TGoal : struct, IGoal
    {
        uint* active = stackalloc uint[MostPackets];
        for (int i = 0; i < group.PacketCount; i++)
        {
            active[i] = group.Packets[i].Active;
        }

        group.IsPrepared = 0;
        WalkGroup<TGoal>(ref group);
        for (int i = 0; i < group.PacketCount; i++)
        {
            RayPacket* packet = group.Packets + i;
            int count = BitOperations.PopCount(active[i]);
            for (int lane = 0; lane < count; lane++)
            {
                Write<TGoal>(hits, packet->Numbers[lane], packet->Slots[lane], packet->Far[lane] + packet->Moved[lane]);
            }
        }

        group.PacketCount = 0;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Write<TGoal>(void* hits, int number, int slot, double distance)
        where TGoal : struct, IGoal
    {
        if (TGoal.IsAny)
        {
            ((bool*)hits)[number] = slot >= 0;
        }
        else
        {
            Unsafe.Add(ref Unsafe.AsRef<RayHit?>(hits), number) = slot < 0 ? null : HitOf(new Found(slot, distance));
        }
    }

    /// <summary>Some packets of rays of one class on their way through the tree.</summary>
    private struct RayGroup
    {
        public Ray* Rays;
        public RayPacket* Packets;
        public PreparedRay* Prepared;
        public int PacketCount;
        public RayClass Kind;

        /// <summary>A bit for each ray that has been prepared to travel alone.</summary>
        public ulong IsPrepared;
    }
}
