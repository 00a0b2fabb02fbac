using SonarGeom.Bodies;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>One sensor at every stride phase, with the body's shadow and the echoes that come from the wearer and the floor.</summary>
internal sealed class PosedSensor
{
    private PosedSensor(
        SensorAtPose[] poses, BodyShadow[] shadows, double[] floorRange, double floorMargin, double[] limbRange, (double, string) nearestLimb)
    {
        Poses = poses;
        Shadows = shadows;
        FloorRangeMetres = floorRange;
        FloorMarginDecibels = floorMargin;
        LimbRangeMetres = limbRange;
        NearestLimb = nearestLimb;
        RestMetres = 0.5 * (poses[0].MidpointMetres + poses[poses.Length / 2].MidpointMetres);
        DeadZoneMetres = poses[0].Prepared.DeadZoneMetres;
        WindowRangeMetres = poses[0].Prepared.WindowRangeMetres;
    }

    internal SensorAtPose[] Poses { get; }

    internal BodyShadow[] Shadows { get; }

    internal double[] FloorRangeMetres { get; }

    internal double FloorMarginDecibels { get; }

    internal double[] LimbRangeMetres { get; }

    internal (double RangeMetres, string Limb) NearestLimb { get; }

    /// <summary>Middle between the places at the two heel strikes: the middle line's mirror keeps it. [m]</summary>
    internal Vec3 RestMetres { get; }

    internal double DeadZoneMetres { get; }

    internal double WindowRangeMetres { get; }

    /// <summary>Poses a sensor.</summary>
    /// <param name="wearer">The wearer.</param>
    /// <param name="placement">The sensor and its mount.</param>
    /// <param name="parts">The transducers in their air.</param>
    /// <param name="ground">The ground, or null for none.</param>
    /// <param name="samePlace">A sensor at the same place, whose shadows are taken over; or null.</param>
    internal static PosedSensor Of(
        WearerAtPhases wearer, SensorPlacement placement, PreparedParts parts, Ground? ground, PosedSensor? samePlace = null)
    {
        PreparedTransducer prepared = parts.Of(placement.Transducer);
        int phases = wearer.Poses.Length;
        var poses = new SensorAtPose[phases];
        BodyShadow[] shadows = samePlace?.Shadows ?? new BodyShadow[phases];
        var floor = new double[phases];
        var limb = new double[phases];
        var floorMargins = new double[phases];
        var limbs = new string[phases];
        RigidTransform segmentFromSensor = Mounter.SegmentFromSensor(wearer.Body, placement.Mount);
        SegmentId segment = wearer.Body.Site(placement.Mount.Site).Segment;
        Parallel.For(0, phases, p =>
        {
            poses[p] = new SensorAtPose(prepared, wearer.Poses[p].WorldFromSegment(segment) * Mounter.Swayed(segmentFromSensor, placement.Mount, (double)p / phases));
            shadows[p] ??= BodyShadow.Of(wearer.Scene(p), poses[p].WorldFromSensor.Translation);
            GroundEcho? echo = ground is null ? null : GroundEcho.Of(poses[p], ground, mirrorFreeFraction: shadows[p].FreeFractionBelow(poses[p].MidpointMetres.Z));
            floor[p] = echo?.FirstCrossingMetres ?? double.PositiveInfinity;
            floorMargins[p] = echo?.LargestMarginDecibels ?? double.NegativeInfinity;
            (limb[p], limbs[p]) = LimbReading.Nearest(poses[p], wearer.Poses[p], segment, shadows[p]);
        });
        int first = Array.IndexOf(limb, limb.Min());
        (double, string) nearest = double.IsFinite(limb[first]) ? (limb[first], limbs[first]) : (double.PositiveInfinity, string.Empty);
        return new PosedSensor(poses, shadows, floor, floorMargins.Max(), limb, nearest);
    }

    /// <summary>Returns the sensor and its wearer turned together about the upright axis.</summary>
    internal PosedSensor TurnedBy(Quantities.Angle yaw)
    {
        var turn = new RigidTransform(Rotation.AboutZ(yaw), Vec3.Zero);
        return new PosedSensor(
            [.. Poses.Select(p => new SensorAtPose(p.Prepared, turn * p.WorldFromSensor))], [.. Shadows.Select(s => s.TurnedBy(yaw))],
            FloorRangeMetres, FloorMarginDecibels, LimbRangeMetres, NearestLimb);
    }

    /// <summary>Whether an echo from a range falls outside the dead zone, inside the window, and before the floor and the limbs.</summary>
    internal bool IsInTime(int phase, double rangeMetres) =>
        rangeMetres >= DeadZoneMetres && rangeMetres <= WindowRangeMetres
        && rangeMetres <= FloorRangeMetres[phase] && rangeMetres <= LimbRangeMetres[phase];
}
