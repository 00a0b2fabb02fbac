using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>Hears one ping of one sensor: obstacles, floor, own limbs, earlier bursts, neighbours, noise; the nearest is reported.</summary>
/// <remarks>
/// <para>Culling: an obstacle whose bounding box is farther than the nearest report so far, or lies wholly behind the face of the
/// sensor, cannot change the answer: no echo comes from nearer than the box, and no beam reaches behind its face. Nor can one whose
/// parts stay below the threshold by <see cref="EchoBounds"/>.</para>
/// <para>Foliage swings: each ping draws what share of all pings returns less than it, and hears it as loud as that.</para>
/// <para>Crosstalk by an obstacle is the mean in decibels of what both sensors would hear of it by themselves: exact for like beams
/// from one place, since <c>√(D_t1·D_r1 · D_t2·D_r2)</c> is then <c>D_t1·D_r2</c>.</para>
/// </remarks>
internal sealed class PingEar(DayLayout day, TrialPlace place, TrialSettings settings)
{
    private readonly double[][] _floor = day.FloorOf(place.Ground);
    private readonly PosedLayout _posed = day.Posed;
    private readonly DayBounds[] _bounds = day.BoundsOf(place);

    // The mean of two ranges may be that much below the larger one.
    private const double ApartMetres = 1;

    // Of the ping in work: the nearest report so far.
    private double _nearest;
    private AlertSource _source;
    private int _hazard;

    /// <summary>Hears a ping.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="worldFromWalker">Where the wearer is.</param>
    /// <param name="near">The obstacles that may matter, each where it is now.</param>
    /// <param name="draws">The random numbers of this ping.</param>
    /// <param name="watched">For each obstacle whether to tell how near it came; told in its place.</param>
    internal PingReport Hear(
        int sensor, int phase, in RigidTransform worldFromWalker, ReadOnlySpan<NearHazard> near, ref SeededDraws draws, Span<PingWatch> watched)
    {
        double farthest = day.Farthest[sensor];
        (_nearest, _source, _hazard) = (double.PositiveInfinity, AlertSource.Noise, -1);
        PosedSensor ear = _posed.Ear(sensor);
        Offer(_floor[sensor][phase], AlertSource.Floor);
        Offer(ear.LimbRangeMetres[phase], AlertSource.OwnLimb);
        Offer(day.DirectMetres[sensor], AlertSource.Crosstalk);
        Offer(day.Noise[sensor].RangeMetres(draws.Uniform()), AlertSource.Noise);
        if (settings.OtherBurstsPerSecond > 0)
        {
            double window = ear.WindowRangeMetres - ear.DeadZoneMetres;
            double gap = draws.Exponential() / (settings.OtherBurstsPerSecond * 2 / _posed.Medium.SoundSpeedMetresPerSecond);
            Offer(gap < window ? ear.DeadZoneMetres + gap : double.PositiveInfinity, AlertSource.OtherDevice);
        }

        if (near.Length > 0)
        {
            HearObstacles(sensor, phase, worldFromWalker, near, ref draws, watched);
            foreach (Interference burst in day.Interferences[sensor])
            {
                HearEarlier(sensor, phase, burst, worldFromWalker, near);
            }
        }

        if (!(_nearest <= farthest))
        {
            return PingReport.Silence;
        }

        double told = _nearest * day.ReportedOverTrue;
        double step = settings.RangeStepMetres;
        return new PingReport(step > 0 ? Math.Floor(told / step) * step : told, _source, _hazard);
    }

    private void Offer(double range, AlertSource source, int hazard = -1)
    {
        if (range < _nearest)
        {
            (_nearest, _source, _hazard) = (range, source, hazard);
        }
    }

