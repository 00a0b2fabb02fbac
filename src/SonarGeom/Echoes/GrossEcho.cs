using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>
/// What the beams can do to an echo while the sensor turns where it stands by no more than each of <see cref="BeamBends.TurnsRadians"/>:
/// the turn changes the beams and nothing else.
/// </summary>
/// <remarks>
/// Every closed form is, at each frequency, a sum <c>p = Σⱼ cⱼ·Bⱼ</c> of beam products Bⱼ = B_T·B_R at points of the part, with
/// coefficients that depend on places alone, so that p is a function of the boresight, a point of the sphere. Let the boresight move by δ
/// along the great circle of the unit tangent e. By Taylor's theorem along it <c>|p′ − p − δ·∂ₑp| ≤ ½δ²·Σ|cⱼ|·sup|∂²Bⱼ|</c>; a single beam's
/// second derivative along a great circle is at most ‖Hess B‖, and so
/// <c>|∂²(B_T·B_R)| ≤ ‖Hess B_T‖·|B_R| + 2·|∇B_T|·|∇B_R| + |B_T|·‖Hess B_R‖</c>, each at its largest within the turn of its direction. Beams
/// that end in a step J are S, which is smooth, and a step: |S| ≤ |B| + J, and <c>|B_T·B_R − S_T·S_R| ≤ J_T·|B_R| + |B_T|·J_R + 3·J_T·J_R</c>.
/// </remarks>
/// <param name="Loud">Bound on |p′| at every frequency, Σ|cⱼ|·sup|Bⱼ|, for a source of unit pressure at 1 m. [unitless]</param>
/// <param name="Bend">Bound on the second derivative at every frequency. [1/rad²]</param>
/// <param name="Step">Bound on what steps of the beams make of it; see <see cref="BeamBends"/>. [unitless]</param>
internal readonly record struct GrossEcho(Vector128<float> Loud, Vector128<float> Bend, Vector128<float> Step)
{
    /// <summary>Nothing is known.</summary>
    internal static GrossEcho Unknown => new(Vector128.Create(float.PositiveInfinity), Vector128.Create(float.PositiveInfinity), Vector128.Create(float.PositiveInfinity));

    public static GrossEcho operator +(in GrossEcho a, in GrossEcho b) => new(a.Loud + b.Loud, a.Bend + b.Bend, a.Step + b.Step);
}
