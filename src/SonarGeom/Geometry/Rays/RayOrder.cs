using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// The order in which some rays are searched for: as they come if neighbours travel together, else sorted by class, place of
/// origin and direction. The order decides how fast a search is, never what it finds.
/// </summary>
internal sealed unsafe class RayOrder(RayReader reader)
{
    private const int DirectionBits = 9;
    private const int OriginBits = 3;
    private const int ClassShift = (2 * DirectionBits) + (3 * OriginBits);
    private const int DigitBits = 11;

    // Neighbours travel together while the bits of their keys above these are equal.
    private const int FineBits = (2 * DirectionBits) - 8;
    private const int SampleStep = 256;

    // A ray is fetched this many places before its turn.
    private const int Ahead = 24;

    private readonly RayReader _reader = reader;
    private Ray* _rays;
    private int _first;
    private NativeMemoryBlock? _memory;
    private ulong* _keys;

    /// <summary>Takes the rays from one number up to another, and says whether neighbours in the order travel together.</summary>
    /// <param name="rays">The rays of the caller.</param>
    /// <param name="first">The first to take.</param>
    /// <param name="end">The one after the last.</param>
    /// <param name="isWorthSorting">Whether rays that come in any order are to be sorted.</param>
    public bool Take(Ray* rays, int first, int end, bool isWorthSorting)
    {
        _rays = rays;
        _first = first;
        _keys = null;
        Count = end - first;
        OriginCells cells = OriginCells.Of(rays, first, end, SampleStep);
        int jumps = 0;
        int pairs = 0;
        for (int i = first; i + 1 < end; i += SampleStep)
        {
            jumps += (KeyOf(rays + i, cells) ^ KeyOf(rays + i + 1, cells)) >> FineBits != 0 ? 1 : 0;
            pairs++;
        }

        bool isShuffled = jumps > pairs / 2;
        if (isShuffled && isWorthSorting)
        {
            cells = OriginCells.Of(rays, first, end, 1);
            Sort(cells);
        }

        return isWorthSorting || !isShuffled;
    }

    /// <summary>Gets the number of rays.</summary>
    public int Count { get; private set; }

    /// <summary>Returns the number of the ray at a place in the order, and fetches one that comes later.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int NumberAt(int place)
    {
        int later = Math.Min(place + Ahead, Count - 1);
        if (Sse.IsSupported)
        {
            Sse.Prefetch0(_rays + (_keys == null ? _first + later : (int)(uint)_keys[later]));
        }

        return _keys == null ? _first + place : (int)(uint)_keys[place];
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private uint KeyOf(Ray* ray, in OriginCells cells)
    {
        RayClass kind = _reader.Read(ray, out Vector256<float> row);
        if (kind == RayClass.Special)
        {
            return uint.MaxValue;
        }

        // The slopes against the fastest axis, from 0 to 1: signs are part of the class.
        Vector256<float> magnitude = Vector256.Abs(row);
        float scale = ((1 << DirectionBits) - 1) / magnitude.GetElement(3 + kind.AxisW);
        uint u = (uint)(magnitude.GetElement(3 + kind.AxisU) * scale);
        uint v = (uint)(magnitude.GetElement(3 + kind.AxisV) * scale);
        return ((uint)kind.Code << ClassShift) | (cells.CellOf(ray) << (2 * DirectionBits)) | Spread(u) | (Spread(v) << 1);
    }

    // Puts a zero between every two bits.
    private static uint Spread(uint bits)
    {
        bits = (bits | (bits << 8)) & 0x00FF00FF;
        bits = (bits | (bits << 4)) & 0x0F0F0F0F;
        bits = (bits | (bits << 2)) & 0x33333333;
        return (bits | (bits << 1)) & 0x55555555;
    }

    [SkipLocalsInit]
    private void Sort(in OriginCells cells)
    {
        const int Digits = 1 << DigitBits;
        int* places = stackalloc int[3 * Digits];
        new Span<int>(places, 3 * Digits).Clear();
        long bytes = 2L * Count * sizeof(ulong);
        if (_memory is null || _memory.Bytes < bytes)
        {
            _memory = new NativeMemoryBlock(bytes);
        }

        _keys = (ulong*)_memory.Pointer;
        for (int i = 0; i < Count; i++)
        {
            uint key = KeyOf(_rays + _first + i, cells);
            _keys[i] = ((ulong)key << 32) | (uint)(_first + i);
            places[key & (Digits - 1)]++;
            places[Digits + ((key >> DigitBits) & (Digits - 1))]++;
            places[(2 * Digits) + (key >> (2 * DigitBits))]++;
        }

        ulong* source = _keys;
        ulong* target = _keys + Count;
        for (int pass = 0; pass < 3; pass++)
        {
            int* starts = places + (pass * Digits);
            int sum = 0;
            for (int digit = 0; digit < Digits; digit++)
            {
                (starts[digit], sum) = (sum, sum + starts[digit]);
            }

            int shift = 32 + (pass * DigitBits);
            for (int i = 0; i < Count; i++)
            {
                ulong key = source[i];
                target[starts[(key >> shift) & (Digits - 1)]++] = key;
            }

            ulong* swap = source;
            source = target;
            target = swap;
        }

        _keys = source;
    }

    /// <summary>A grid over the places that rays start from.</summary>
    private readonly struct OriginCells
    {
        private readonly Vector512<double> _start;
        private readonly Vector512<double> _scale;

        private OriginCells(Vector512<double> start, Vector512<double> scale) => (_start, _scale) = (start, scale);

        public static OriginCells Of(Ray* rays, int first, int end, int step)
        {
            Vector512<double> low = Vector512.Create(double.PositiveInfinity);
            Vector512<double> high = -low;
            for (int i = first; i < end; i += step)
            {
                Vector512<double> ray = Vector512.Load((double*)(rays + i));
                low = Vector512.MinNative(low, ray);
                high = Vector512.MaxNative(high, ray);
            }

            return new(low, Vector512.Create((1 << OriginBits) * 0.999) / Vector512.MaxNative(high - low, Vector512.Create(1e-3)));
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public uint CellOf(Ray* ray)
        {
            Vector512<double> place = (Vector512.Load((double*)ray) - _start) * _scale;
            Vector128<int> cell = Vector128.ConvertToInt32Native(Vector128.Narrow(place.GetLower().GetLower(), place.GetLower().GetUpper()))
                & Vector128.Create((1 << OriginBits) - 1);
            return (uint)(cell.ToScalar() | (cell.GetElement(1) << OriginBits) | (cell.GetElement(2) << (2 * OriginBits)));
        }
    }
}
