namespace SonarGeom.Echoes;

/// <summary>
/// What tells how far a turn of the sensor where it stands can change an echo: its slopes and a <see cref="GrossEcho"/>, over the echo
/// itself, in half precision.
/// </summary>
/// <remarks>
/// With ‖p‖² = Σ wₖ|pₖ|² over the frequencies k of the burst, the power of its band mean, and d = (y, z) the move of the boresight,
/// <c>‖p + d·∇p‖²/‖p‖² = 1 + 2·g·d + dᵀ·C·d</c>, g = Σ wₖ Re(pₖ*·∇pₖ)/‖p‖², C = Σ wₖ Re(∇pₖ*·∇pₖᵀ)/‖p‖². What <see cref="GrossEcho"/> leaves of p at every
/// frequency it leaves of ‖p‖, the weights summing to 1: <c>|‖p′‖ − ‖p + d·∇p‖| ≤ ½·d²·bend</c>, by the triangle inequality.
/// </remarks>
internal readonly struct TurnReach
{
    // Half precision holds eleven bits; below 6e-5 it holds steps of 6e-8.
    private const double RelativeRounding = 1.0 / 2000;
    private const double AbsoluteRounding = 1e-7;

    private readonly Half _loud;
    private readonly Half _bend;
    private readonly Half _y;
    private readonly Half _z;
    private readonly Half _yy;
    private readonly Half _yz;
    private readonly Half _zz;

    /// <summary>Compares what an echo could come to with what it is.</summary>
    /// <param name="gross">What it could come to.</param>
    /// <param name="power">‖p‖².</param>
    /// <param name="y">Σ w Re(p*·∂p/∂y). [1/rad]</param>
    /// <param name="z">Σ w Re(p*·∂p/∂z). [1/rad]</param>
    /// <param name="yy">Σ w |∂p/∂y|². [1/rad²]</param>
    /// <param name="yz">Σ w Re(∂p/∂y*·∂p/∂z). [1/rad²]</param>
    /// <param name="zz">Σ w |∂p/∂z|². [1/rad²]</param>
    internal TurnReach(in GrossEcho gross, double power, double y, double z, double yy, double yz, double zz)
    {
        double inverse = 1 / power, root = Math.Sqrt(inverse);
        (_loud, _bend) = (RoundedUp(gross.Loud * root), RoundedUp(gross.Bend * root));
        (_y, _z, _yy, _yz, _zz) = ((Half)(y * inverse), (Half)(z * inverse), (Half)(yy * inverse), (Half)(yz * inverse), (Half)(zz * inverse));
    }

    /// <summary>Nothing is known.</summary>
    internal static TurnReach Unknown => new(GrossEcho.Unknown, 1, 0, 0, 0, 0, 0);

    /// <summary>The most that the echo's pressure can become, over what it is, within the largest turn.</summary>
    internal double Loud => (double)_loud;

    /// <summary>What a move of the boresight makes of the echo's pressure, over what it is: the least and the most.</summary>
    /// <param name="y">The move along the sensor's Y axis. [rad]</param>
    /// <param name="z">The same along its Z axis. [rad]</param>
    internal (double Least, double Most) Pressures(double y, double z)
    {
        double first = 2 * (double)_y * y, other = 2 * (double)_z * z;
        double yy = (double)_yy * y * y, yz = 2 * (double)_yz * y * z, zz = (double)_zz * z * z;
        double power = 1 + first + other + yy + yz + zz;
        double error = (RelativeRounding * (Math.Abs(first) + Math.Abs(other) + yy + Math.Abs(yz) + zz)) + AbsoluteRounding;
        double left = 0.5 * ((y * y) + (z * z)) * (double)_bend;
        double least = Math.Sqrt(Math.Max(0, power - error)) - left, most = Math.Min(Math.Sqrt(Math.Max(0, power + error)) + left, Loud);

        // What overflowed is not known.
        return double.IsFinite(power) && double.IsFinite(left) ? (Math.Max(0, least), most) : (0, Loud);
    }

    /// <summary>The largest turn in any direction that keeps the pressure, over what it is, above or below a limit. [rad]</summary>
    /// <param name="limit">The limit: what it may not fall to when below 1, not rise to when above.</param>
    internal double SafeRadians(double limit)
    {
        if (limit > 1 && Loud < limit)
        {
            return double.PositiveInfinity;
        }

        // slope·δ + ½·bend·δ² = room, the slope at most the root of the trace of C.
        double slope = Math.Sqrt((1 + RelativeRounding) * ((double)_yy + (double)_zz) + AbsoluteRounding), room = Math.Abs(limit - 1);
        double bend = (double)_bend;
        double safe = 2 * room / (slope + Math.Sqrt((slope * slope) + (2 * bend * room)));
        return safe > 0 ? safe : 0;
    }

    private static Half RoundedUp(double figure) => double.IsNaN(figure) ? Half.PositiveInfinity : (Half)((figure * 1.001) + 1e-7);
}
