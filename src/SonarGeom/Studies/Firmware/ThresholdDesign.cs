using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.Firmware;

/// <summary>One point of a threshold for the firmware.</summary>
/// <param name="TimeSeconds">The time since the start of the burst. [s]</param>
/// <param name="LevelDecibels">The level at the receiver face. [dB re 20 µPa]</param>
/// <param name="PartLevelDecibels">The part's own threshold at that time. [dB re 20 µPa]</param>
/// <param name="Reason">What sets it there.</param>
public sealed record DesignedPoint(double TimeSeconds, double LevelDecibels, double PartLevelDecibels, string Reason);

/// <summary>A threshold against time that clears what a sensor hears of the floor and of its wearer.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Points">The points; straight lines in decibels between them.</param>
/// <param name="FalseAlarmsPerHour">How often noise alone crosses it in an hour of pings, before the filter; a frequency. [1/h]</param>
public sealed record ThresholdDesign(string Sensor, ImmutableArray<DesignedPoint> Points, double FalseAlarmsPerHour)
{
    /// <summary>Gets the most by which it lies above the part's own threshold. [dB]</summary>
    public double LargestRaiseDecibels => Points.Max(p => p.LevelDecibels - p.PartLevelDecibels);

    /// <summary>Gets the profile.</summary>
    public ThresholdProfile Profile => new([.. Points.Select(p => new ThresholdPoint(p.TimeSeconds, p.LevelDecibels))]);
}

/// <summary>Designs thresholds.</summary>
internal static class ThresholdDesigner
{
    private const double TraceStepMetres = 0.02;
    private const double PartWords = 1e-9;

    /// <summary>Designs the threshold of one sensor.</summary>
    /// <param name="layouts">The layout in every air that it must stand.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="cycleSeconds">Time from ping to ping. [s]</param>
    /// <param name="marginDecibels">How far above the loudest echo of floor and wearer. [dB]</param>
    internal static ThresholdDesign Of(ImmutableArray<PosedLayout> layouts, int sensor, double cycleSeconds, double marginDecibels)
    {
        SensorPlacement placement = layouts[0].Layout.Sensors[sensor];
        Transducer part = placement.Transducer;
        double dead = Math.Max(part.BlankingSeconds, part.RingDownSeconds), window = part.ListeningWindowSeconds;
        double[] knots = Knots(part, dead, window);
        var loudest = new (double Level, string Label)[knots.Length];
        Array.Fill(loudest, (double.NegativeInfinity, string.Empty));
        foreach (PosedLayout layout in layouts)
        {
            double speed = layout.Medium.SoundSpeedMetresPerSecond;
            foreach (PosedLayout worn in Worn(layout, sensor))
            {
                for (int phase = 0; phase < worn.PhaseCount; phase++)
                {
                    Gather(Trace(worn, sensor, phase), speed, knots, loudest);
                }
            }
        }

        double quiet = part.NoiseLevelDecibels + NoiseMarginDecibels(part, dead, cycleSeconds);
        ImmutableArray<DesignedPoint> points = Straightened(
        [
            .. knots.Select((time, i) =>
            {
                double own = part.DetectionThresholdDecibels(time), clutter = loudest[i].Level + marginDecibels;
                double level = Math.Max(own, Math.Max(clutter, quiet));
                bool isOwn = level - own < PartWords;
                string reason = isOwn ? "the part's own threshold"
                    : clutter >= quiet ? $"{marginDecibels:0.#} dB over {loudest[i].Label}"
                    : "noise alone crosses it less than once an hour";
                return new DesignedPoint(time, isOwn ? own : Math.Ceiling((level * 10) - PartWords) / 10, own, reason);
            }),
        ]);
        return new ThresholdDesign(placement.Name, points, FalseAlarms(part, points, dead, cycleSeconds));
    }

    // As mounted, and knocked up and down by what the mount allows.
    private static IEnumerable<PosedLayout> Worn(PosedLayout layout, int sensor)
    {
        yield return layout;
        SensorPlacement placement = layout.Layout.Sensors[sensor];
        double tolerance = placement.Mount.Tolerance.Tilt.Degrees;
        if (tolerance > 0)
        {
            foreach (double turn in new[] { -tolerance, tolerance })
            {
                var tilt = Angle.FromDegrees(Math.Clamp(placement.Mount.Tilt.Degrees + turn, -90, 90));
                yield return layout.WithSensor(sensor, placement with { Mount = placement.Mount with { Tilt = tilt } });
            }
        }
    }

