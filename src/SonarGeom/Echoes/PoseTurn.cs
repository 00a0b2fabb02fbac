namespace SonarGeom.Echoes;

/// <summary>By how much the echo of a part can change when a sensor turns where it stands; see <see cref="BeamBends"/> and <see cref="GrossEcho"/>.</summary>
internal readonly struct PoseTurn
{
    /// <summary>Transmitter and receiver count as staying where they are within this; the phase of an echo turns by less than 1e-5. [m]</summary>
    private const double SamePlaceMetres = 1e-9;

    /// <summary>Taken off both ways, for rounding and for the place just allowed. [dB]</summary>
    private const double RoundingDecibels = 1e-3;

    private readonly double _turn;
    private readonly double _y;
    private readonly double _z;

    private PoseTurn(SensorAtPose before, SensorAtPose now)
    {
        // The tangent of the great circle from one boresight to the other, along the sensor's axes before.
        double y = before.Axes.AxisY.Dot(now.Boresight), z = before.Axes.AxisZ.Dot(now.Boresight);
        double sine = Math.Sqrt((y * y) + (z * z));
        _turn = Math.Atan2(sine, before.Boresight.Dot(now.Boresight));
        double stretch = sine > 1e-12 ? _turn / sine : 1;
        (_y, _z) = (stretch * y, stretch * z);
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
        return Math.Min(0.999 * reach.SafeRadians(marginDecibels >= 0 ? away : 1 / away), BeamBends.LargestTurnRadians);
    }

    /// <summary>Returns the least and the largest change of an echo's level. [dB]</summary>
    /// <param name="reach">What the turn can do to it.</param>
    internal (double Least, double Most) LevelChange(in TurnReach reach)
    {
        if (_turn > BeamBends.LargestTurnRadians)
        {
            return (double.NegativeInfinity, double.PositiveInfinity);
        }

        (double least, double most) = reach.Pressures(_y, _z);
        return (least > 0 ? (Math.Log(least) / NepersPerDecibel) - RoundingDecibels : double.NegativeInfinity,
            (Math.Log(most) / NepersPerDecibel) + RoundingDecibels);
    }

    private const double NepersPerDecibel = 0.11512925464970228;
}
