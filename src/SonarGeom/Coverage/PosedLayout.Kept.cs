using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Answers that outlive a turn of the sensor.</content>
public sealed partial class PosedLayout
{
    // An echo this near to the floor's or a limb's is asked again.
    private const double MaskToleranceMetres = 1e-4;

    /// <summary>More than any range changes while the faces of a sensor move, and an echo's as far as floor and limbs are concerned. [m]</summary>
    internal const double MaskSlackMetres = EdgeMetres + (2 * MaskToleranceMetres);

    // More than any range changes while faces move.
    private const double EdgeMetres = 2 * FaceMove.RangeFactor * FaceMove.LargestMetres;

    /// <summary>Asks as <see cref="MarginWithDeadZone(int, int, ProbeTarget, Vec3, out bool)"/> does, and returns what tells how long the answer stands.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="target">The probe.</param>
    /// <param name="atMetres">Its middle. [m]</param>
    /// <param name="gross">Scratch memory; null for the bare answer, which no turn leaves standing, for half the work.</param>
    /// <param name="isReport">Whether it is a report.</param>
    internal KeptAnswer Ask(int sensor, int phase, ProbeTarget target, Vec3 atMetres, GrossSum? gross, out bool isReport)
    {
        gross?.Clear();
        PosedSensor posed = _sensors[sensor];
        SensorAtPose pose = posed.Poses[phase];
        TargetPart part = target.Parts[0];
        if (target.Parts.Length != 1 || !target.IsSmall || !PartEchoes.IsBounded(pose, part))
        {
            double margin = MarginWithDeadZone(sensor, phase, target, atMetres, out bool isDeaf);
            isReport = margin >= 0;

            // Nothing is known of it but the answer: no turn leaves it standing.
            return new KeptAnswer
            {
                MarginDecibels = isDeaf ? 0 : margin,
                RangeMetres = double.NaN,
                Reach = TurnReach.Unknown,
                IsBare = true,
                Timing = isDeaf ? EchoTiming.Deaf : EchoTiming.Listening,
            };
        }

        BandEcho echo = PartEchoes.EvaluateBand(pose, part, atMetres, out _, gross);
        var answer = new KeptAnswer { RangeMetres = echo.RangeMetres, Timing = TimingOf(sensor, target, atMetres, echo.RangeMetres), IsOnEdge = IsOnEdge(posed, echo.RangeMetres) };
        isReport = false;
        if (answer.Timing == EchoTiming.Never)
        {
            return answer;
        }

        double threshold = pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
        double bare = echo.LevelDecibels - threshold;
        bool isHidden = bare >= 0 && (answer.Timing == EchoTiming.Deaf || !posed.Shadows[phase].IsClearAhead);
        double hidden = isHidden ? HiddenDecibels(posed, phase, atMetres, atMetres, null) : 0;
        answer.MarginDecibels = bare - hidden;
        isReport = answer.MarginDecibels >= 0 && posed.IsInTime(phase, echo.RangeMetres);
        (answer.Reach, answer.IsBare) = gross is null ? (TurnReach.Unknown, true) : (gross.Reach, false);
        return answer;
    }

    /// <summary>Tells whether an answer of the same sensor before it turned still stands, from its quick part alone.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="turn">The turn from then to now.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="isReport">Whether it is a report now, if it stands.</param>
    /// <param name="isLoudInDeadZone">Whether only the dead zone keeps it from being one now, if it stands.</param>
    /// <returns>Null when the turn has to be looked at; false when the sensor has to be asked again.</returns>
    internal bool? Stands(in QuickAnswer answer, in PoseTurn turn, int sensor, int phase, out bool isReport, out bool isLoudInDeadZone)
    {
        isLoudInDeadZone = answer.Timing == EchoTiming.Deaf && answer.IsLoud;
        isReport = answer.Timing == EchoTiming.Listening && answer.IsLoud;
        if (answer.IsOnEdge && turn.MoveMetres > 0)
        {
            return false;
        }

        if (answer.Timing == EchoTiming.Never)
        {
            return true;
        }

        if (answer.Timing == EchoTiming.Listening)
        {
            PosedSensor now = _sensors[sensor];
            double mask = Math.Min(now.FloorRangeMetres[phase], now.LimbRangeMetres[phase]);
            double tolerance = MaskToleranceMetres + turn.RangeSlackMetres;
            if (mask < answer.RangeMetres + tolerance)
            {
                isReport = false;
                return mask < answer.RangeMetres - tolerance;
            }
        }

        return turn.Radians < (turn.MoveMetres > 0 ? answer.SafeRadians : answer.SafeStillRadians) ? true : null;
    }

    /// <summary>The same where the turn has to be looked at.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="turn">The turn from then to now.</param>
    /// <returns>False when the sensor has to be asked again.</returns>
    internal static bool Stands(in KeptAnswer answer, in PoseTurn turn)
    {
        if (answer.IsBare)
        {
            return false;
        }

        (double least, double most) = turn.LevelChange(answer.Reach);
        return answer.MarginDecibels >= 0 ? answer.MarginDecibels + least > 0 : answer.MarginDecibels + most < 0;
    }

