namespace SonarGeom.Echoes;

/// <summary>
/// What the beams can do to an echo while the sensor turns where it stands by no more than <see cref="BeamBends.LargestTurnRadians"/>:
/// the turn changes the beams and nothing else.
/// </summary>
/// <remarks>
/// Every closed form is, at each frequency k, a sum <c>p = Σⱼ cⱼ·Bⱼ</c> of beam products Bⱼ = B_T·B_R at points of the part, with
/// coefficients that depend on places alone. A turn by δ changes no Bⱼ by more than δ times its steepest slope near by, so
/// <c>|p′ − p| ≤ δ·Σ|cⱼ|·sup|∇Bⱼ|</c> and <c>|p′| ≤ Σ|cⱼ|·sup|Bⱼ|</c>. Closer: with ρ the ratio B′/B towards the point that answers and
/// φⱼ the angle of a point from there, <c>|Bⱼ′ − ρBⱼ| ≤ ρ|Bⱼ|(e^xⱼ − 1)</c>, xⱼ = φⱼ·δ·(bend + |n·u|·slope) of <see cref="BeamBends"/>; for
/// points where that is too large, δ·sup|∇Bⱼ| + |1 − ρ||Bⱼ|.
/// </remarks>
/// <param name="Loud">Bound on Σ|cⱼ|·sup|Bⱼ| at every frequency, for a source of unit pressure at 1 m. [unitless]</param>
/// <param name="Slope">Bound on Σ|cⱼ|·sup|∇Bⱼ|. [1/rad]</param>
/// <param name="Bend">Σ|cⱼBⱼ|φⱼ·(bend + (φⱼ + largest turn)·slope) over the points that are bounded as ratios: |n·u| at a point and along the
/// turn is at most that at the middle and these angles more. [1/rad]</param>
/// <param name="Turning">Σ|cⱼBⱼ|φⱼ·slope over the same. [unitless]</param>
/// <param name="OddLoud">Σ|cⱼBⱼ| over the others. [unitless]</param>
/// <param name="OddSlope">Σ|cⱼ|·sup|∇Bⱼ| over the others. [1/rad]</param>
internal readonly record struct GrossEcho(double Loud, double Slope, double Bend, double Turning, double OddLoud, double OddSlope)
{
    /// <summary>Nothing is known.</summary>
    internal static GrossEcho Unknown => double.PositiveInfinity * new GrossEcho(1, 1, 1, 1, 1, 1);

    public static GrossEcho operator +(in GrossEcho a, in GrossEcho b) => new(
        a.Loud + b.Loud, a.Slope + b.Slope, a.Bend + b.Bend, a.Turning + b.Turning, a.OddLoud + b.OddLoud, a.OddSlope + b.OddSlope);

    public static GrossEcho operator *(double factor, in GrossEcho a) => new(
        factor * a.Loud, factor * a.Slope, factor * a.Bend, factor * a.Turning, factor * a.OddLoud, factor * a.OddSlope);
}
