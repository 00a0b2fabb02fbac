using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Echo levels of a point-like probe at many positions, from one sensor at one moment.</summary>
/// <remarks>For lattices of cells, many sensors and many phases see <see cref="CoverageField"/>.</remarks>
public static class LevelField
{
    /// <summary>The level where there is no echo: behind a face. [dB re 20 µPa]</summary>
    public const float SilentDecibels = -300;

    private const float DecibelsPerOctave = 6.02059991f;

    /// <summary>Returns the level at one position in double precision with the beams as they were given: the reference of the kernels. [dB re 20 µPa]</summary>
    /// <param name="echo">What the level depends on besides the positions.</param>
    /// <param name="pose">Where the sensor is.</param>
    /// <param name="positionMetres">Where the probe is. [m]</param>
    /// <returns>The level, at least <see cref="SilentDecibels"/>.</returns>
    public static double LevelDecibels(FieldEcho echo, in FieldPose pose, Vec3 positionMetres)
    {
        ArgumentNullException.ThrowIfNull(echo);
        Vec3 out1 = positionMetres - pose.TransmitterMetres;
        Vec3 back = positionMetres - pose.ReceiverMetres;
        double rt = Math.Max(out1.Length, 1e-4);
        double rr = Math.Max(back.Length, 1e-4);
        double ct = out1.Dot(pose.UnitAxis) / rt;
        double cr = back.Dot(pose.UnitAxis) / rr;
        if (!(ct > 0 && cr > 0))
        {
            return SilentDecibels;
        }

        double amplitude = Math.Abs(echo.Transmit.ExactAmplitude(Math.Min(ct, 1)) * echo.Receive.ExactAmplitude(Math.Min(cr, 1))) / (rt * rr);
        double level = echo.LevelAtOneMetreDecibels + Quantities.Decibels.FromAmplitudeRatio(amplitude) - (echo.AbsorptionDecibelsPerMetre * (rt + rr));
        return Math.Max(level, SilentDecibels);
    }

    /// <summary>Returns the level over the threshold at one position, in double precision: the reference of the kernels. [dB]</summary>
    /// <param name="echo">What the level depends on besides the positions.</param>
    /// <param name="pose">Where the sensor is.</param>
    /// <param name="positionMetres">Where the probe is. [m]</param>
    /// <returns>The margin; <see cref="SilentDecibels"/> behind a face and outside the ranges listened to.</returns>
    public static double MarginDecibels(FieldEcho echo, in FieldPose pose, Vec3 positionMetres)
    {
        double level = LevelDecibels(echo, pose, positionMetres);
        double range = 0.5 * (positionMetres.DistanceTo(pose.TransmitterMetres) + positionMetres.DistanceTo(pose.ReceiverMetres));
        double threshold = echo.Threshold.LevelDecibels(range);
        return level <= SilentDecibels || double.IsInfinity(threshold) || range > pose.FarthestRangeMetres ? SilentDecibels : level - threshold;
    }

    /// <summary>Fills in the level at many positions.</summary>
    /// <param name="echo">What the level depends on besides the positions.</param>
    /// <param name="pose">Where the sensor is.</param>
    /// <param name="x">Positions ahead. [m]</param>
    /// <param name="y">Positions to the left; as many. [m]</param>
    /// <param name="z">Positions up; as many. [m]</param>
    /// <param name="levelDecibels">Receives the levels; <see cref="SilentDecibels"/> behind a face. [dB re 20 µPa]</param>
    /// <exception cref="ArgumentException">The spans are not of one length.</exception>
    /// <remarks>Within 0.001 dB of <see cref="LevelDecibels"/> plus what <see cref="FieldBeam.MaximumAmplitudeError"/> makes of
    /// the level: an error in amplitude is large in decibels only where the beam itself is near a null.</remarks>
    public static void Evaluate(
        FieldEcho echo, in FieldPose pose, ReadOnlySpan<float> x, ReadOnlySpan<float> y, ReadOnlySpan<float> z, Span<float> levelDecibels) =>
        Evaluate(echo, pose, x, y, z, levelDecibels, width: 0);

