using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>
/// What a move of both faces of a pair does to an echo, when the middle between them stays: transmitter and receiver at M + x and M − x,
/// x moved by d with |x| no more than half the distance a between the faces before or after.
/// </summary>
/// <remarks>
/// <para>Let ρ be a lower bound of the distances of both faces from the points Q of a part, the move included, and D = |d|. The path by way
/// of Q changes at the rate (û_R − û_T)·d, û the unit directions to Q. Directions to one point from places 2a apart differ by at most 2a/ρ, so
/// that <c>|ΔP(Q)| ≤ 2a·D/ρ</c>. Its own gradient over Q is (J_R − J_T)·d, J the second derivative of the distance; the third derivative of |v| is
/// at most (2/√3)/|v|², so that <c>|ΔP(Q) − ΔP(Q₀)| ≤ 2.32·a·D·|Q − Q₀|/ρ²</c> where the way from Q₀ to Q stays as far off. Directions change by D/ρ
/// at most.</para>
/// <para>An echo is an integral (or a ray) <c>∫ w·B·e^(ikP − αP)</c>. A phase common to all of it, that of Q₀, does not count. What is left changes, w′, B′, P′
/// being those after, by <c>|p′ − p| ≤ ∫|w′ − w||B′| + |w||B′ − B| + |w||B|·|ik − α|·|P′ − P|</c>, every factor taken at its largest. Rods: w has (r_T·r_R)^(−3/2)·(r_T + r_R)^(1/2)
/// and a scale with R^½ to R, and the logarithm of a distance has a second derivative of at most 1/ρ²: 3.5·a/ρ² + a/ρ² per metre of D.</para>
/// <para>Rims of plates: with ρ from the transmitter, s from the image of the receiver and m = ρ̂ + ŝ, which is nought at the mirror point,
/// w = (1/4π)·(ρ × s)·dl/(ρs(ρs + ρ·s)) = (1/2π)·(ρ̂ × m)·dl/(ρs|m|²). It is at most <c>1/(2π·ρs·|m|)</c>, and changes by at most
/// (|ṁ|/|m| + 2(1/ρ + 1/s))·D times that. With d and its mirror image d* = d∥ − dₙ·n, Π the projection across a direction,
/// <c>ṁ = (Π_s/s − Π_ρ/ρ)·d∥ − (Π_s/s + Π_ρ/ρ)·dₙ·n</c>. |ρ − s| is at most 2a and |Π_s − Π_ρ| = |sin(ρ̂, ŝ)| at most |m|, so that the first is at most
/// (2a/ρ² + |m|/ρ)·D. |Π_ρ·n| is |ρ∥|/ρ, and m∥ = ρ∥(1/ρ + 1/s) + (F_T − F_R)/s, F the feet on the plane, at most 2a apart: the second is at most
/// (1 + a/ρ)(|m| + 2a/ρ)/ρ·D. Together <c>|ṁ| ≤ (2 + a/ρ)·(2a/ρ + |m|)/ρ·D</c>. |m| is no less than |sin(ρ̂, ŝ)|, and that no less than
/// q·(h_T + h_R)/(ρs), q the distance of Q from the mirror point, by way of which the ray leans against the plane by the arcsine of (h_T + h_R)/L.
/// The mirror point X = (h_R·F_T + h_T·F_R)/(h_T + h_R) moves by <c>((h_R − h_T)·d∥ + dₙ·(F_R − F_T))/(h_T + h_R)</c>, at most 2√2·a·D/(h_T + h_R).</para>
/// <para>The closed forms stand by these integrals within some tenths of a percent, and step where one of their ways gives over to another. That is
/// measured, not proved: searches that climbed from millions of random turns to the largest steps found 0.95 % of all coefficients from 0.27 m, and
/// 0.24 % from 0.5 m and about 1 m. <see cref="FormAllowance"/> allows 3.4 %, 1 % and 0.6 % there.</para>
/// </remarks>
internal static class FaceMove
{
    /// <summary>Moves up to this are bounded. [m]</summary>
    internal const double LargestMetres = 7e-4;

    /// <summary>No part may be nearer than this: the faces see nothing turn by more than <see cref="SidewaysRadians"/>. [m]</summary>
    internal const double LeastRangeMetres = 0.25;

    /// <summary>How far the direction to a point can turn. [rad]</summary>
    internal const double SidewaysRadians = LargestMetres / LeastRangeMetres;

    /// <summary>Half an eighth of a line may be seen under this angle. [rad]</summary>
    internal const double PanelRadians = 0.07;

    /// <summary>A range changes by no more than this many times the move: a ray by once; the nearest point of a rim moves with the mirror
    /// point, by once at most where plates are bounded. [unitless]</summary>
    internal const double RangeFactor = 2;

    /// <summary>How far the mirror point of a plate moves: this, times a·D, over the sum of the heights.</summary>
    internal const double MirrorFactor = 2.83;

    /// <summary>What is allowed for the closed forms, of the sum of all coefficients. [unitless]</summary>
    /// <param name="rangeMetres">The least distance. [m]</param>
    internal static double FormAllowance(double rangeMetres) => Math.Max(LeastAllowance, AllowanceSquareMetres / (rangeMetres * rangeMetres));

    private const double LeastAllowance = 0.006;

    private const double AllowanceSquareMetres = 0.0025;

    private const double ThirdDerivative = 2.32;

    /// <summary>Bound on |ΔP(Q) − ΔP(Q₀)| over D. [unitless]</summary>
    /// <param name="arm">a. [m]</param>
    /// <param name="apart">|Q − Q₀|. [m]</param>
    /// <param name="range">ρ at Q. [m]</param>
    /// <param name="rangeThere">ρ at Q₀. [m]</param>
    /// <param name="rangeBetween">ρ from one to the other. [m]</param>
    internal static Vector512<double> PathChange(double arm, Vector512<double> apart, double range, double rangeThere, double rangeBetween) =>
        rangeBetween > 0
            ? Vector512.Min(apart * (ThirdDerivative * arm / (rangeBetween * rangeBetween)), Vector512.Create((2 * arm / range) + (2 * arm / rangeThere)))
            : Vector512.Create((2 * arm / range) + (2 * arm / rangeThere));

    /// <summary>The least distance of two faces from a point, the move included. [m]</summary>
    internal static double RangeOf(in EchoView view, Vec3 point) =>
        Math.Min(point.DistanceTo(view.Transmitter), point.DistanceTo(view.Receiver)) - LargestMetres;
}