    private void HearObstacles(
        int sensor, int phase, in RigidTransform worldFromWalker, ReadOnlySpan<NearHazard> near, ref SeededDraws draws, Span<PingWatch> watched)
    {
        PosedSensor ear = _posed.Ear(sensor);
        (Vec3 at, Vec3 boresight) = Looking(ear.Poses[phase], worldFromWalker);
        SensorAtPose? moved = null;
        double farthest = day.Farthest[sensor];
        DayBounds bounds = _bounds[sensor];
        Span<double> heardFrom = stackalloc double[near.Length];
        for (int h = 0; h < near.Length; h++)
        {
            ref readonly NearHazard one = ref near[h];
            heardFrom[h] = double.PositiveInfinity;
            bool isWatched = !watched.IsEmpty && one.IsWatched;
            double share = one.Hazard.IsFoliage ? draws.Uniform() : 0;
            double spread = settings.PingSpreadDecibels > 0 ? settings.PingSpreadDecibels * draws.Bounded() : 0;
            if (isWatched)
            {
                watched[h] = PingWatch.NotHeard;
            }

            double limit = isWatched ? farthest : Math.Min(farthest, _nearest), distance = one.DistanceMetres(at);
            if (distance > limit || one.IsBehind(at, boresight))
            {
                continue;
            }

            double beams = bounds.BeamsDecibels(at, boresight, one);
            if (bounds.MarginDecibels(one.Index, distance, beams) + spread < 0)
            {
                continue;
            }

            bool mayHide = !ear.Shadows[phase].IsClearAhead || one.Hazard.Others?.MayHide(at, one.Hazard.Box, one.OffsetMetres) == true;
            for (int p = 0; p < one.Hazard.Parts.Length; p++)
            {
                if (bounds.MarginDecibels(one.Index, p, distance, beams) + spread < 0)
                {
                    continue;
                }

                // Made only when something may be heard: most pings of a walk meet nothing.
                moved ??= Moved(ear.Poses[phase], worldFromWalker);
                TargetPart part = one.Hazard.Parts[p];
                BandEcho echo = part is FoliagePart leaves
                    ? FoliageEcho.Ping(moved, leaves, one.OffsetMetres, share)
                    : PartEchoes.EvaluateBand(moved, part, one.OffsetMetres);
                double margin = echo.LevelDecibels + spread - moved.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
                if (margin < 0 || echo.RangeMetres > farthest)
                {
                    continue;
                }

                if (echo.RangeMetres < ear.DeadZoneMetres)
                {
                    if (isWatched && watched[h] == PingWatch.NotHeard)
                    {
                        watched[h] = PingWatch.DeadZone;
                    }

                    continue;
                }

                if (echo.RangeMetres >= (isWatched ? heardFrom[h] : Math.Min(_nearest, heardFrom[h])))
                {
                    continue;
                }

                if (mayHide && margin < Hidden(ear, phase, moved, worldFromWalker, part, one))
                {
                    if (isWatched && watched[h] is PingWatch.NotHeard or PingWatch.DeadZone)
                    {
                        watched[h] = PingWatch.Hidden;
                    }

                    continue;
                }

                heardFrom[h] = echo.RangeMetres;
            }

            if (double.IsFinite(heardFrom[h]))
            {
                Offer(heardFrom[h], AlertSource.Obstacle, one.Index);
            }
        }

        for (int h = 0; h < near.Length && !watched.IsEmpty; h++)
        {
            if (near[h].IsWatched && double.IsFinite(heardFrom[h]))
            {
                watched[h] = _hazard == near[h].Index ? PingWatch.Reported : _source switch
                {
                    AlertSource.Floor => PingWatch.MaskedByFloor,
                    AlertSource.OwnLimb => PingWatch.MaskedByOwnLimb,
                    _ => PingWatch.MaskedByOther,
                };
            }
        }
    }

    private static double Hidden(PosedSensor ear, int phase, SensorAtPose moved, in RigidTransform worldFromWalker, TargetPart part, in NearHazard one)
    {
        BodyShadow shadow = ear.Shadows[phase];
        Vec3 glint = PartEchoes.Evaluate(moved, part, one.OffsetMetres).GlintMetres;
        double free = shadow.FreeFraction(worldFromWalker.Rotation.ApplyInverse(glint - moved.MidpointMetres));
        double loss = free >= 1 ? 0 : free <= 0 ? double.PositiveInfinity : -40 * Math.Log10(free);
        return one.Hazard.Others is { } others && double.IsFinite(loss) ? loss - others.EchoLossDecibels(moved, glint, one.OffsetMetres) : loss;
    }

