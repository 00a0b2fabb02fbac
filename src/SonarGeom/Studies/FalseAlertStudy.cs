using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>Finds out which sensors report the floor or their own wearer, from which tilt on, and what removes it.</summary>
public static class FalseAlertStudy
{
    // 100 to 150 mm typical, 125 mm common (common practice).
    private const double KerbHeightMetres = 0.125;
    private const double KerbLengthMetres = 3;

    private const double StepDegrees = 2.5;
    private const double LowestDegrees = -90;
    private const double HighestDegrees = 45;
    private const int Halvings = 5;

    /// <summary>Studies a layout on its wearer.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="grounds">The kinds of floor, at least one.</param>
    /// <param name="walk">Walking, reaction and braking: they place the reference kerb.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <remarks>The reference kerb, 125 mm high, stands square across the path at the last distance at which a warning of it is in time.
    /// All other sensors stay as they are; each tilt is looked at through the whole stride.</remarks>
    public static FalseAlerts Of(
        PosedLayout layout, ImmutableArray<Ground> grounds, WalkSettings walk, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(walk);
        if (grounds.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A study of false alerts needs at least one kind of floor.", nameof(grounds));
        }

        double need = walk.SpeedMetresPerSecond * StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        double half = layout.HalfWidthMetres;
        double toes = layout.ForemostXMetres(0, 0.5 * KerbHeightMetres, half, 0.5 * KerbHeightMetres);
        Obstacle kerb = Obstacle.KerbUp("kerb", new Vec3(toes + need, 0, 0), KerbHeightMetres, KerbLengthMetres);
        Floor[] floors = [.. grounds.Select(g => new Floor(g, [.. kerb.Parts(g).Where(p => p.CountsAsDetection)]))];
        var risks = ImmutableArray.CreateBuilder<FloorRisk>();
        var own = ImmutableArray.CreateBuilder<OwnRisk>();
        for (int s = 0; s < layout.SensorCount; s++)
        {
            risks.AddRange(Floors(layout, s, floors, cancellation));
            own.AddRange(Own(layout, s, cancellation));
        }

        return new FalseAlerts(need, KerbHeightMetres, risks.ToImmutable(), own.ToImmutable());
    }

    private static IEnumerable<FloorRisk> Floors(PosedLayout layout, int sensor, Floor[] floors, CancellationToken cancellation)
    {
        SensorPlacement placement = layout.Layout.Sensors[sensor];
        double[] tilts = Tilts();
        double[] free = [.. Enumerable.Range(0, layout.PhaseCount).Select(p => layout.FloorFreeFraction(sensor, p))];
        var table = new FloorAtTilt[tilts.Length][];
        Parallel.For(0, tilts.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
        {
            ImmutableArray<SensorAtPose> poses = layout.BarePoses(AtTilt(placement, tilts[i]));
            table[i] = [.. floors.Select(f => Look(poses, free, f, tilts[i]))];
        });

        for (int g = 0; g < floors.Length; g++)
        {
            int ground = g;
            Floor floor = floors[g];
            ImmutableArray<FloorAtTilt> curve = [.. table.Select(row => row[ground])];
            yield return new FloorRisk(
                placement.Name,
                floor.Ground,
                Look(layout.BarePoses(placement), free, floor, placement.Mount.Tilt.Degrees),
                curve,
                Highest(curve, at => at.FirstCrossingMetres is not null, tilt => Look(layout.BarePoses(AtTilt(placement, tilt)), free, floor, tilt)),
                Highest(curve, at => at.MasksKerb, tilt => Look(layout.BarePoses(AtTilt(placement, tilt)), free, floor, tilt)));
        }
    }

    private static FloorAtTilt Look(ImmutableArray<SensorAtPose> poses, double[] free, Floor floor, double tilt)
    {
        double margin = PartEcho.SilentDecibels, level = PartEcho.SilentDecibels, range = 0, kerbMargin = PartEcho.SilentDecibels;
        double? first = null;
        bool masks = false;
        for (int p = 0; p < poses.Length; p++)
        {
            SensorAtPose pose = poses[p];
            GroundEcho echo = GroundEcho.Of(pose, floor.Ground, mirrorFreeFraction: free[p]);
            if (echo.LargestMarginDecibels > margin)
            {
                (margin, level, range) = (echo.LargestMarginDecibels, echo.StrongestLevelDecibels, echo.StrongestRangeMetres);
            }

            first = echo.FirstCrossingMetres < (first ?? double.PositiveInfinity) ? echo.FirstCrossingMetres : first;
            foreach (TargetPart part in floor.KerbParts)
            {
                PartEcho kerb = PartEchoes.Evaluate(pose, part);
                if (!kerb.IsSilent && kerb.RangeMetres >= pose.Prepared.DeadZoneMetres && kerb.RangeMetres <= pose.Prepared.WindowRangeMetres)
                {
                    double over = kerb.BandLevelDecibels - pose.Prepared.DetectionThresholdDecibels(kerb.RangeMetres);
                    kerbMargin = Math.Max(kerbMargin, over);
                    masks |= over >= 0 && echo.FirstCrossingMetres < kerb.RangeMetres;
                }
            }
        }

        return new FloorAtTilt(
            tilt, margin, level, range, 2 * range / poses[0].Prepared.Medium.SoundSpeedMetresPerSecond, first, kerbMargin, masks);
    }

