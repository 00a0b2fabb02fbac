using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Sixteen rays side by side, whose directions have the same signs and run fastest along the same axis, and their best hits so
/// far. Positions are relative to the centre of the scene. Unused places repeat the first ray.
/// </summary>
[StructLayout(LayoutKind.Sequential, Size = 35 * 64)]
internal unsafe struct RayPacket
{
    /// <summary>The number of rays.</summary>
    public const int Width = 16;

    private const int Half = Width / 2;
    private const uint AllOfHalf = (1 << Half) - 1;

    /// <summary>X, Y and Z of the origins.</summary>
    public fixed float Origins[3 * Width];

    /// <summary>The reciprocals of the directions.</summary>
    public fixed float Inverses[3 * Width];

    /// <summary>Minus the origins times the reciprocals.</summary>
    public fixed float Offsets[3 * Width];

    /// <summary>The shears that turn the rays into the axis W.</summary>
    public fixed float Shears[2 * Width];

    /// <summary>The largest magnitude of a coordinate of each origin.</summary>
    public fixed float Reaches[Width];

    /// <summary>How far the origins have been moved along the rays to where they enter the box around the scene. [m]</summary>
    public fixed double Moved[Width];

    /// <summary>X, Y and Z of the origins, then of the directions, in double precision.</summary>
    public fixed double Exact[6 * Width];

    /// <summary>Near ends, rounded down.</summary>
    public fixed float Nearest[Width];

    /// <summary>Far ends, rounded up.</summary>
    public fixed float Farthest[Width];

    /// <summary>Near ends. [m]</summary>
    public fixed double Near[Width];

    /// <summary>Far ends: the distances of the best hits. [m]</summary>
    public fixed double Far[Width];

    /// <summary>The slots of the best hits, or -1.</summary>
    public fixed int Slots[Width];

    /// <summary>Which rays of the caller these are.</summary>
    public fixed int Numbers[Width];

    /// <summary>A bit for each ray that is still searched for.</summary>
    public uint Active;

    /// <summary>Fills the packet with rays, as many of the first ones as are of one class.</summary>
    /// <param name="rays">The rays of the caller; <see cref="Numbers"/> says which of them to take.</param>
    /// <param name="reader">What is known of the scene.</param>
    /// <param name="count">How many there are.</param>
    /// <param name="kind">Their class; if it is special, the packet is not filled.</param>
    /// <returns>How many of them are of that class.</returns>
    public int Fill(Ray* rays, in RayReader reader, int count, out RayClass kind)
    {
        int taken = Load(rays, reader, count, out kind);
        if (taken < Width && kind != RayClass.Special)
        {
            for (int i = taken; i < Width; i++)
            {
                Numbers[i] = Numbers[0];
            }

            _ = Load(rays, reader, 1, out _);
            Active = (uint)((1 << taken) - 1);
        }

        return taken;
    }

