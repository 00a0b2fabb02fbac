using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>A walking posture that sways as walkers do: head, trunk and pelvis rise, shift and turn by the tabled amounts, arms and
/// legs swing. It is not a gait: joint angles over the stride are not reproduced.</summary>
/// <remarks>
/// <para>The middle of the head (half way from chin to crown) and the middle of the pelvis move by exactly the tabled amounts; the
/// lean of the trunk follows from their difference. Half a stride on, the body is its own mirror image exactly.</para>
/// <para>The mean height is that of standing still, which is an upper bound: at mid-stance real walkers are about as high as
/// standing, and lower at other times. The leading leg therefore reaches less far ahead than in a real stride.</para>
/// <para>A wearer in a wheelchair sits still.</para>
/// </remarks>
public sealed class SwayEnvelope : IWalkingMotion
{
    private const double SlowestMetresPerSecond = 0.1;
    private const double FastestMetresPerSecond = 2.5;

    // Phases closer than this are one phase, so that half a stride on is exactly half a stride on.
    private const double PhaseSteps = 1099511627776;

    private readonly Excursions _excursions;
    private readonly Excursion _headRise;
    private readonly Excursion _headLeft;
    private readonly Excursion _headNod;
    private readonly SwingingLegs _legs;
    private readonly Vec3 _headMiddle;

    private SwayEnvelope(Body body, double speedMetresPerSecond)
    {
        Body = body;
        SpeedMetresPerSecond = speedMetresPerSecond;
        _excursions = new Excursions(body.Tables.WalkingExcursions, speedMetresPerSecond);
        StrideTimes times = StrideTimes.Of(body, speedMetresPerSecond);
        StrideSeconds = times.StrideSeconds;
        _headRise = _excursions.HeadWith("head_rise", "pelvis_rise");
        _headLeft = _excursions.HeadWith("head_left", "pelvis_left");

        // The nod keeps the gaze on one place while the head rises and falls: it grows with the rise.
        _headNod = _excursions.HeadWith("head_nose_down", "pelvis_rise");
        _legs = new SwingingLegs(body, times.StanceShare, speedMetresPerSecond * times.StrideSeconds, WorldFromPelvis);
        double chin = body.Skeleton.Height(BodyMeasure.ChinHeight);
        double crown = body.Skeleton.Height(BodyMeasure.Stature);
        _headMiddle = new Vec3(body.Skeleton.HeadAhead, 0, 0.5 * (chin + crown)) - body.Skeleton[SegmentId.Head];
        Notes = body.Poses.IsSeated
            ? ["The wearer sits still; the sway of pushing a wheelchair is not modelled."]
            :
            [
                "Sway of sighted walkers; head and pelvis amounts from published peak values (B), trunk, arms and pelvis turns from example sets or children (C to D).",
                "The sideways lean of the trunk follows from head and pelvis sway; the larger lean of an example set (3.2° in all) is not used.",
                "Mean height is that of standing still, an upper bound by about half the rise; the leading leg reaches less far ahead than in a real stride.",
                .. SpeedNotes(body.Tables, speedMetresPerSecond),
                .. times.Notes,
            ];
    }

    /// <inheritdoc/>
    public Body Body { get; }

    /// <inheritdoc/>
    public double StrideSeconds { get; }

    /// <inheritdoc/>
    public double SpeedMetresPerSecond { get; }

    /// <inheritdoc/>
    public ImmutableArray<string> Notes { get; }

    /// <summary>Makes the sway of a wearer at a walking speed.</summary>
    /// <param name="body">The body.</param>
    /// <param name="speedMetresPerSecond">Walking speed, from 0.1 to 2.5. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="speedMetresPerSecond"/> is outside its range.</exception>
    public static SwayEnvelope Of(Body body, double speedMetresPerSecond)
    {
        ArgumentNullException.ThrowIfNull(body);
        Finite.Within(speedMetresPerSecond, SlowestMetresPerSecond, FastestMetresPerSecond, "Walking speed", "m/s");
        return new SwayEnvelope(body, speedMetresPerSecond);
    }

