using System.Collections.Immutable;
using SonarGeom.Bodies.Surfaces;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>How one wearer stands or sits still, and holds a cane.</summary>
internal sealed class StaticPoses
{
    // Hangers of wheelchair footrests lean about 20° from the vertical (common practice).
    private const double ShankForwardDegrees = 20;
    private const double FootrestClearanceMetres = 0.04;

    // Where the hand holds a cane: ahead of the shoulder and out from the midline, as shares of stature (assumed).
    private const double HandAheadShare = 0.17;
    private const double HandSideShare = 0.035;
    private const double HandBeforeBellyMetres = 0.16;

    // The arm that holds the harness of a guide dog: a little ahead and out from the side, the elbow somewhat bent (assumed; no survey).
    private const double HarnessUpperArmForwardDegrees = 5;
    private const double HarnessForearmForwardDegrees = 35;
    private const double HarnessOutwardDegrees = 10;

    private readonly Body _body;
    private readonly BodyTables _tables;
    private readonly Skeleton _skeleton;

    internal StaticPoses(Body body)
    {
        _body = body;
        _tables = body.Tables;
        _skeleton = body.Skeleton;
        double stature = body.Dimensions.StatureMetres;
        double sole = _skeleton.FootwearMetres;
        CaneHandHeightMetres = (_tables.Assumed("cane_hand_share") * stature) + sole;
        CaneLengthMetres = _tables.Assumed("cane_length_share") * stature;
        var notes = ImmutableArray.CreateBuilder<string>();
        if (IsSeated)
        {
            SeatHeight seat = _tables.SeatHeights[(body.Spec.Wheelchair!.Value, body.Spec.Sex)];
            SeatHeightMetres = body.Spec.SeatHeightMetres is { } given
                ? Finite.Within(given, 0.35, 0.75, "Seat height", "m")
                : seat.MeanMetres;
            notes.Add($"Seated eye and crown heights are the occupied seat height of {SeatHeightMetres:0.000} m and sitting heights of the survey, less {SeatedSlumpMetres * 1000:0} mm of slump; about ±{seat.DeviationMetres * 1000:0} mm (one standard deviation) by the seat alone.");
        }

        if (HasCane)
        {
            notes.Add("The cane hand is at 0.54 of stature (published 0.50 to 0.60), its place ahead and sideways assumed.");
        }

        if (HasHarness)
        {
            notes.Add("The arm that holds the guide dog's harness keeps still, its angles assumed; the dog itself is not modelled, neither as an echo nor as a cover.");
        }

        Notes = notes.ToImmutable();
    }

    internal bool IsSeated => _body.Spec.Wheelchair is not null;

    internal bool HasCane => _body.Spec.CaneSide is not null;

    internal bool HasHarness => _body.Spec.GuideDogSide is not null;

    internal double SeatHeightMetres { get; }

    internal double CaneHandHeightMetres { get; }

    /// <summary>Gets the length from the hand to the tip. [m]</summary>
    internal double CaneLengthMetres { get; }

    internal ImmutableArray<string> Notes { get; }

    /// <summary>Gets where the middle of the pelvis is when the wearer is still. [m]</summary>
    internal Vec3 StillPelvis => new(0, 0, IsSeated ? SeatHeightMetres + SeatOffset : _skeleton[SegmentId.Pelvis].Z);

    // Farther ahead for a wearer of large girth, so that the forearm is clear of the belly.
    private double HandAhead => Math.Max(
        HandAheadShare * _body.Dimensions.StatureMetres,
        (0.56 * _body.Dimensions[BodyMeasure.WaistDepth]) + HandBeforeBellyMetres);

    private double SeatedSlumpMetres => Math.Max(_body.Spec.Posture.SlumpMetres, _tables.Assumed("seated_slump"));

    // The hip joints above the seat: in the standing frame the seat lies a sitting height below the crown.
    private double SeatOffset =>
        _skeleton[SegmentId.Pelvis].Z
        - (_skeleton.Height(BodyMeasure.Stature) - _body.Dimensions[BodyMeasure.SittingHeight]);

    private double StillDrop(Posture posture) => IsSeated ? SeatedSlumpMetres : posture.SlumpMetres;

    internal PosedBody Neutral() => Still(Posture.Upright);

