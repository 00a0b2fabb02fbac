using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>How pelvis, trunk, head and arms of a walker move: sines of the tabled sizes and phases. The legs are set by whoever asks.</summary>
/// <remarks>The middle of the head (half way from chin to crown) and the middle of the pelvis move by exactly the tabled amounts; the
/// lean of the trunk follows from their difference. Half a stride on, the body is its own mirror image exactly.</remarks>
internal sealed class UpperBodySway
{
    // Phases closer than this are one phase, so that half a stride on is exactly half a stride on.
    private const double PhaseSteps = 1099511627776;

    private readonly Body _body;
    private readonly double _loweredMetres;
    private readonly Func<double, double>? _pelvisRaisedMetres;
    private readonly Excursions _excursions;
    private readonly Excursion _headRise;
    private readonly Excursion _headLeft;
    private readonly Excursion _headNod;
    private readonly Vec3 _headMiddle;

    /// <summary>Makes the sway of a body at a speed.</summary>
    /// <param name="body">The body.</param>
    /// <param name="speedMetresPerSecond">Walking speed. [m/s]</param>
    /// <param name="loweredMetres">How much lower than standing the head is on average. [m]</param>
    /// <param name="pelvisRaisedMetres">How much higher than tabled the pelvis is at a stride phase, or null. [m]</param>
    internal UpperBodySway(Body body, double speedMetresPerSecond, double loweredMetres = 0, Func<double, double>? pelvisRaisedMetres = null)
    {
        _pelvisRaisedMetres = pelvisRaisedMetres;
        _body = body;
        _loweredMetres = loweredMetres;
        _excursions = new Excursions(body.Tables.WalkingExcursions, speedMetresPerSecond);
        _headRise = _excursions.HeadWith("head_rise", "pelvis_rise");
        _headLeft = _excursions.HeadWith("head_left", "pelvis_left");

        // The nod keeps the gaze on one place while the head rises and falls: it grows with the rise.
        _headNod = _excursions.HeadWith("head_nose_down", "pelvis_rise");
        double chin = body.Skeleton.Height(BodyMeasure.ChinHeight);
        double crown = body.Skeleton.Height(BodyMeasure.Stature);
        _headMiddle = new Vec3(body.Skeleton.HeadAhead, 0, 0.5 * (chin + crown)) - body.Skeleton[SegmentId.Head];
    }

    /// <summary>Returns the notes on a speed at which sway was not measured; none within.</summary>
    internal static IEnumerable<string> SpeedNotes(BodyTables tables, double speed)
    {
        ImmutableArray<WalkingExcursion> rows = [.. tables.WalkingExcursions.Where(e => e.Quantity == "pelvis_rise")];
        if (speed < rows[0].SpeedMetresPerSecond || speed > rows[^1].SpeedMetresPerSecond)
        {
            yield return $"{speed:0.00} m/s is outside {rows[0].SpeedMetresPerSecond:0.0} to {rows[^1].SpeedMetresPerSecond:0.0} m/s, where sway was measured; the sway of the nearer end is used.";
        }
    }

    /// <summary>Returns the whole body at a stride phase.</summary>
    /// <param name="stridePhase">Phase; of any number the whole part is dropped.</param>
    /// <param name="swingLegs">Sets the rotations of the legs, given those of the rest, the middle of the pelvis and the phase.</param>
    /// <param name="caneTipRiseMetres">How far the tip of a cane is above the ground half way between its touches. [m]</param>
    internal PosedBody PoseAt(double stridePhase, Action<Rotation[], Vec3, double> swingLegs, double caneTipRiseMetres = 0)
    {
        Finite.Or(stridePhase, nameof(stridePhase));
        if (_body.Poses.IsSeated)
        {
            return _body.Still;
        }

        double phase = Math.Round((stridePhase - Math.Floor(stridePhase)) * PhaseSteps) / PhaseSteps;
        bool secondStep = phase is >= 0.5 and < 1;
        phase = secondStep ? phase - 0.5 : phase == 1 ? 0 : phase;
        PosedBody first = new(_body, FirstStep(phase, swingLegs));
        ImmutableArray<RigidTransform> placed = secondStep ? first.MirroredTransforms() : first.Transforms;
        if (_body.Poses.HasHarness)
        {
            placed = _body.Poses.HoldHarness(placed);
        }

        if (!_body.Poses.HasCane)
        {
            return secondStep || _body.Poses.HasHarness ? new PosedBody(_body, placed) : first;
        }

        // The tip touches the side of the foot that is about to step: right at the left heel strike.
        double tip = -_body.CaneCoverage!.HalfWidthMetres * Math.Cos(2 * Math.PI * phase) * (secondStep ? -1 : 1);
        double sine = Math.Sin(2 * Math.PI * phase);
        return new PosedBody(
            _body, _body.Poses.HoldCane(placed, placed[(int)SegmentId.Pelvis].Translation, tip, caneTipRiseMetres * sine * sine));
    }