    /// <summary>Fills in the levels with vectors of a given width, 0 for the widest.</summary>
    internal static void Evaluate(
        FieldEcho echo, in FieldPose pose, ReadOnlySpan<float> x, ReadOnlySpan<float> y, ReadOnlySpan<float> z, Span<float> levelDecibels, int width)
    {
        ArgumentNullException.ThrowIfNull(echo);
        if (y.Length != x.Length || z.Length != x.Length || levelDecibels.Length != x.Length)
        {
            throw new ArgumentException($"The spans must be of one length; they are {x.Length}, {y.Length}, {z.Length} and {levelDecibels.Length} long.", nameof(x));
        }

        switch (CoverageField.WidthOr(width))
        {
            case 16:
                Fill<Wide16, Vector512<float>>(echo, pose, x, y, z, levelDecibels);
                break;
            case 8:
                Fill<Wide8, Vector256<float>>(echo, pose, x, y, z, levelDecibels);
                break;
            default:
                Fill<Wide1, float>(echo, pose, x, y, z, levelDecibels);
                break;
        }
    }

    private static void Fill<T, V>(
        FieldEcho echo, in FieldPose pose, ReadOnlySpan<float> x, ReadOnlySpan<float> y, ReadOnlySpan<float> z, Span<float> levels)
        where T : IWide<V>
        where V : struct
    {
        int whole = x.Length / T.Count * T.Count;
        FillRows<T, V>(echo, pose, ref At(x), ref At(y), ref At(z), ref At(levels), whole);
        int rest = x.Length - whole;
        if (rest > 0)
        {
            // The last few positions, padded with the last of them, through the same operations.
            Span<float> padded = stackalloc float[4 * 16];
            for (int i = 0; i < T.Count; i++)
            {
                int from = whole + Math.Min(i, rest - 1);
                padded[i] = x[from];
                padded[16 + i] = y[from];
                padded[32 + i] = z[from];
            }

            FillRows<T, V>(echo, pose, ref padded[0], ref padded[16], ref padded[32], ref padded[48], T.Count);
            padded.Slice(48, rest).CopyTo(levels[whole..]);
        }
    }

    private static ref float At(ReadOnlySpan<float> span) => ref MemoryMarshal.GetReference(span);

    private static void FillRows<T, V>(FieldEcho echo, in FieldPose pose, ref float x, ref float y, ref float z, ref float levels, int count)
        where T : IWide<V>
        where V : struct
    {
        V ax = T.Broadcast((float)pose.UnitAxis.X);
        V ay = T.Broadcast((float)pose.UnitAxis.Y);
        V az = T.Broadcast((float)pose.UnitAxis.Z);
        V tx = T.Broadcast((float)pose.TransmitterMetres.X);
        V ty = T.Broadcast((float)pose.TransmitterMetres.Y);
        V tz = T.Broadcast((float)pose.TransmitterMetres.Z);
        V rx = T.Broadcast((float)pose.ReceiverMetres.X);
        V ry = T.Broadcast((float)pose.ReceiverMetres.Y);
        V rz = T.Broadcast((float)pose.ReceiverMetres.Z);
        V atOneMetre = T.Broadcast((float)echo.LevelAtOneMetreDecibels);
        V absorption = T.Broadcast((float)echo.AbsorptionDecibelsPerMetre);
        V silent = T.Broadcast(SilentDecibels);
        for (int i = 0; i < count; i += T.Count)
        {
            V px = T.Load(ref x, i);
            V py = T.Load(ref y, i);
            V pz = T.Load(ref z, i);
            V amplitude = PointKernel.Unattenuated<T, V>(
                echo.Transmit,
                echo.Receive,
                T.Subtract(px, tx), T.Subtract(py, ty), T.Subtract(pz, tz),
                T.Subtract(px, rx), T.Subtract(py, ry), T.Subtract(pz, rz),
                ax, ay, az,
                out V path);
            V level = T.MultiplyAdd(T.Log2(amplitude), T.Broadcast(DecibelsPerOctave), T.MultiplySubtractFrom(path, absorption, atOneMetre));
            T.Store(T.Max(level, silent), ref levels, i);
        }
    }
}