    internal PosedBody InPosture() => Still(_body.Spec.Posture);

    /// <summary>Returns the rotations of a still body in a posture: standing with arms hanging, or seated.</summary>
    internal Rotation[] Rotations(Posture posture)
    {
        var rotations = new Rotation[Segments.Count];
        Array.Fill(rotations, Rotation.Identity);
        rotations[(int)SegmentId.Thorax] = Rotation.AboutY(posture.TrunkFlexion);
        rotations[(int)SegmentId.Neck] = Rotation.AboutY(0.5 * (posture.TrunkFlexion + posture.HeadDown));
        rotations[(int)SegmentId.Head] = Rotation.AboutY(posture.HeadDown);
        if (IsSeated)
        {
            var shank = Rotation.AboutY(-ShankForward());
            foreach (int side in (ReadOnlySpan<int>)[0, 1])
            {
                rotations[(int)SegmentId.UpperArmLeft + side] = Rotation.AboutY(Angle.FromDegrees(-15));
                rotations[(int)SegmentId.ForearmLeft + side] = Rotation.AboutY(Angle.FromDegrees(-80));
                rotations[(int)SegmentId.HandLeft + side] = Rotation.AboutY(Angle.FromDegrees(-80));
                rotations[(int)SegmentId.ThighLeft + side] = Rotation.AboutY(Angle.FromDegrees(-90));
                rotations[(int)SegmentId.ShankLeft + side] = shank;
            }
        }

        return rotations;
    }

    /// <summary>Returns where the parts are when a hand holds the harness of a guide dog; only that arm is moved.</summary>
    internal ImmutableArray<RigidTransform> HoldHarness(ImmutableArray<RigidTransform> placed)
    {
        BodySide side = _body.Spec.GuideDogSide!.Value;
        double outwards = side == BodySide.Left ? HarnessOutwardDegrees : -HarnessOutwardDegrees;
        SegmentId upper = Segments.OnSide(SegmentId.UpperArmLeft, side);
        SegmentId fore = upper + 2, hand = upper + 4;
        var out1 = Rotation.AboutX(Angle.FromDegrees(outwards));
        Rotation upperTurn = out1 * Rotation.AboutY(Angle.FromDegrees(-HarnessUpperArmForwardDegrees));
        Rotation foreTurn = out1 * Rotation.AboutY(Angle.FromDegrees(-HarnessForearmForwardDegrees));
        Vec3 shoulder = placed[(int)upper].Translation;
        Vec3 elbow = shoulder + upperTurn.Apply(_skeleton[fore] - _skeleton[upper]);
        var moved = placed.ToBuilder();
        moved[(int)upper] = new RigidTransform(upperTurn, shoulder);
        moved[(int)fore] = new RigidTransform(foreTurn, elbow);
        moved[(int)hand] = new RigidTransform(foreTurn, elbow + foreTurn.Apply(_skeleton[hand] - _skeleton[fore]));
        return moved.ToImmutable();
    }

