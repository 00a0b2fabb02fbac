using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>
/// What tells how far a turn of the sensor where it stands can change an echo: its slopes and a <see cref="GrossEcho"/>, over the echo
/// itself, in half precision.
/// </summary>
/// <remarks>
/// With ‖p‖² = Σ wₖ|pₖ|² over the frequencies k of the burst, the power of its band mean, and d = (y, z) the move of the boresight,
/// <c>‖p + d·∇p‖²/‖p‖² = 1 + 2·g·d + dᵀ·C·d</c>, g = Σ wₖ Re(pₖ*·∇pₖ)/‖p‖², C = Σ wₖ Re(∇pₖ*·∇pₖᵀ)/‖p‖². What <see cref="GrossEcho"/> leaves of p at every
/// frequency it leaves of ‖p‖, the weights summing to 1: <c>|‖p′‖ − ‖p + d·∇p‖| ≤ ½·d²·bend</c>, by the triangle inequality. Where the faces
/// move too, what <see cref="FaceMove"/> tells comes on top, by the same.
/// </remarks>
internal readonly struct TurnReach
{
    // Half precision holds eleven bits; below 6e-5 it holds steps of 6e-8.
    private const double RelativeRounding = 1.0 / 2000;
    private const double AbsoluteRounding = 1e-7;

    private readonly HalfOfTurns _loudDecibels;
    private readonly HalfOfTurns _bend;
    private readonly HalfOfTurns _step;
    private readonly Half _loudMovedDecibels;
    private readonly Half _move;
    private readonly Half _allowed;
    private readonly Half _y;
    private readonly Half _z;
    private readonly Half _yy;
    private readonly Half _yz;
    private readonly Half _zz;

    /// <summary>Compares what an echo could come to with what it is.</summary>
    /// <param name="gross">What it could come to.</param>
    /// <param name="move">What a move of the faces can do to it. [1/m]</param>
    /// <param name="moveSteps">What steps of beams and closed forms make of that. [unitless]</param>
    /// <param name="power">‖p‖².</param>
    /// <param name="y">Σ w Re(p*·∂p/∂y). [1/rad]</param>
    /// <param name="z">Σ w Re(p*·∂p/∂z). [1/rad]</param>
    /// <param name="yy">Σ w |∂p/∂y|². [1/rad²]</param>
    /// <param name="yz">Σ w Re(∂p/∂y*·∂p/∂z). [1/rad²]</param>
    /// <param name="zz">Σ w |∂p/∂z|². [1/rad²]</param>
    internal TurnReach(in GrossEcho gross, double move, double moveSteps, double power, double y, double z, double yy, double yz, double zz)
    {
        double inverse = 1 / power, root = Math.Sqrt(inverse);
        double loud = gross.Loud[0] * root, allowed = moveSteps * root;

        // What the faces cannot be moved for is marked by a move that is no number.
        bool canMove = double.IsFinite(move);
        double rootDecibels = 20 * Math.Log10(root);
        for (int turn = 0; turn < BeamBends.Turns; turn++)
        {
            _loudDecibels[turn] = RoundedUp((20 * Math.Log10(gross.Loud[turn])) + rootDecibels);
            _bend[turn] = RoundedUp(gross.Bend[turn] * root);
            _step[turn] = RoundedUp(gross.Step[turn] * root);
        }

        _loudMovedDecibels = RoundedUp(20 * Math.Log10(loud + allowed + (FaceMove.LargestMetres * move * root)));
        (_move, _allowed) = (canMove ? RoundedUp(move * root) : Half.NaN, RoundedUp(allowed));
        (_y, _z, _yy, _yz, _zz) = ((Half)(y * inverse), (Half)(z * inverse), (Half)(yy * inverse), (Half)(yz * inverse), (Half)(zz * inverse));
    }

    private TurnReach(Vector128<float> loud, double loudMovedDecibels, double offsetDecibels, bool canMove)
    {
        for (int turn = 0; turn < BeamBends.Turns; turn++)
        {
            _loudDecibels[turn] = RoundedUp((20 * Math.Log10(loud[turn])) + offsetDecibels);
            _bend[turn] = Half.PositiveInfinity;
        }

        _loudMovedDecibels = RoundedUp(loudMovedDecibels + offsetDecibels);
        (_allowed, _move) = (Half.PositiveInfinity, canMove ? Half.PositiveInfinity : Half.NaN);
    }

    /// <summary>Nothing is known.</summary>
    internal static TurnReach Unknown => new(GrossEcho.Unknown, double.PositiveInfinity, 0, 1, 0, 0, 0, 0, 0);

    /// <summary>Of an echo that is nought, or as good as that.</summary>
    /// <param name="gross">What it could come to.</param>
    /// <param name="move">What a move of the faces can do to it. [1/m]</param>
    /// <param name="moveSteps">What steps of beams and closed forms make of that. [unitless]</param>
    /// <param name="offsetDecibels">How far a pressure of 1 is above the level that the echo is given. [dB]</param>
    internal static TurnReach OfFaint(in GrossEcho gross, double move, double moveSteps, double offsetDecibels) => new(
        gross.Loud, 20 * Math.Log10(gross.Loud[0] + moveSteps + (FaceMove.LargestMetres * move)), offsetDecibels, double.IsFinite(move));

    /// <summary>No turn makes anything of it.</summary>
    internal static TurnReach Silent => new(default, 0, 0, 1, 0, 0, 0, 0, 0);

    /// <summary>The most that the echo can rise within one of <see cref="BeamBends.TurnsRadians"/> while the faces stay. [dB]</summary>
    internal double LoudDecibels(int turn) => (double)_loudDecibels[turn];

    /// <summary>The same within the least of them and the largest move of the faces. [dB]</summary>
    internal double LoudMovedDecibels => (double)_loudMovedDecibels;

    /// <summary>Whether anything is known of what a move of the faces does.</summary>
    internal bool CanMove => !Half.IsNaN(_move);

    /// <summary>What a move of the boresight makes of the echo's pressure, over what it is: the least and the most, <see cref="LoudDecibels"/>
    /// left out.</summary>
    /// <param name="y">The move along the sensor's Y axis. [rad]</param>
    /// <param name="z">The same along its Z axis. [rad]</param>
    /// <param name="move">How far the faces move, the middle between them staying. [m]</param>
    /// <param name="turn">Which of <see cref="BeamBends.TurnsRadians"/> the turn is no larger than.</param>
    internal (double Least, double Most) Pressures(double y, double z, double move, int turn)
    {
        double first = 2 * (double)_y * y, other = 2 * (double)_z * z;
        double yy = (double)_yy * y * y, yz = 2 * (double)_yz * y * z, zz = (double)_zz * z * z;
        double power = 1 + first + other + yy + yz + zz;
        double error = (RelativeRounding * (Math.Abs(first) + Math.Abs(other) + yy + Math.Abs(yz) + zz)) + AbsoluteRounding;
        double left = 0.5 * ((y * y) + (z * z)) * (double)_bend[turn];
        left += (double)_step[turn];
        left += move > 0 ? (move * (double)_move) + (double)_allowed : 0;

        // What overflowed is not known.
        return double.IsFinite(power) && double.IsFinite(left)
            ? (Math.Max(0, Math.Sqrt(Math.Max(0, power - error)) - left), Math.Sqrt(Math.Max(0, power + error)) + left)
            : (0, double.PositiveInfinity);
    }

    /// <summary>The echo's power by its slopes alone, over what it is.</summary>
    /// <param name="y">The move along the sensor's Y axis. [rad]</param>
    /// <param name="z">The same along its Z axis. [rad]</param>
    internal double LikelyPower(double y, double z) =>
        1 + (2 * (((double)_y * y) + ((double)_z * z))) + ((double)_yy * y * y) + (2 * (double)_yz * y * z) + ((double)_zz * z * z);

    /// <summary>The largest turn in any direction that keeps a margin on its side of 0 dB while the faces stay. [rad]</summary>
    /// <param name="marginDecibels">The margin, brought nearer to 0 by whatever else may change. [dB]</param>
    internal double SafeRadians(double marginDecibels)
    {
        double slope = Slope, room = Room(marginDecibels), safe = 0;
        for (int turn = BeamBends.Turns - 1; turn >= 0 && safe < BeamBends.TurnsRadians[turn]; turn--)
        {
            double largest = BeamBends.TurnsRadians[turn];
            bool isNever = marginDecibels < 0 && LoudDecibels(turn) < -marginDecibels;
            safe = Math.Max(safe, isNever ? largest : Math.Min(largest, Until(room - (double)_step[turn], slope, (double)_bend[turn])));
        }

        return safe;
    }

    /// <summary>The same when turns move the faces.</summary>
    /// <param name="marginDecibels">The margin, brought nearer to 0 by whatever else may change. [dB]</param>
    /// <param name="arm">How far a turn moves the faces. [m/rad]</param>
    internal double SafeMovedRadians(double marginDecibels, double arm)
    {
        if (!CanMove)
        {
            return 0;
        }

        return marginDecibels < 0 && LoudMovedDecibels < -marginDecibels
            ? double.PositiveInfinity
            : Until(Room(marginDecibels) - (double)_allowed - (double)_step[0], Slope + (arm * (double)_move), (double)_bend[0]);
    }

    // At most the root of the trace of C.
    private double Slope => Math.Sqrt(((1 + RelativeRounding) * ((double)_yy + (double)_zz)) + AbsoluteRounding);

    private static double Room(double marginDecibels) => Math.Abs(Math.Exp(-marginDecibels * NepersPerDecibel) - 1);

    // slope·δ + ½·bend·δ² = room.
    private static double Until(double room, double slope, double bend)
    {
        double safe = 2 * room / (slope + Math.Sqrt((slope * slope) + (2 * bend * room)));
        return room > 0 && safe > 0 ? safe : 0;
    }

    /// <summary>Nepers in a decibel.</summary>
    internal const double NepersPerDecibel = 0.11512925464970228;

    private static Half RoundedUp(double figure) =>
        double.IsNaN(figure) ? Half.PositiveInfinity : double.IsNegativeInfinity(figure) ? Half.NegativeInfinity : (Half)(figure + (0.001 * Math.Abs(figure)) + 1e-7);
}

/// <summary>One number for each of <see cref="BeamBends.TurnsRadians"/>.</summary>
[InlineArray(BeamBends.Turns)]
internal struct HalfOfTurns
{
    private Half _first;
}
