using System.Runtime.CompilerServices;

namespace SonarGeom.Coverage.Kernels;

/// <summary>The amplitude of an echo from points anywhere.</summary>
internal static class PointKernel
{
    /// <summary>Distances are taken to be at least 0.1 mm.</summary>
    private const float NearestSquare = 1e-8f;

    /// <summary>Both beams over both distances, without absorption: |D_t·D_r| / (r_t·r_r); 0 behind either face. [1/m²]</summary>
    /// <param name="transmit">Beam of the transmitter.</param>
    /// <param name="receive">Beam of the receiver.</param>
    /// <param name="tx">From the transmitter to the points: X. [m]</param>
    /// <param name="ty">Y. [m]</param>
    /// <param name="tz">Z. [m]</param>
    /// <param name="rx">From the receiver to the points: X. [m]</param>
    /// <param name="ry">Y. [m]</param>
    /// <param name="rz">Z. [m]</param>
    /// <param name="ax">The unit axis: X.</param>
    /// <param name="ay">Y.</param>
    /// <param name="az">Z.</param>
    /// <param name="path">The path from transmitter to point to receiver. [m]</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Unattenuated<T, V>(
        FieldBeam transmit, FieldBeam receive, V tx, V ty, V tz, V rx, V ry, V rz, V ax, V ay, V az, out V path)
        where T : IWide<V>
        where V : struct
    {
        V nearest = T.Broadcast(NearestSquare);
        V t2 = T.Max(T.MultiplyAdd(tx, tx, T.MultiplyAdd(ty, ty, T.Multiply(tz, tz))), nearest);
        V r2 = T.Max(T.MultiplyAdd(rx, rx, T.MultiplyAdd(ry, ry, T.Multiply(rz, rz))), nearest);
        V perT = KernelMath.ReciprocalRoot<T, V>(t2);
        V perR = KernelMath.ReciprocalRoot<T, V>(r2);
        V alongT = T.MultiplyAdd(tx, ax, T.MultiplyAdd(ty, ay, T.Multiply(tz, az)));
        V alongR = T.MultiplyAdd(rx, ax, T.MultiplyAdd(ry, ay, T.Multiply(rz, az)));
        path = T.MultiplyAdd(t2, perT, T.Multiply(r2, perR));
        V beams = T.Multiply(
            KernelMath.Amplitude<T, V>(transmit, T.Multiply(alongT, perT)), KernelMath.Amplitude<T, V>(receive, T.Multiply(alongR, perR)));
        return T.WherePositive(T.Min(alongT, alongR), T.Multiply(T.Abs(beams), T.Multiply(perT, perR)));
    }
}
