using System.Runtime.InteropServices;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Counts, for each of 64 cells, in how many of a row of bit sets its bit is set.</summary>
internal static class BitCounts
{
    private const int Planes = 8;
    private const ulong EveryByte = 0x0101010101010101;

    /// <summary>Counts.</summary>
    /// <param name="masks">At most 255 bit sets.</param>
    /// <param name="counts">Receives 64 counts, that of the lowest bit first.</param>
    internal static void Count(ReadOnlySpan<ulong> masks, Span<byte> counts)
    {
        // Binary counters standing on end: bit n of plane i is bit i of the count of cell n.
        Span<ulong> planes = stackalloc ulong[Planes];
        planes.Clear();
        int used = 0;
        foreach (ulong mask in masks)
        {
            ulong carry = mask;
            for (int i = 0; carry != 0; i++)
            {
                (planes[i], carry) = (planes[i] ^ carry, planes[i] & carry);
                used = Math.Max(used, i + 1);
            }
        }

        Span<ulong> eights = MemoryMarshal.Cast<byte, ulong>(counts);
        for (int n = 0; n < eights.Length; n++)
        {
            ulong sum = 0;
            for (int i = 0; i < used; i++)
            {
                sum += Spread((byte)(planes[i] >> (8 * n))) << i;
            }

            eights[n] = sum;
        }
    }

    /// <summary>One byte, 0 or 1, for each bit.</summary>
    private static ulong Spread(byte bits)
    {
        if (Bmi2.X64.IsSupported)
        {
            return Bmi2.X64.ParallelBitDeposit(bits, EveryByte);
        }

        ulong spread = 0;
        for (int i = 0; i < 8; i++)
        {
            spread |= (ulong)((bits >> i) & 1) << (8 * i);
        }

        return spread;
    }
}
