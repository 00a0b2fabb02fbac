using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>When an echo comes, as far as that does not change when the sensor turns where it stands.</summary>
internal enum EchoTiming : byte
{
    /// <summary>Outside the listening window, or so early that it cannot have been reported from farther off.</summary>
    Never,

    /// <summary>From within the dead zone.</summary>
    Deaf,

    /// <summary>While the sensor listens; the floor or a limb may still come first.</summary>
    Listening,
}

/// <summary>The part of an answer that most turns need no more of.</summary>
internal struct QuickAnswer
{
    /// <summary>Any turn of the sensor up to this leaves the margin on its side of 0 dB. [rad]</summary>
    internal float SafeRadians;

    /// <summary>So does a turn up to this that leaves its faces where they are. [rad]</summary>
    internal float SafeStillRadians;

    /// <summary>Range of the echo. [m]</summary>
    internal float RangeMetres;

    /// <summary>The number of the pose of the sensor that was asked.</summary>
    internal byte Pose;

    internal EchoTiming Timing;

    /// <summary>Whether the margin is 0 dB or more.</summary>
    internal bool IsLoud;

    /// <summary>Whether a small change of its range could bring it into the dead zone or the window, or out of them.</summary>
    internal bool IsOnEdge;
}

/// <summary>One answer of a sensor with what is needed to tell whether it stands when the sensor turns.</summary>
internal struct KeptAnswer
{
    /// <summary>Margin by which the echo was loud enough, body in the way included. [dB]</summary>
    internal double MarginDecibels;

    /// <summary>Range of the echo. [m]</summary>
    internal double RangeMetres;

    /// <summary>What tells how far a turn can change the echo; of a bare answer that of the answer before, which proves nothing.</summary>
    internal TurnReach Reach;

    /// <summary>The number of the pose of the sensor that was asked.</summary>
    internal byte Pose;

    internal EchoTiming Timing;

    /// <summary>Whether a small change of its range could bring it into the dead zone or the window, or out of them.</summary>
    internal bool IsOnEdge;

    /// <summary>Whether nothing but the answer itself is known: no turn leaves it standing.</summary>
    internal bool IsBare;

    /// <summary>Whether it fell and the one that takes its place would most likely fall to the next turn like the last: bare will do.</summary>
    internal bool IsRestless;

    /// <summary>Whether only the dead zone keeps it from being a report.</summary>
    internal readonly bool IsLoudInDeadZone => Timing == EchoTiming.Deaf && MarginDecibels >= 0;

    /// <summary>The part that most turns need no more of.</summary>
    /// <param name="prepared">The sensor that was asked.</param>
    internal readonly QuickAnswer Quick(PreparedTransducer prepared)
    {
        (double still, double any) = double.IsNegativeInfinity(MarginDecibels) ? (double.PositiveInfinity, double.PositiveInfinity)
            : IsBare ? (0, 0)
            : PoseTurn.SafeRadians(MarginDecibels, Reach, prepared);
        return new QuickAnswer
        {
            SafeRadians = (float)any,
            SafeStillRadians = (float)still,
            RangeMetres = (float)RangeMetres,
            Pose = Pose,
            Timing = Timing,
            IsLoud = MarginDecibels >= 0,
            IsOnEdge = IsOnEdge,
        };
    }
}