    /// <inheritdoc/>
    public PosedBody PoseAt(double stridePhase)
    {
        Finite.Or(stridePhase, nameof(stridePhase));
        if (Body.Poses.IsSeated)
        {
            return Body.Still;
        }

        double phase = Math.Round((stridePhase - Math.Floor(stridePhase)) * PhaseSteps) / PhaseSteps;
        bool secondStep = phase is >= 0.5 and < 1;
        phase = secondStep ? phase - 0.5 : phase == 1 ? 0 : phase;
        PosedBody first = new(Body, FirstStep(phase));
        ImmutableArray<RigidTransform> placed = secondStep ? first.MirroredTransforms() : first.Transforms;
        if (!Body.Poses.HasCane)
        {
            return secondStep ? new PosedBody(Body, placed) : first;
        }

        // The tip touches the side of the foot that is about to step: right at the left heel strike.
        double tip = -Body.CaneCoverage!.HalfWidthMetres * Math.Cos(2 * Math.PI * phase) * (secondStep ? -1 : 1);
        return new PosedBody(Body, Body.Poses.HoldCane(placed, placed[(int)SegmentId.Pelvis].Translation, tip));
    }

    private RigidTransform WorldFromPelvis(double phase) => new(
        Turned(
            _excursions["pelvis_turn_left"].At(phase),
            _excursions["pelvis_nose_down"].At(phase),
            _excursions["pelvis_left_side_up"].At(phase)),
        Body.Poses.StillPelvis + new Vec3(0, _excursions["pelvis_left"].At(phase), _excursions["pelvis_rise"].At(phase)));

    private ImmutableArray<RigidTransform> FirstStep(double phase)
    {
        RigidTransform worldFromPelvis = WorldFromPelvis(phase);
        Vec3 pelvis = worldFromPelvis.Translation;
        Rotation[] r = Body.Poses.Rotations(Body.Spec.Posture);
        r[(int)SegmentId.Pelvis] = worldFromPelvis.Rotation;
        var headTurn = Rotation.AboutZ(Angle.FromRadians(_excursions["head_turn_left"].At(phase)));
        var headNod = Rotation.AboutY(Angle.FromRadians(_headNod.At(phase)));
        r[(int)SegmentId.Head] = headTurn * r[(int)SegmentId.Head] * headNod;
        SwingArms(r, phase);
        _legs.Swing(r, pelvis, phase);

        // Lean and sink the trunk until the head is where the tables have it.
        Vec3 still = Body.Still.WorldFromSegment(SegmentId.Head).ApplyToPoint(_headMiddle);
        double wantedLeft = _headLeft.At(phase);
        Rotation thorax = Turned(_excursions["thorax_turn_left"].At(phase), _excursions["thorax_nose_down"].At(phase), 0)
            * r[(int)SegmentId.Thorax];
        double lean = 0;
        Vec3 head = Head(lean);
        for (int i = 0; i < 6; i++)
        {
            double lever = head.Z - pelvis.Z - (Body.Skeleton[SegmentId.Thorax].Z - Body.Skeleton[SegmentId.Pelvis].Z);
            lean -= (wantedLeft - head.Y) / lever;
            head = Head(lean);
        }

        double drop = head.Z - (still.Z + _headRise.At(phase));
        Rotation leant = Leant(lean);
        r[(int)SegmentId.Thorax] = leant;
        SwingArmsWith(r, leant);
        return Body.Skeleton.Place(pelvis, Body.Spec.Posture.SlumpMetres + drop, [.. r]);

        Rotation Leant(double angle) => Rotation.AboutX(Angle.FromRadians(angle)) * thorax;

        Vec3 Head(double angle)
        {
            r[(int)SegmentId.Thorax] = Leant(angle);
            return Body.Skeleton.Place(pelvis, Body.Spec.Posture.SlumpMetres, [.. r])[(int)SegmentId.Head].ApplyToPoint(_headMiddle);
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

    private static IEnumerable<string> SpeedNotes(BodyTables tables, double speed)
    {
        ImmutableArray<WalkingExcursion> rows = [.. tables.WalkingExcursions.Where(e => e.Quantity == "pelvis_rise")];
        if (speed < rows[0].SpeedMetresPerSecond || speed > rows[^1].SpeedMetresPerSecond)
        {
            yield return $"{speed:0.00} m/s is outside {rows[0].SpeedMetresPerSecond:0.0} to {rows[^1].SpeedMetresPerSecond:0.0} m/s, where sway was measured; the sway of the nearer end is used.";
        }
    }
}
