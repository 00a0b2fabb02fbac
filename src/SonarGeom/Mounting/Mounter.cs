using SonarGeom.Bodies;
using SonarGeom.Geometry;

namespace SonarGeom.Mounting;

/// <summary>Puts sensors on bodies.</summary>
public static class Mounter
{
    // A sensor on the skin counts as outside; one pressed in by more than this does not.
    private const double SkinMetres = 0.0005;

    /// <summary>Returns where a sensor is in the frame of the part that carries it.</summary>
    /// <param name="body">The body.</param>
    /// <param name="mount">The mount.</param>
    /// <exception cref="ArgumentException">The body has no such site, or the sensor would end inside the body (the arm that holds a
    /// cane apart, which only hides it).</exception>
    public static RigidTransform SegmentFromSensor(Body body, Mount mount)
    {
        ArgumentNullException.ThrowIfNull(body);
        ArgumentNullException.ThrowIfNull(mount);
        if (!mount.OffsetMetres.IsFinite)
        {
            throw new ArgumentException($"The offset of the mount at {mount.Site} is not finite.", nameof(mount));
        }

        Site site = body.Site(mount.Site);
        RigidTransform worldFromSegment = body.Neutral.WorldFromSegment(site.Segment);
        Vec3 at = worldFromSegment.ApplyToPoint(site.PositionMetres) + mount.OffsetMetres;
        RefuseInside(body, site, mount, at + (SkinMetres * worldFromSegment.ApplyToDirection(site.OutwardNormal)));
        var worldFromSensor = new RigidTransform(Rotation.FromAzimuthTiltRoll(mount.Azimuth, mount.Tilt, mount.Roll), at);
        return worldFromSegment.Inverse * worldFromSensor;
    }

    /// <summary>Returns where a sensor is in the world when the body is posed.</summary>
    /// <param name="posed">The body at a moment.</param>
    /// <param name="mount">The mount.</param>
    /// <exception cref="ArgumentException">The body has no such site, or the sensor would end inside the body.</exception>
    /// <remarks>For many moments of one body, take <see cref="SegmentFromSensor"/> once and multiply.</remarks>
    public static RigidTransform WorldFromSensor(PosedBody posed, Mount mount)
    {
        ArgumentNullException.ThrowIfNull(posed);
        ArgumentNullException.ThrowIfNull(mount);
        RigidTransform segmentFromSensor = SegmentFromSensor(posed.Body, mount);
        return posed.WorldFromSegment(posed.Body.Site(mount.Site).Segment) * segmentFromSensor;
    }

    /// <summary>Returns where a mounted sensor is in the frame of the part that carries it, at a phase of the stride. The same at every
    /// phase for a mount that does not sway.</summary>
    /// <param name="segmentFromSensor">Where it is when it hangs still.</param>
    /// <param name="mount">The mount.</param>
    /// <param name="stridePhase">Phase, 0 at the left heel strike. [unitless]</param>
    public static RigidTransform Swayed(in RigidTransform segmentFromSensor, Mount mount, double stridePhase)
    {
        ArgumentNullException.ThrowIfNull(mount);
        return mount.Sway is { } sway ? segmentFromSensor * new RigidTransform(sway.At(stridePhase), Vec3.Zero) : segmentFromSensor;
    }

    private static void RefuseInside(Body body, Site site, Mount mount, Vec3 at)
    {
        foreach (BodySegment segment in body.Segments)
        {
            // A trunk sensor behind the cane arm is badly placed but not impossible: the arm then hides it from what is ahead.
            if (IsCaneArm(body, segment.Id) && !IsCaneArm(body, site.Segment))
            {
                continue;
            }

            if (SurfacePoint.Winding(body.Neutral.Mesh(segment.Id), at) > 0.5)
            {
                Vec3 o = mount.OffsetMetres;
                throw new ArgumentException(
                    $"The sensor at {mount.Site} with an offset of ({o.X:0.000}, {o.Y:0.000}, {o.Z:0.000}) m lies inside the {Words(segment.Id)}; the offset must keep it outside the body.",
                    nameof(mount));
            }
        }
    }

    private static bool IsCaneArm(Body body, SegmentId segment) =>
        body.Spec.CaneSide is { } side
        && (segment is SegmentId.Cane
            || (segment is >= SegmentId.UpperArmLeft and <= SegmentId.HandRight
                && (segment - SegmentId.UpperArmLeft) % 2 == (side == BodySide.Left ? 0 : 1)));

    private static string Words(SegmentId segment) =>
        string.Concat(segment.ToString().Select((c, i) => char.IsUpper(c) && i > 0 ? " " + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()));
}