    /// <summary>Returns where the pelvis is at a stride phase.</summary>
    internal RigidTransform WorldFromPelvis(double phase) => new(
        Turned(
            _excursions["pelvis_turn_left"].At(phase),
            _excursions["pelvis_nose_down"].At(phase),
            _excursions["pelvis_left_side_up"].At(phase)),
        _body.Poses.StillPelvis + new Vec3(0, _excursions["pelvis_left"].At(phase), _excursions["pelvis_rise"].At(phase) + (_pelvisRaisedMetres?.Invoke(phase) ?? 0)));

    private ImmutableArray<RigidTransform> FirstStep(double phase, Action<Rotation[], Vec3, double> swingLegs)
    {
        RigidTransform worldFromPelvis = WorldFromPelvis(phase);
        Vec3 pelvis = worldFromPelvis.Translation;
        Rotation[] r = _body.Poses.Rotations(_body.Spec.Posture);
        r[(int)SegmentId.Pelvis] = worldFromPelvis.Rotation;
        var headTurn = Rotation.AboutZ(Angle.FromRadians(_excursions["head_turn_left"].At(phase)));
        var headNod = Rotation.AboutY(Angle.FromRadians(_headNod.At(phase)));
        r[(int)SegmentId.Head] = headTurn * r[(int)SegmentId.Head] * headNod;
        SwingArms(r, phase);
        swingLegs(r, pelvis, phase);

        // Lean and sink the trunk until the head is where the tables have it.
        Vec3 still = _body.Still.WorldFromSegment(SegmentId.Head).ApplyToPoint(_headMiddle);
        double wantedLeft = _headLeft.At(phase);
        Rotation thorax = Turned(_excursions["thorax_turn_left"].At(phase), _excursions["thorax_nose_down"].At(phase), 0)
            * r[(int)SegmentId.Thorax];
        double lean = 0;
        Vec3 head = Head(lean);
        for (int i = 0; i < 6; i++)
        {
            double lever = head.Z - pelvis.Z - (_body.Skeleton[SegmentId.Thorax].Z - _body.Skeleton[SegmentId.Pelvis].Z);
            lean -= (wantedLeft - head.Y) / lever;
            head = Head(lean);
        }

        double drop = head.Z - (still.Z - _loweredMetres + _headRise.At(phase));
        Rotation leant = Leant(lean);
        r[(int)SegmentId.Thorax] = leant;
        SwingArmsWith(r, leant);
        return _body.Skeleton.Place(pelvis, _body.Spec.Posture.SlumpMetres + drop, [.. r]);

        Rotation Leant(double angle) => Rotation.AboutX(Angle.FromRadians(angle)) * thorax;

        Vec3 Head(double angle)
        {
            r[(int)SegmentId.Thorax] = Leant(angle);
            return _body.Skeleton.Place(pelvis, _body.Spec.Posture.SlumpMetres, [.. r])[(int)SegmentId.Head].ApplyToPoint(_headMiddle);
        }
    }

    // Arms hang from the trunk's turn about the vertical only: they stay in the plane of walking.
    private void SwingArms(Rotation[] r, double phase)
    {
        Excursion shoulder = _excursions["left_shoulder_forward"];
        Excursion elbow = _excursions["left_elbow_bend"];
        for (int side = 0; side < 2; side++)
        {
            double own = phase + (0.5 * side);

            // The offsets are chosen so that the elbow straightens to 5° at the back of the swing.
            double forward = shoulder.At(own) + (0.1 * shoulder.Amplitude);
            double bend = elbow.At(own) + elbow.Amplitude + (5 * Math.PI / 180);
            r[(int)SegmentId.UpperArmLeft + side] = Rotation.AboutY(Angle.FromRadians(-forward));
            r[(int)SegmentId.ForearmLeft + side] = Rotation.AboutY(Angle.FromRadians(-forward - bend));
            r[(int)SegmentId.HandLeft + side] = r[(int)SegmentId.ForearmLeft + side];
        }
    }

    private static void SwingArmsWith(Rotation[] r, Rotation thorax)
    {
        var turn = Rotation.AboutZ(Angle.FromRadians(Math.Atan2(thorax.AxisX.Y, thorax.AxisX.X)));
        for (SegmentId s = SegmentId.UpperArmLeft; s <= SegmentId.HandRight; s++)
        {
            r[(int)s] = turn * r[(int)s];
        }
    }

    private static Rotation Turned(double left, double noseDown, double leftSideUp) =>
        Rotation.AboutZ(Angle.FromRadians(left)) * Rotation.AboutY(Angle.FromRadians(noseDown)) * Rotation.AboutX(Angle.FromRadians(leftSideUp));
}