    /// <summary>Whether what takes the place of a fallen answer will most likely fall to another turn as large as the last: no more than a guess.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="turn">The turn that it fell to.</param>
    /// <param name="last">The last turn.</param>
    /// <param name="prepared">The sensor.</param>
    internal static bool IsRestless(in KeptAnswer answer, in PoseTurn turn, in PoseTurn last, PreparedTransducer prepared)
    {
        // Slopes tell nothing of larger turns.
        if (turn.Radians > BeamBends.LeastTurnRadians)
        {
            return false;
        }

        (double still, double any) = PoseTurn.SafeRadians(answer.MarginDecibels + turn.LikelyChangeDecibels(answer.Reach), answer.Reach, prepared);
        return (last.MoveMetres > 0 ? any : still) < last.Radians;
    }

    private EchoTiming TimingOf(int sensor, ProbeTarget target, Vec3 atMetres, double rangeMetres) =>
        rangeMetres > _sensors[sensor].WindowRangeMetres ? EchoTiming.Never
        : rangeMetres >= _sensors[sensor].DeadZoneMetres ? EchoTiming.Listening
        : NearestRangeMetres(sensor, target, atMetres) > DeadZoneMetres(sensor) + SwayMetres ? EchoTiming.Never
        : EchoTiming.Deaf;

    /// <summary>Returns the margin of an answer of the present pose: that of <see cref="MarginDecibels(int, int, ProbeTarget, Vec3)"/>. [dB]</summary>
    internal double MarginOf(in KeptAnswer answer, int sensor, int phase) =>
        answer.Timing == EchoTiming.Listening && _sensors[sensor].IsInTime(phase, answer.RangeMetres) ? answer.MarginDecibels : double.NegativeInfinity;

    /// <summary>Returns bounds on the margin of an answer of an earlier pose. [dB]</summary>
    internal (double Least, double Most) MarginBounds(in KeptAnswer answer, in PoseTurn turn, int sensor, int phase, Vec3 atMetres)
    {
        if (answer.Timing == EchoTiming.Never && !(answer.IsOnEdge && turn.MoveMetres > 0))
        {
            return (double.NegativeInfinity, double.NegativeInfinity);
        }

        if (answer.IsBare || IsMaskUncertain(answer, turn, sensor, phase))
        {
            return (double.NegativeInfinity, double.PositiveInfinity);
        }

        if (answer.Timing == EchoTiming.Deaf || !_sensors[sensor].IsInTime(phase, answer.RangeMetres) || double.IsNegativeInfinity(answer.MarginDecibels))
        {
            return (double.NegativeInfinity, double.NegativeInfinity);
        }

        (double least, double most) = turn.LevelChange(answer.Reach);

        // What the body hides is taken off only of margins that are not negative without it: there they jump.
        bool isHidden = !_sensors[sensor].Shadows[phase].IsClearAhead && HiddenDecibels(_sensors[sensor], phase, atMetres, atMetres, null) > 0;
        return isHidden
            ? (double.NegativeInfinity, Math.Max(answer.MarginDecibels + most, 0))
            : (answer.MarginDecibels + least, Math.Max(answer.MarginDecibels + most, PartEcho.SilentDecibels));
    }

    private bool IsMaskUncertain(in KeptAnswer answer, in PoseTurn turn, int sensor, int phase) => turn.MoveMetres > 0
        && (answer.IsOnEdge
            || Math.Abs(Math.Min(_sensors[sensor].FloorRangeMetres[phase], _sensors[sensor].LimbRangeMetres[phase]) - answer.RangeMetres) < turn.RangeSlackMetres + MaskToleranceMetres);

    private static bool IsOnEdge(PosedSensor posed, double rangeMetres) =>
        Math.Min(Math.Abs(rangeMetres - posed.WindowRangeMetres), Math.Abs(rangeMetres - posed.DeadZoneMetres)) < EdgeMetres;

    /// <summary>Returns the margin as <see cref="BareMarginDecibels"/> does, with what tells how far a turn can change it.</summary>
    internal BareNote AskBare(int sensor, int phase, ProbeTarget target, Vec3 atMetres, GrossSum gross)
    {
        gross.Clear();
        SensorAtPose pose = _sensors[sensor].Poses[phase];
        TargetPart part = target.Parts[0];
        if (target.Parts.Length != 1 || !PartEchoes.IsBounded(pose, part))
        {
            return new BareNote
            {
                MarginDecibels = BareMarginDecibels(sensor, phase, target.Parts, atMetres),
                Reach = TurnReach.Unknown,
            };
        }

        BandEcho echo = PartEchoes.EvaluateBand(pose, part, atMetres, out _, gross);
        if (echo.RangeMetres > _sensors[sensor].WindowRangeMetres)
        {
            return new BareNote
            {
                MarginDecibels = PartEcho.SilentDecibels,
                Reach = echo.RangeMetres < _sensors[sensor].WindowRangeMetres + EdgeMetres ? TurnReach.Unknown : TurnReach.Silent,
            };
        }

        return new BareNote
        {
            MarginDecibels = Math.Max(PartEcho.SilentDecibels, echo.LevelDecibels - pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres)),
            Reach = echo.RangeMetres > _sensors[sensor].WindowRangeMetres - EdgeMetres ? TurnReach.Unknown : gross.Reach,
        };
    }
}