    [SkipLocalsInit]
    private int Load(Ray* rays, in RayReader reader, int count, out RayClass kind)
    {
        uint isPlain = LoadHalf(rays, reader, 0, out EightRays low, out uint isLowInside)
            | (LoadHalf(rays, reader, Half, out EightRays high, out uint isHighInside) << Half);
        Vector512<float> x = Vector512.Create(low.DirectionX, high.DirectionX);
        Vector512<float> y = Vector512.Create(low.DirectionY, high.DirectionY);
        Vector512<float> z = Vector512.Create(low.DirectionZ, high.DirectionZ);
        Vector512<float> sizeX = Vector512.Abs(x), sizeY = Vector512.Abs(y), sizeZ = Vector512.Abs(z);
        uint isXFastest = Bits(Vector512.GreaterThan(sizeX, sizeY)) & ~Bits(Vector512.GreaterThan(sizeZ, sizeX));
        uint isYFastest = Bits(Vector512.GreaterThan(sizeY, sizeZ)) & ~Bits(Vector512.GreaterThan(sizeX, sizeY));
        uint negativeX = Bits(x), negativeY = Bits(y), negativeZ = Bits(z);
        if ((isPlain & 1) == 0)
        {
            kind = RayClass.Special;
            return 1;
        }

        int axisW = (isXFastest & 1) != 0 ? 0 : (isYFastest & 1) != 0 ? 1 : 2;
        kind = new RayClass((byte)((negativeX & 1) | ((negativeY & 1) << 1) | ((negativeZ & 1) << 2) | ((uint)axisW << 3)));
        uint differs = ~isPlain | Differs(isXFastest) | Differs(isYFastest) | Differs(negativeX) | Differs(negativeY) | Differs(negativeZ);
        int same = Math.Min(count, System.Numerics.BitOperations.TrailingZeroCount(differs | (1u << Width)));
        Active = (uint)((1 << same) - 1);
        if (same < Width && count > 1)
        {
            return same;
        }

        Vector512<float> inverseX = Inverse(x), inverseY = Inverse(y), inverseZ = Inverse(z);
        Vector512<float> originX = Vector512.Create(low.OriginX, high.OriginX);
        Vector512<float> originY = Vector512.Create(low.OriginY, high.OriginY);
        Vector512<float> originZ = Vector512.Create(low.OriginZ, high.OriginZ);
        originX.StoreUnsafe(ref Origins[0]);
        originY.StoreUnsafe(ref Origins[Width]);
        originZ.StoreUnsafe(ref Origins[2 * Width]);
        inverseX.StoreUnsafe(ref Inverses[0]);
        inverseY.StoreUnsafe(ref Inverses[Width]);
        inverseZ.StoreUnsafe(ref Inverses[2 * Width]);
        (-(originX * inverseX)).StoreUnsafe(ref Offsets[0]);
        (-(originY * inverseY)).StoreUnsafe(ref Offsets[Width]);
        (-(originZ * inverseZ)).StoreUnsafe(ref Offsets[2 * Width]);
        Vector512.MaxNative(Vector512.Abs(originX), Vector512.MaxNative(Vector512.Abs(originY), Vector512.Abs(originZ))).StoreUnsafe(ref Reaches[0]);
        (Vector512.Create(low.Near, high.Near) * PreparedRay.Down).StoreUnsafe(ref Nearest[0]);
        (Vector512.Create(low.Far, high.Far) * PreparedRay.Up).StoreUnsafe(ref Farthest[0]);
        (Vector512<float> u, Vector512<float> v, Vector512<float> inverseW) = axisW switch
        {
            0 => (y, z, inverseX),
            1 => (z, x, inverseY),
            _ => (x, y, inverseZ),
        };
        (-(u * inverseW)).StoreUnsafe(ref Shears[0]);
        (-(v * inverseW)).StoreUnsafe(ref Shears[Width]);
        Vector512<int>.AllBitsSet.StoreUnsafe(ref Slots[0]);
        Vector512<double>.Zero.StoreUnsafe(ref Moved[0]);
        Vector512<double>.Zero.StoreUnsafe(ref Moved[Half]);
        if ((isLowInside & isHighInside) != AllOfHalf)
        {
            Enter(reader, 0, isLowInside);
            Enter(reader, Half, isHighInside);
        }

        return same;
    }

    // Reads eight rays, keeps their numbers in double precision and rounds them; returns which of them get the plain treatment.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private uint LoadHalf(Ray* rays, in RayReader reader, int first, out EightRays rounded, out uint isInside)
    {
        Vector512<double> originX = Row(rays, first), originY = Row(rays, first + 1), originZ = Row(rays, first + 2), x = Row(rays, first + 3);
        Vector512<double> y = Row(rays, first + 4), z = Row(rays, first + 5), near = Row(rays, first + 6), far = Row(rays, first + 7);
        Transpose(ref originX, ref originY, ref originZ, ref x, ref y, ref z, ref near, ref far);
        uint isPlain = RayReader.IsPlain(x, y, z, near, far);
        isInside = reader.IsInside(originX, originY, originZ);
        originX -= Vector512.Create(reader.Centre.X);
        originY -= Vector512.Create(reader.Centre.Y);
        originZ -= Vector512.Create(reader.Centre.Z);
        originX.StoreUnsafe(ref Exact[first]);
        originY.StoreUnsafe(ref Exact[first + Width]);
        originZ.StoreUnsafe(ref Exact[first + (2 * Width)]);
        x.StoreUnsafe(ref Exact[first + (3 * Width)]);
        y.StoreUnsafe(ref Exact[first + (4 * Width)]);
        z.StoreUnsafe(ref Exact[first + (5 * Width)]);
        near.StoreUnsafe(ref Near[first]);
        far.StoreUnsafe(ref Far[first]);
        rounded = new(Round(originX), Round(originY), Round(originZ), Round(x), Round(y), Round(z), Round(near), Round(far));
        return isPlain;
    }

    // Moves the origins of eight rays, those outside the box around the scene, to where they enter it.
    private void Enter(in RayReader reader, int first, uint isInside)
    {
        ref double exact = ref Exact[first];
        RayReader.Eight rays = new(Eight(ref exact, 0), Eight(ref exact, 1), Eight(ref exact, 2), Eight(ref Near[first], 0), Eight(ref Far[first], 0));
        reader.Enter(ref rays, Eight(ref exact, 3), Eight(ref exact, 4), Eight(ref exact, 5), isInside).StoreUnsafe(ref Moved[first]);
        rays.X.StoreUnsafe(ref exact);
        rays.Y.StoreUnsafe(ref exact, Width);
        rays.Z.StoreUnsafe(ref exact, 2 * Width);
        rays.Near.StoreUnsafe(ref Near[first]);
        rays.Far.StoreUnsafe(ref Far[first]);
        Vector256<float> x = Round(rays.X), y = Round(rays.Y), z = Round(rays.Z);
        Place(x, first);
        Place(y, first + Width);
        Place(z, first + (2 * Width));
        Vector256.MaxNative(Vector256.Abs(x), Vector256.MaxNative(Vector256.Abs(y), Vector256.Abs(z))).StoreUnsafe(ref Reaches[first]);
        (Round(rays.Near) * PreparedRay.Down).StoreUnsafe(ref Nearest[first]);
        (Round(rays.Far) * PreparedRay.Up).StoreUnsafe(ref Farthest[first]);
    }