    /// <summary>Returns where the parts are when a cane is held and points at a place on the ground.</summary>
    /// <param name="placed">Where the parts are; the arm and the cane are moved.</param>
    /// <param name="pelvis">Position of the middle of the pelvis, before which the hand keeps its place. [m]</param>
    /// <param name="tipSide">How far left of the midline the tip of the cane touches, or null for straight ahead of the hand. [m]</param>
    /// <param name="tipRiseMetres">How far the tip is above the ground. [m]</param>
    internal ImmutableArray<RigidTransform> HoldCane(ImmutableArray<RigidTransform> placed, Vec3 pelvis, double? tipSide, double tipRiseMetres = 0)
    {
        BodySide side = _body.Spec.CaneSide!.Value;
        double outwards = side == BodySide.Left ? 1 : -1;
        double stature = _body.Dimensions.StatureMetres;
        SegmentId upper = Segments.OnSide(SegmentId.UpperArmLeft, side);
        SegmentId fore = upper + 2;
        SegmentId hand = upper + 4;
        Vec3 shoulder = placed[(int)upper].Translation;
        Vec3 designElbow = _skeleton[fore] - _skeleton[upper];
        Vec3 gripInHand = OnSide(_skeleton.GripLeft, side) - _skeleton[hand];
        Vec3 designGrip = _skeleton[hand] - _skeleton[fore] + gripInHand;

        Vec3 wanted = pelvis + new Vec3(
            HandAhead, outwards * HandSideShare * stature, CaneHandHeightMetres - StillPelvis.Z);
        Vec3 bend = new(-0.5, outwards * 0.7, -0.6);
        Vec3 elbow = Limb.Middle(shoulder, wanted, designElbow.Length, designGrip.Length, bend);
        var upperTurn = Limb.Between(designElbow, elbow - shoulder);
        var foreTurn = Limb.Between(designGrip, wanted - elbow);
        Vec3 elbowAt = shoulder + upperTurn.Apply(designElbow);
        Vec3 wristAt = elbowAt + foreTurn.Apply(_skeleton[hand] - _skeleton[fore]);
        Vec3 grip = wristAt + foreTurn.Apply(gripInHand);

        double across = tipSide is { } tip ? tip - grip.Y : 0;

        // The rounded tip rests on the ground: its middle is a shaft radius above it.
        double down = grip.Z - AidSurface.ShaftRadiusMetres - tipRiseMetres;
        double shaft = CaneLengthMetres - AidSurface.ShaftRadiusMetres;
        double ahead = Math.Sqrt(Math.Max(0, (shaft * shaft) - (down * down) - (across * across)));
        var attitude = Rotation.FromAzimuthTiltRoll(
            Angle.FromRadians(Math.Atan2(across, ahead)),
            Angle.FromRadians(-Math.Asin(Math.Min(1, down / shaft))),
            Angle.Zero);
        var moved = placed.ToBuilder();
        moved[(int)upper] = new RigidTransform(upperTurn, shoulder);
        moved[(int)fore] = new RigidTransform(foreTurn, elbowAt);
        moved[(int)hand] = new RigidTransform(foreTurn, wristAt);
        moved[(int)SegmentId.Cane] = new RigidTransform(attitude, grip);
        return moved.ToImmutable();
    }

    internal TriangleMesh WheelchairSurface()
    {
        BodyDimensions d = _body.Dimensions;
        Vec3 thigh = _skeleton[SegmentId.ThighLeft] - _skeleton[SegmentId.ShankLeft];
        ImmutableArray<RigidTransform> placed = _skeleton.Place(StillPelvis, SeatedSlumpMetres, [.. Rotations(Posture.Upright)]);
        double sole = placed[(int)SegmentId.FootLeft].Translation.Z - _skeleton[SegmentId.FootLeft].Z;
        return AidSurface.Wheelchair(
            SeatHeightMetres, d[BodyMeasure.HipBreadth] / 2, thigh.Length, 0.6 * d[BodyMeasure.ButtockDepth], sole);
    }

    // The steepest that the shanks may hang with the shoes clear of the ground.
    private Angle ShankForward()
    {
        Vec3 shank = _skeleton[SegmentId.ShankLeft] - _skeleton[SegmentId.FootLeft];
        Vec3 thigh = _skeleton[SegmentId.ThighLeft] - _skeleton[SegmentId.ShankLeft];

        // With the thigh turned by a quarter, what lay ahead of the knee in it lies above the knee.
        double knee = SeatHeightMetres + SeatOffset - thigh.X;
        double highest = knee - _skeleton[SegmentId.FootLeft].Z - FootrestClearanceMetres;
        double length = Math.Sqrt((shank.X * shank.X) + (shank.Z * shank.Z));
        double own = Math.Atan2(shank.X, shank.Z);
        double least = Math.Acos(Math.Clamp(highest / length, -1, 1)) + own;
        return Angle.FromRadians(Math.Max(least, ShankForwardDegrees * Math.PI / 180));
    }

    private PosedBody Still(Posture posture)
    {
        ImmutableArray<RigidTransform> placed = _skeleton.Place(StillPelvis, StillDrop(posture), [.. Rotations(posture)]);
        placed = HasHarness ? HoldHarness(placed) : placed;
        return new PosedBody(_body, HasCane ? HoldCane(placed, StillPelvis, null) : placed);
    }

    private static Vec3 OnSide(Vec3 left, BodySide side) => side == BodySide.Left ? left : left.MirroredLeftRight();
}