    // The highest tilt of the scan at which something holds, then the edge above it by halving.
    private static double? Highest(ImmutableArray<FloorAtTilt> curve, Func<FloorAtTilt, bool> holds, Func<double, FloorAtTilt> look)
    {
        int last = curve.Length - 1;
        while (last >= 0 && !holds(curve[last]))
        {
            last--;
        }

        if (last < 0 || last == curve.Length - 1)
        {
            return last < 0 ? null : curve[last].TiltDegrees;
        }

        double low = curve[last].TiltDegrees, high = curve[last + 1].TiltDegrees;
        for (int i = 0; i < Halvings; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = holds(look(middle)) ? (middle, high) : (low, middle);
        }

        // The side on which it no longer holds: what is said to be free of it was seen to be free.
        return high;
    }

    private static IEnumerable<OwnRisk> Own(PosedLayout layout, int sensor, CancellationToken cancellation)
    {
        SensorPlacement placement = layout.Layout.Sensors[sensor];
        var postures = new OwnPosture[layout.PhaseCount];
        var parts = new ImmutableArray<OwnPart>[layout.PhaseCount];
        Parallel.For(0, postures.Length, new ParallelOptions { CancellationToken = cancellation }, p =>
        {
            parts[p] = [.. layout.OwnParts(sensor, p).Where(part => !part.IsHidden)];
            postures[p] = new OwnPosture(
                Posture(p, layout.PhaseCount), layout.Sensor(sensor, p), [.. parts[p].Select(part => new PartSource(part.Name, part.Part))]);
        });
        return OwnEcho.Worst(postures).Where(echo => echo.RangeMetres > 0).OrderByDescending(echo => echo.MarginDecibels)
            .Select(echo => new OwnRisk(placement.Name, echo, echo.IsFalseAlert ? SilentTilt(layout, placement, parts, echo.Label) : null));
    }

    // The nearest tilt, up or down, at which the part stays below the threshold in every phase. Turned in place, a sensor keeps its shadows.
    private static double? SilentTilt(PosedLayout layout, SensorPlacement placement, ImmutableArray<OwnPart>[] parts, string name)
    {
        double now = placement.Mount.Tilt.Degrees;

        // The echo rises for as long as the burst and both resonances last, and the threshold falls meanwhile: the lower one counts.
        BurstDrive drive = BurstDrive.Of(placement.Transducer);
        double rise = 0.5 * layout.Medium.SoundSpeedMetresPerSecond * (drive.ToneSeconds + drive.TransmitterSeconds + drive.ReceiverSeconds);
        foreach (double tilt in Tilts().OrderBy(t => Math.Abs(t - now)).ThenByDescending(t => t))
        {
            ImmutableArray<SensorAtPose> poses = layout.BarePoses(AtTilt(placement, tilt));
            bool heard = false;
            for (int p = 0; p < poses.Length && !heard; p++)
            {
                SensorAtPose pose = poses[p];
                foreach (OwnPart part in parts[p].Where(part => part.Name == name))
                {
                    PartEcho echo = PartEchoes.Evaluate(pose, part.Part);
                    heard |= !echo.IsSilent && echo.RangeMetres <= pose.Prepared.WindowRangeMetres
                        && echo.BandLevelDecibels >= pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres + rise);
                }
            }

            if (!heard)
            {
                return tilt;
            }
        }

        return null;
    }

    private static string Posture(int phase, int phases) => FormattableString.Invariant($"{100.0 * phase / phases:0.##} % of the stride");

    private static double[] Tilts() =>
        [.. Enumerable.Range(0, (int)((HighestDegrees - LowestDegrees) / StepDegrees) + 1).Select(i => LowestDegrees + (i * StepDegrees))];

    private static SensorPlacement AtTilt(SensorPlacement placement, double degrees) =>
        placement with { Mount = placement.Mount with { Tilt = Angle.FromDegrees(degrees) } };

    private sealed record Floor(Ground Ground, ImmutableArray<TargetPart> KerbParts);
}
