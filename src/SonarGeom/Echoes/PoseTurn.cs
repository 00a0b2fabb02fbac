namespace SonarGeom.Echoes;

/// <summary>
/// By how much the echo of a part can change when a sensor turns where it stands, about the middle between its faces: see
/// <see cref="GrossEcho"/>, <see cref="TurnReach"/> and, where the faces move, <see cref="FaceMove"/>.
/// </summary>
internal readonly struct PoseTurn
{
    /// <summary>Transmitter and receiver count as staying where they are within this; the phase of an echo turns by less than 1e-5. [m]</summary>
    private const double SamePlaceMetres = 1e-9;

    /// <summary>Taken off both ways, for rounding and for the place just allowed. [dB]</summary>
    private const double RoundingDecibels = 1e-3;

    // The faces see what the sensor turns by, and what they turn by themselves.
    private const double LargestTurnOfFaces = BeamBends.LeastTurnRadians - FaceMove.SidewaysRadians;

    private readonly double _turn;
    private readonly double _y;
    private readonly double _z;
    private readonly double _alreadyDecibels;

    // Which of the turns it is no larger than; −1 if it is larger than all of them, or too large for the faces.
    private readonly int _bounded;

    private PoseTurn(SensorAtPose before, SensorAtPose now)
    {
        // The tangent of the great circle from one boresight to the other, along the sensor's axes before.
        double y = before.Axes.AxisY.Dot(now.Boresight), z = before.Axes.AxisZ.Dot(now.Boresight);
        double sine = Math.Sqrt((y * y) + (z * z));
        _turn = Math.Atan2(sine, before.Boresight.Dot(now.Boresight));
        double stretch = sine > 1e-12 ? _turn / sine : 1;
        (_y, _z) = (stretch * y, stretch * z);
        double move = Math.Max(before.TransmitterMetres.DistanceTo(now.TransmitterMetres), before.ReceiverMetres.DistanceTo(now.ReceiverMetres));
        _alreadyDecibels = RoundingDecibels;
        Radians = _turn;
        StepRadians = before.Prepared.FaceArmMetres > 0 ? Math.Max(_turn, move / before.Prepared.FaceArmMetres) : _turn;
        if (move >= SamePlaceMetres)
        {
            MoveMetres = move;
            Radians = Math.Max(_turn, move / before.Prepared.FaceArmMetres);
            _alreadyDecibels += before.Prepared.SteepestThresholdDecibelsPerMetre * RangeSlackMetres;
            _bounded = _turn > LargestTurnOfFaces || move > FaceMove.LargestMetres ? -1 : 0;
        }
        else
        {
            _bounded = BeamBends.TurnsRadians[^1] < _turn ? -1 : 0;
            while (_bounded >= 0 && BeamBends.TurnsRadians[_bounded] < _turn)
            {
                _bounded++;
            }
        }
    }

    /// <summary>Whether one pose is the other turned about the middle between transmitter and receiver, with beams that are the same all round.</summary>
    internal static bool IsTurn(SensorAtPose before, SensorAtPose now) =>
        ReferenceEquals(before.Prepared, now.Prepared) && before.Prepared.Band.IsAxial
        && before.MidpointMetres.DistanceTo(now.MidpointMetres) < SamePlaceMetres
        && before.WorldFromSensor.Translation.DistanceTo(now.WorldFromSensor.Translation) < SamePlaceMetres;

    /// <summary>Makes the turn from one pose to another.</summary>
    /// <exception cref="ArgumentException">It is not a turn on the spot.</exception>
    internal static PoseTurn Between(SensorAtPose before, SensorAtPose now) =>
        IsTurn(before, now) ? new PoseTurn(before, now) : throw new ArgumentException("The sensor does not turn where it stands.", nameof(now));

    /// <summary>Gets the angle of the turn, or what moves the faces as far if that is more. [rad]</summary>
    internal double Radians { get; }

    /// <summary>Gets the same, with faces that as good as stay counted too: the triangle inequality holds. [rad]</summary>
    internal double StepRadians { get; }

    /// <summary>Gets the angle of the turn if the faces stay; else it is infinite. [rad]</summary>
    internal double StillRadians => MoveMetres > 0 ? double.PositiveInfinity : _turn;

    /// <summary>Gets how far the faces move; 0 if they stay. [m]</summary>
    internal double MoveMetres { get; }

    /// <summary>Gets how far the range of an echo can change; 0 if the faces stay. [m]</summary>
    internal double RangeSlackMetres => FaceMove.RangeFactor * MoveMetres;

    /// <summary>Returns the largest turns that provably leave a margin on its side of 0 dB. [rad]</summary>
    /// <param name="marginDecibels">The margin. [dB]</param>
    /// <param name="reach">What tells how far a turn can change it.</param>
    /// <param name="prepared">The sensor.</param>
    /// <returns>That of turns that leave the faces where they are, and that of any.</returns>
    internal static (double Still, double Any) SafeRadians(double marginDecibels, in TurnReach reach, PreparedTransducer prepared)
    {
        double nearer = Math.Abs(marginDecibels) - RoundingDecibels;
        double still = nearer > 0 ? 0.999 * reach.SafeRadians(Math.CopySign(nearer, marginDecibels)) : 0, arm = prepared.FaceArmMetres;
        if (arm == 0)
        {
            return (still, still);
        }

        nearer -= prepared.SteepestThresholdDecibelsPerMetre * FaceMove.RangeFactor * FaceMove.LargestMetres;
        double largest = Math.Min(LargestTurnOfFaces, FaceMove.LargestMetres / arm);
        return (still, nearer > 0 ? Math.Min(0.999 * reach.SafeMovedRadians(Math.CopySign(nearer, marginDecibels), arm), largest) : 0);
    }

    /// <summary>Returns by how much an echo's level would change if its slopes were all. [dB]</summary>
    /// <param name="reach">What the turn can do to it.</param>
    internal double LikelyChangeDecibels(in TurnReach reach) => 10 * Math.Log10(Math.Max(reach.LikelyPower(_y, _z), 1e-30));

    /// <summary>Returns the least and the largest change of an echo's level. [dB]</summary>
    /// <param name="reach">What the turn can do to it.</param>
    internal (double Least, double Most) LevelChange(in TurnReach reach)
    {
        if (_bounded < 0 || (MoveMetres > 0 && !reach.CanMove))
        {
            return (double.NegativeInfinity, double.PositiveInfinity);
        }

        (double least, double most) = reach.Pressures(_y, _z, MoveMetres, _bounded);
        double loud = MoveMetres > 0 ? reach.LoudMovedDecibels : reach.LoudDecibels(_bounded);
        return (least > 0 ? (Math.Log(least) / TurnReach.NepersPerDecibel) - _alreadyDecibels : double.NegativeInfinity,
            Math.Min(Math.Log(most) / TurnReach.NepersPerDecibel, loud) + _alreadyDecibels);
    }
}