    private void Place(Vector256<float> origin, int index)
    {
        origin.StoreUnsafe(ref Origins[index]);
        (-(origin * Vector256.LoadUnsafe(ref Inverses[index]))).StoreUnsafe(ref Offsets[index]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private readonly Vector512<double> Row(Ray* rays, int lane) => Vector512.Load((double*)(rays + Numbers[lane]));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Round(Vector512<double> v) =>
        Avx512F.IsSupported ? Avx512F.ConvertToVector256Single(v) : Vector256.Narrow(v.GetLower(), v.GetUpper());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Inverse(Vector512<float> direction) => Vector512<float>.One
        / (Vector512.MaxNative(Vector512.Abs(direction), Vector512.Create(PreparedRay.LeastDirection)) | (direction & Vector512.Create(-0f)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Bits(Vector512<float> mask) => (uint)mask.ExtractMostSignificantBits();

    // The rays for which a bit is not what it is for the first.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Differs(uint bits) => bits ^ (0u - (bits & 1));

    /// <summary>Returns the rays that meet one box, one bit each, from its planes on each axis.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public uint Meet(byte* nearX, byte* farX, byte* nearY, byte* farY, byte* nearZ, byte* farZ)
    {
        Vector512<float> enter = Vector512.MaxNative(
            Vector512.MaxNative(Pass(nearX, 0), Pass(nearY, 1)), Vector512.MaxNative(Pass(nearZ, 2), Row(ref Nearest[0])));
        Vector512<float> leave = Vector512.MinNative(
            Vector512.MinNative(Pass(farX, 0), Pass(farY, 1)), Vector512.MinNative(Pass(farZ, 2), Row(ref Farthest[0])));
        return (uint)Vector512.LessThanOrEqual(enter, leave).ExtractMostSignificantBits();
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector512<float> Pass(byte* plane, int axis) => Vector512.FusedMultiplyAdd(
        Vector512.Create(*(float*)plane), Row(ref Inverses[axis * Width]), Row(ref Offsets[axis * Width]));

    /// <summary>
    /// Gives the rays of a mask that surely pass through a triangle their distance to its plane, where it lies on the ray and
    /// nearer than the last hit.
    /// </summary>
    /// <param name="patch">The patch.</param>
    /// <param name="triangle">Its triangle.</param>
    /// <param name="lanes">The rays.</param>
    /// <param name="slot">The slot of the triangle.</param>
    /// <param name="equal">The rays for which the triangle lies exactly as far as the last hit; they are left as they are.</param>
    /// <returns>The rays that took the hit.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public uint TakeNearer(byte* patch, int triangle, uint lanes, int slot, out uint equal)
    {
        TrianglePatch.Plane plane = TrianglePatch.PlaneOf(patch, triangle);
        uint taken = 0;
        equal = 0;
        for (int first = 0; first < Width; first += 8)
        {
            uint wanted = (lanes >> first) & 0xFF;
            if (wanted == 0)
            {
                continue;
            }

            ref double exact = ref Exact[first];
            Vector512<double> height = (plane.NormalX * (Vector512.Create(plane.X) - Eight(ref exact, 0)))
                + (plane.NormalY * (Vector512.Create(plane.Y) - Eight(ref exact, 1)))
                + (plane.NormalZ * (Vector512.Create(plane.Z) - Eight(ref exact, 2)));
            Vector512<double> slope = (plane.NormalX * Eight(ref exact, 3)) + (plane.NormalY * Eight(ref exact, 4)) + (plane.NormalZ * Eight(ref exact, 5));
            Vector512<double> distance = height / slope;
            Vector512<double> far = Eight(ref Far[first], 0);
            Vector512<double> isPast = Vector512.GreaterThanOrEqual(distance, Eight(ref Near[first], 0));
            uint isNearer = wanted & (uint)(Vector512.LessThan(distance, far) & isPast).ExtractMostSignificantBits();
            equal |= (wanted & (uint)(Vector512.Equals(distance, far) & isPast).ExtractMostSignificantBits()) << first;
            taken |= isNearer << first;
            if (isNearer == 0)
            {
                continue;
            }

            Vector256<int> bits = Vector256.Create(1, 2, 4, 8, 16, 32, 64, 128);
            Vector256<int> chosen = Vector256.Equals(bits & Vector256.Create((int)isNearer), bits);
            Vector512<double> chosenWide = Vector512.Create(Vector256.WidenLower(chosen), Vector256.WidenUpper(chosen)).AsDouble();
            Vector512.ConditionalSelect(chosenWide, distance, far).StoreUnsafe(ref Far[first]);
            Vector256<float> rounded = Vector256.Narrow(distance.GetLower(), distance.GetUpper()) * PreparedRay.Up;
            Vector256.ConditionalSelect(chosen.AsSingle(), rounded, Vector256.LoadUnsafe(ref Farthest[first])).StoreUnsafe(ref Farthest[first]);
            Vector256.ConditionalSelect(chosen, Vector256.Create(slot), Vector256.LoadUnsafe(ref Slots[first])).StoreUnsafe(ref Slots[first]);
        }

        return taken;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Eight(ref double first, int row) => Vector512.LoadUnsafe(ref first, (nuint)(row * Width));

    // Turns eight rows into eight columns.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Transpose(
        ref Vector512<double> r0, ref Vector512<double> r1, ref Vector512<double> r2, ref Vector512<double> r3,
        ref Vector512<double> r4, ref Vector512<double> r5, ref Vector512<double> r6, ref Vector512<double> r7)
    {
        if (!Avx512F.IsSupported)
        {
            TransposeOneByOne(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            return;
        }

        // Pairs of one column from two rows, then the pairs of four rows, then of eight.
        const byte Front = 0x44, Back = 0xEE, Even = 0x88, Odd = 0xDD;
        Vector512<double> even01 = Avx512F.UnpackLow(r0, r1), even23 = Avx512F.UnpackLow(r2, r3);
        Vector512<double> even45 = Avx512F.UnpackLow(r4, r5), even67 = Avx512F.UnpackLow(r6, r7);
        Vector512<double> odd01 = Avx512F.UnpackHigh(r0, r1), odd23 = Avx512F.UnpackHigh(r2, r3);
        Vector512<double> odd45 = Avx512F.UnpackHigh(r4, r5), odd67 = Avx512F.UnpackHigh(r6, r7);
        Vector512<double> low = Avx512F.Shuffle4x128(even01, even23, Front), high = Avx512F.Shuffle4x128(even45, even67, Front);
        r0 = Avx512F.Shuffle4x128(low, high, Even);
        r2 = Avx512F.Shuffle4x128(low, high, Odd);
        low = Avx512F.Shuffle4x128(even01, even23, Back);
        high = Avx512F.Shuffle4x128(even45, even67, Back);
        r4 = Avx512F.Shuffle4x128(low, high, Even);
        r6 = Avx512F.Shuffle4x128(low, high, Odd);
        low = Avx512F.Shuffle4x128(odd01, odd23, Front);
        high = Avx512F.Shuffle4x128(odd45, odd67, Front);
        r1 = Avx512F.Shuffle4x128(low, high, Even);
        r3 = Avx512F.Shuffle4x128(low, high, Odd);
        low = Avx512F.Shuffle4x128(odd01, odd23, Back);
        high = Avx512F.Shuffle4x128(odd45, odd67, Back);
        r5 = Avx512F.Shuffle4x128(low, high, Even);
        r7 = Avx512F.Shuffle4x128(low, high, Odd);
    }

    private static void TransposeOneByOne(
        ref Vector512<double> r0, ref Vector512<double> r1, ref Vector512<double> r2, ref Vector512<double> r3,
        ref Vector512<double> r4, ref Vector512<double> r5, ref Vector512<double> r6, ref Vector512<double> r7)
    {
        Vector512<double>* rows = stackalloc Vector512<double>[16];
        (rows[0], rows[1], rows[2], rows[3]) = (r0, r1, r2, r3);
        (rows[4], rows[5], rows[6], rows[7]) = (r4, r5, r6, r7);
        for (int i = 0; i < 64; i++)
        {
            ((double*)(rows + 8))[i] = ((double*)rows)[(8 * (i % 8)) + (i / 8)];
        }

        (r0, r1, r2, r3) = (rows[8], rows[9], rows[10], rows[11]);
        (r4, r5, r6, r7) = (rows[12], rows[13], rows[14], rows[15]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Row(ref float first) => Vector512.LoadUnsafe(ref first);

    /// <summary>The numbers of eight rays in single precision.</summary>
    private readonly record struct EightRays(
        Vector256<float> OriginX, Vector256<float> OriginY, Vector256<float> OriginZ,
        Vector256<float> DirectionX, Vector256<float> DirectionY, Vector256<float> DirectionZ, Vector256<float> Near, Vector256<float> Far);
}