    private static LevelTrace Trace(PosedLayout worn, int sensor, int phase)
    {
        TraceSource[] sources =
        [
            .. worn.Ground is { } ground
                ? [new FloorSource($"the floor, {ground.Name}", ground) { MirrorFreeFraction = worn.FloorFreeFraction(sensor, phase) }]
                : Enumerable.Empty<TraceSource>(),
            .. worn.OwnParts(sensor, phase).Where(p => !p.IsHidden).Select(p => new PartSource($"the wearer's {p.Name}", p.Part)),
        ];
        return LevelTrace.Of(worn.Sensor(sensor, phase), sources, TraceStepMetres);
    }

    // A level counts for both knots beside it, so that a straight line between knots is nowhere below a level.
    private static void Gather(LevelTrace trace, double speed, double[] knots, (double Level, string Label)[] loudest)
    {
        int right = 0;
        for (int i = 0; i < trace.RangesMetres.Length; i++)
        {
            double time = 2 * trace.RangesMetres[i] / speed, level = Math.Max(trace.TotalDecibels[i], trace.Contributions.Select(c => c.LevelsDecibels[i]).DefaultIfEmpty(PartEcho.SilentDecibels).Max());
            while (right < knots.Length - 1 && knots[right] < time)
            {
                right++;
            }

            if (time < knots[0] - (2 * TraceStepMetres / speed))
            {
                continue;
            }

            for (int k = Math.Max(0, right - 1); k <= right; k++)
            {
                if (level > loudest[k].Level)
                {
                    loudest[k] = (level, trace.Contributions.MaxBy(c => c.LevelsDecibels[i])?.Label ?? "nothing");
                }
            }
        }
    }

    private static double[] Knots(Transducer part, double dead, double window)
    {
        var knots = new SortedSet<double> { dead, window };
        knots.UnionWith(part.Threshold.Points.Select(p => p.TimeSeconds).Where(t => t > dead && t < window));
        for (double time = dead; time < window; time += time < 8e-3 ? 5e-4 : time < 20e-3 ? 1e-3 : 2e-3)
        {
            knots.Add(Math.Round(time, 6));
        }

        // No two within 50 µs of each other.
        var apart = new List<double>();
        foreach (double time in knots)
        {
            if (apart.Count == 0 || time - apart[^1] > 5e-5)
            {
                apart.Add(time);
            }
        }

        return [.. apart];
    }

    // Points that a straight line between others passes at their height or up to 0.2 dB over it say nothing, unless the reason changes there.
    private static ImmutableArray<DesignedPoint> Straightened(ImmutableArray<DesignedPoint> points)
    {
        var kept = new List<DesignedPoint> { points[0] };
        int last = 0;
        for (int i = 1; i < points.Length - 1; i++)
        {
            if (points[i].Reason != points[last].Reason || !Covers(points, last, i + 1))
            {
                kept.Add(points[i]);
                last = i;
            }
        }

        if (points.Length > 1)
        {
            kept.Add(points[^1]);
        }

        return [.. kept];
    }

    private static bool Covers(ImmutableArray<DesignedPoint> points, int from, int to)
    {
        DesignedPoint a = points[from], c = points[to];
        for (int i = from + 1; i < to; i++)
        {
            double share = (points[i].TimeSeconds - a.TimeSeconds) / (c.TimeSeconds - a.TimeSeconds);
            double over = a.LevelDecibels + (share * (c.LevelDecibels - a.LevelDecibels)) - points[i].LevelDecibels;
            if (over is < -1e-9 or > 0.2)
            {
                return false;
            }
        }

        return true;
    }

    // Independent looks of one ping: the listening time over the length of the burst.
    private static double LooksPerHour(Transducer part, double dead, double cycleSeconds) =>
        (part.ListeningWindowSeconds - dead) / part.BurstSeconds * 3600 / cycleSeconds;

    // Noise in a narrow band: its envelope is Rayleigh distributed, P = exp(−10^(Δ/10)).
    private static double NoiseMarginDecibels(Transducer part, double dead, double cycleSeconds) =>
        10 * Math.Log10(Math.Log(Math.Max(Math.E, LooksPerHour(part, dead, cycleSeconds))));

    private static double FalseAlarms(Transducer part, ImmutableArray<DesignedPoint> points, double dead, double cycleSeconds)
    {
        var profile = new ThresholdProfile([.. points.Select(p => new ThresholdPoint(p.TimeSeconds, p.LevelDecibels))]);
        int looks = Math.Max(1, (int)Math.Round((part.ListeningWindowSeconds - dead) / part.BurstSeconds));
        double perPing = Enumerable.Range(0, looks).Sum(i =>
        {
            double time = dead + ((i + 0.5) * (part.ListeningWindowSeconds - dead) / looks);
            return Math.Exp(-Decibels.ToPowerRatio(profile.LevelDecibels(time) - part.NoiseLevelDecibels));
        });
        return perPing * 3600 / cycleSeconds;
    }
}