    private void HearEarlier(int sensor, int phase, in Interference burst, in RigidTransform worldFromWalker, ReadOnlySpan<NearHazard> near)
    {
        SensorAtPose listenerPose = _posed.Ear(sensor).Poses[phase], senderPose = _posed.Ear(burst.Sender).Poses[phase];
        (Vec3 at, Vec3 boresight) = Looking(listenerPose, worldFromWalker);
        SensorAtPose? moved = null, sender = null;
        double shift = 0.5 * _posed.Medium.SoundSpeedMetresPerSecond * burst.ElapsedSeconds;
        foreach (ref readonly NearHazard one in near)
        {
            double distance = one.DistanceMetres(at);
            if (distance > Math.Min(burst.ToMetres, _nearest + shift) || one.FarthestMetres(at) + ApartMetres < burst.FromMetres
                || one.IsBehind(at, boresight))
            {
                continue;
            }

            // No echo of this burst comes from nearer than its window begins.
            double from = Math.Max(distance, burst.FromMetres - ApartMetres);
            double loudest = _bounds[sensor].LevelDecibels(one.Index, from, _bounds[sensor].BeamsDecibels(at, boresight, one));
            if (burst.Sender != sensor && loudest > double.NegativeInfinity)
            {
                (Vec3 from2, Vec3 along) = Looking(senderPose, worldFromWalker);
                loudest = 0.5 * (loudest + _bounds[burst.Sender].LevelDecibels(
                    one.Index, Math.Max(one.DistanceMetres(from2), burst.FromMetres - ApartMetres), _bounds[burst.Sender].BeamsDecibels(from2, along, one)));
            }

            if (!(loudest >= burst.LowestThresholdDecibels))
            {
                continue;
            }

            moved ??= Moved(listenerPose, worldFromWalker);
            foreach (TargetPart part in one.Hazard.Parts)
            {
                BandEcho own = LoudOf(moved, part, one.OffsetMetres);
                double level = own.LevelDecibels, range = own.RangeMetres;
                if (burst.Sender != sensor && level > PartEcho.SilentDecibels)
                {
                    sender ??= Moved(senderPose, worldFromWalker);
                    BandEcho its = LoudOf(sender, part, one.OffsetMetres);
                    level = its.LevelDecibels > PartEcho.SilentDecibels ? 0.5 * (level + its.LevelDecibels) : PartEcho.SilentDecibels;
                    range = 0.5 * (range + its.RangeMetres);
                }

                double apparent = range - shift;
                if (apparent >= _posed.Ear(sensor).DeadZoneMetres && level >= moved.Prepared.DetectionThresholdDecibels(apparent))
                {
                    Offer(apparent, burst.Sender == sensor ? AlertSource.Ghost : AlertSource.Crosstalk);
                }
            }
        }
    }

    // A ghost of foliage is taken as loud as one ping in ten makes it: false alerts are not to be flattered.
    private static BandEcho LoudOf(SensorAtPose sensor, TargetPart part, Vec3 offset) =>
        part is FoliagePart leaves ? FoliageEcho.Ping(sensor, leaves, offset, 1 - FoliageEcho.MissedShare) : PartEchoes.EvaluateBand(sensor, part, offset);

    private static (Vec3 AtMetres, Vec3 Boresight) Looking(SensorAtPose pose, in RigidTransform worldFromWalker) =>
        (worldFromWalker.ApplyToPoint(pose.MidpointMetres), worldFromWalker.ApplyToDirection(pose.Boresight));

    private static SensorAtPose Moved(SensorAtPose pose, in RigidTransform worldFromWalker) => new(pose.Prepared, worldFromWalker * pose.WorldFromSensor);
}
