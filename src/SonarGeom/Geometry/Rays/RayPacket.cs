using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Sixteen rays side by side, whose directions have the same signs and run fastest along the same axis, and their best hits so
/// far. Positions are relative to the centre of the scene. Unused places repeat the first ray.
/// </summary>
internal unsafe struct RayPacket
{
    /// <summary>The number of rays.</summary>
    public const int Width = 16;

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

    /// <summary>Fills the packet with rays.</summary>
    /// <param name="rays">The rays of the caller.</param>
    /// <param name="centre">The centre of the scene. [m]</param>
    /// <param name="numbers">Which of them to take.</param>
    /// <param name="rows">Origin from the centre, direction, near and far end of each; there is room for a whole packet.</param>
    /// <param name="count">How many there are.</param>
    /// <param name="kind">Their class.</param>
    [SkipLocalsInit]
    public void Fill(Ray* rays, Vec3 centre, int* numbers, Vector256<float>* rows, int count, RayClass kind)
    {
        for (int i = 0; i < count; i++)
        {
            Ray* ray = rays + numbers[i];
            Numbers[i] = numbers[i];
            Near[i] = ray->NearMetres;
            Far[i] = ray->FarMetres;
            Exact[i] = ray->Origin.X - centre.X;
            Exact[i + Width] = ray->Origin.Y - centre.Y;
            Exact[i + (2 * Width)] = ray->Origin.Z - centre.Z;
            Exact[i + (3 * Width)] = ray->UnitDirection.X;
            Exact[i + (4 * Width)] = ray->UnitDirection.Y;
            Exact[i + (5 * Width)] = ray->UnitDirection.Z;
        }

        for (int i = count; i < Width; i++)
        {
            rows[i] = rows[0];
            Numbers[i] = numbers[0];
            Near[i] = Near[0];
            Far[i] = Far[0];
        }

        Vector512<int>.AllBitsSet.StoreUnsafe(ref Slots[0]);
        float* columns = stackalloc float[8 * Width];
        Transpose(rows, columns);
        Transpose(rows + 8, columns + 8);
        Vector512<float> reach = Vector512<float>.Zero;
        float* directions = columns + (3 * Width);
        for (int axis = 0; axis < 3; axis++)
        {
            Vector512<float> origin = Vector512.Load(columns + (axis * Width));
            Vector512<float> direction = Vector512.Load(directions + (axis * Width));
            Vector512<float> safe = Vector512.MaxNative(Vector512.Abs(direction), Vector512.Create(PreparedRay.LeastDirection));
            Vector512<float> inverse = Vector512<float>.One / (safe | (direction & Vector512.Create(-0f)));
            origin.StoreUnsafe(ref Origins[axis * Width]);
            inverse.StoreUnsafe(ref Inverses[axis * Width]);
            (-(origin * inverse)).StoreUnsafe(ref Offsets[axis * Width]);
            reach = Vector512.MaxNative(reach, Vector512.Abs(origin));
        }

        reach.StoreUnsafe(ref Reaches[0]);
        (Vector512.Load(columns + (6 * Width)) * PreparedRay.Down).StoreUnsafe(ref Nearest[0]);
        (Vector512.Load(columns + (7 * Width)) * PreparedRay.Up).StoreUnsafe(ref Farthest[0]);
        Vector512<float> inverseW = Row(ref Inverses[kind.AxisW * Width]);
        (-(Vector512.Load(directions + (kind.AxisU * Width)) * inverseW)).StoreUnsafe(ref Shears[0]);
        (-(Vector512.Load(directions + (kind.AxisV * Width)) * inverseW)).StoreUnsafe(ref Shears[Width]);
        Active = (uint)((1 << count) - 1);
    }

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

    // Writes the numbers of eight rows as eight columns, one every Width numbers.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Transpose(Vector256<float>* rows, float* columns)
    {
        if (!Avx.IsSupported)
        {
            for (int i = 0; i < 64; i++)
            {
                columns[(i % 8 * Width) + (i / 8)] = ((float*)rows)[i];
            }

            return;
        }

        for (int half = 0; half < 2; half++)
        {
            float* source = (float*)rows + (4 * half);
            float* target = columns + (4 * half * Width);
            Vector256<float> a = Pair(source, 0), b = Pair(source, 1), c = Pair(source, 2), d = Pair(source, 3);
            Vector256<float> abLow = Avx.UnpackLow(a, b), abHigh = Avx.UnpackHigh(a, b);
            Vector256<float> cdLow = Avx.UnpackLow(c, d), cdHigh = Avx.UnpackHigh(c, d);
            Avx.Shuffle(abLow, cdLow, 0b01_00_01_00).Store(target);
            Avx.Shuffle(abLow, cdLow, 0b11_10_11_10).Store(target + Width);
            Avx.Shuffle(abHigh, cdHigh, 0b01_00_01_00).Store(target + (2 * Width));
            Avx.Shuffle(abHigh, cdHigh, 0b11_10_11_10).Store(target + (3 * Width));
        }
    }

    // Half of a row and the same half of the row four further.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Pair(float* source, int row) =>
        Vector256.Create(Vector128.Load(source + (8 * row)), Vector128.Load(source + (8 * (row + 4))));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Row(ref float first) => Vector512.LoadUnsafe(ref first);
}
