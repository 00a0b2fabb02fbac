using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>By how much the echo of a part can change when a sensor turns where it stands; see <see cref="BeamBends"/> and <see cref="GrossEcho"/>.</summary>
internal readonly struct PoseTurn
{
    /// <summary>Transmitter and receiver count as staying where they are within this; the phase of an echo turns by less than 1e-5. [m]</summary>
    private const double SamePlaceMetres = 1e-9;

    /// <summary>Taken off both ways, for rounding and for the place just allowed. [dB]</summary>
    private const double RoundingDecibels = 1e-3;

    private readonly Vec3 _transmitter;
    private readonly Vec3 _receiver;
    private readonly Vec3 _before;
    private readonly Vec3 _now;
    private readonly LaneBlock _block;
    private readonly double _turn;
    private readonly Vec3 _axis;

    private PoseTurn(SensorAtPose before, SensorAtPose now)
    {
        _transmitter = before.TransmitterMetres;
        _receiver = before.ReceiverMetres;
        _before = before.Boresight;
        _now = now.Boresight;
        _block = before.Prepared.Band;
        Vec3 axis = _before.Cross(_now);
        double sine = axis.Length;
        _turn = Math.Atan2(sine, _before.Dot(_now));
        _axis = sine > 1e-12 ? axis / sine : Vec3.Zero;
    }

    /// <summary>Whether one pose is the other turned about transmitter and receiver, with beams that are the same all round.</summary>
    internal static bool IsTurn(SensorAtPose before, SensorAtPose now) =>
        ReferenceEquals(before.Prepared, now.Prepared) && before.Prepared.Band.IsAxial
        && before.TransmitterMetres.DistanceTo(now.TransmitterMetres) < SamePlaceMetres
        && before.ReceiverMetres.DistanceTo(now.ReceiverMetres) < SamePlaceMetres;

    /// <summary>Makes the turn from one pose to another.</summary>
    /// <exception cref="ArgumentException">It is not a turn on the spot.</exception>
    internal static PoseTurn Between(SensorAtPose before, SensorAtPose now) =>
        IsTurn(before, now) ? new PoseTurn(before, now) : throw new ArgumentException("The sensor does not turn where it stands.", nameof(now));

    /// <summary>Gets the angle of the turn. [rad]</summary>
    internal double Radians => _turn;

    /// <summary>Returns the largest turn that provably leaves a margin on its side of 0 dB. [rad]</summary>
    /// <param name="marginDecibels">The margin. [dB]</param>
    /// <param name="reach">What tells how far a turn can change it.</param>
    internal static double SafeRadians(double marginDecibels, in TurnReach reach)
    {
        double away = Math.Exp((RoundingDecibels - Math.Abs(marginDecibels)) * NepersPerDecibel);
        double safe = (marginDecibels >= 0 ? 1 - away : (1 / away) - 1) / reach.OverEcho.Slope;
        return Math.Min(0.999 * safe, BeamBends.LargestTurnRadians);
    }

    /// <summary>Returns the least and the largest change of an echo's level. [dB]</summary>
    /// <param name="glint">The point of the part that answers. [m]</param>
    /// <param name="reach">What the turn can do to it.</param>
    internal (double Least, double Most) LevelChange(Vec3 glint, in TurnReach reach)
    {
        if (_turn > BeamBends.LargestTurnRadians)
        {
            return (double.NegativeInfinity, double.PositiveInfinity);
        }

        GrossEcho gross = reach.OverEcho;
        double least = 1 - (gross.Slope * _turn), most = Math.Min(1 + (gross.Slope * _turn), gross.Loud);
        Vec3 outward = (glint - _transmitter).Normalized();
        Vec3 back = (glint - _receiver).Normalized();
        Vector512<double> before = _block.Transmit.AtCosine(outward.Dot(_before)) * _block.Receive.AtCosine(back.Dot(_before));
        Vector512<double> now = _block.Transmit.AtCosine(outward.Dot(_now)) * _block.Receive.AtCosine(back.Dot(_now));
        Vector512<double> ratio = now / before;
        (double lowest, double highest) = (Least(ratio), Most(ratio));
        if (lowest > 0 && highest < 10)
        {
            // e^x − 1 ≤ x(1 + x), x at most the turn's share in the largest.
            double side = Math.Max(Math.Abs(_axis.Dot(outward)), Math.Abs(_axis.Dot(back)));
            double apart = _turn * (gross.Bend + (side * gross.Turning)) * (1 + (_turn / BeamBends.LargestTurnRadians));
            double odd = (_turn * gross.OddSlope) + (Math.Max(Math.Abs(1 - lowest), Math.Abs(1 - highest)) * gross.OddLoud);
            least = Math.Max(least, lowest - (highest * apart) - odd);
            most = Math.Min(most, (highest * (1 + apart)) + odd);
        }

        return (least > 0 ? (Math.Log(least) / NepersPerDecibel) - RoundingDecibels : double.NegativeInfinity,
            (Math.Log(most) / NepersPerDecibel) + RoundingDecibels);
    }

    private const double NepersPerDecibel = 0.11512925464970228;

    private static double Least(Vector512<double> v)
    {
        Vector256<double> four = Vector256.Min(v.GetLower(), v.GetUpper());
        return Math.Min(Math.Min(four[0], four[1]), Math.Min(four[2], four[3]));
    }

    private static double Most(Vector512<double> v)
    {
        Vector256<double> four = Vector256.Max(v.GetLower(), v.GetUpper());
        return Math.Max(Math.Max(four[0], four[1]), Math.Max(four[2], four[3]));
    }
}
