using System.Collections.Immutable;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Opens an obstacle's echo into its level budget and names what stands in the way.</summary>
public static class EchoExplainer
{
    /// <summary>Beams weaker than this are written as this, so that every line is a number. [dB]</summary>
    private const double FaintestBeamDecibels = -200;

    /// <summary>The number of factors that an echo is explained by.</summary>
    private const int LossCount = 9;

    /// <summary>Returns the budget of an obstacle's strongest part, and the one limiting cause.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="parts">The parts of the obstacle, at least one.</param>
    /// <param name="partOffset">Displacement of all parts. [m]</param>
    /// <param name="surroundings">What is in the way and what is heard before; null for open air.</param>
    /// <exception cref="ArgumentException">There is no part.</exception>
    public static LevelBudget Explain(
        SensorAtPose sensor, ImmutableArray<TargetPart> parts, Vec3 partOffset = default, EchoSurroundings? surroundings = null)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        if (parts.IsDefaultOrEmpty)
        {
            throw new ArgumentException("An obstacle needs at least one part.", nameof(parts));
        }

        ObstacleEcho echo = ObstacleEcho.Strongest(sensor, parts, partOffset, surroundings);
        bool isSilent = echo.PartIndex < 0;
        TargetPart part = isSilent ? parts[0] : parts[echo.PartIndex];
        Vec3 glint = isSilent ? part.Middle + partOffset : echo.Echo.GlintMetres;
        double r1 = Math.Max(sensor.TransmitterMetres.DistanceTo(glint), 1e-3);
        double r2 = Math.Max(sensor.ReceiverMetres.DistanceTo(glint), 1e-3);
        double range = isSilent ? 0.5 * (r1 + r2) : echo.Echo.RangeMetres;
        double level = isSilent ? PartEcho.SilentDecibels : echo.Echo.BandLevelDecibels;
        double tone = isSilent ? PartEcho.SilentDecibels : echo.Echo.CentreLevelDecibels;
        double transmit = Beam(sensor.TransmitAmplitude(glint));
        double receive = Beam(sensor.ReceiveAmplitude(glint));
        double spreading = -20 * Math.Log10(r1 * r2);
        double absorption = -sensor.Prepared.AbsorptionDecibelsPerMetre * (r1 + r2);
        double swing = isSilent ? 0 : SwingOf(sensor, part, partOffset);
        double roughness = isSilent || part is FoliagePart ? 0 : level - PartEchoes.Evaluate(sensor, Smooth(part), partOffset).BandLevelDecibels;
        double source = sensor.Transducer.SourceLevelDecibels;
        double buildUp = sensor.Prepared.Spectrum.BuildUpDecibels;
        double strength = level - (source + buildUp + transmit + receive + spreading + absorption - part.ReflectionLossDecibels + roughness + swing);
        double received = Math.Max(level + echo.WearerLossDecibels + echo.ObstacleLossDecibels, PartEcho.SilentDecibels * 3);
        double time = 2 * range / sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        double threshold = sensor.Transducer.Threshold.LevelDecibels(time);
        double required = Math.Max(threshold, sensor.Transducer.NoiseLevelDecibels);

        var losses = new FactorLoss[LossCount];
        Fill(
            losses, sensor, part, range, new EchoSums(level, strength, roughness + swing, received, required),
            new SteadyFacts(echo.WearerLossDecibels, EvenBeamLevel(sensor, parts, partOffset), part is FoliagePart && !isSilent ? strength : BestStrength(sensor, parts, range)),
            echo.ObstacleLossDecibels, surroundings);

        return new LevelBudget
        {
            PartName = part.Name,
            GlintMetres = glint,
            RangeMetres = range,
            SourceLevelDecibels = source,
            BuildUpDecibels = buildUp,
            TransmitBeamDecibels = transmit,
            ReceiveBeamDecibels = receive,
            SpreadingDecibels = spreading,
            AbsorptionDecibels = absorption,
            TargetStrengthDecibels = strength,
            MaterialDecibels = -part.ReflectionLossDecibels,
            RoughnessDecibels = roughness,
            SwingDecibels = swing,
            WearerOcclusionDecibels = echo.WearerLossDecibels,
            ObstacleOcclusionDecibels = echo.ObstacleLossDecibels,
            EchoLevelDecibels = received,
            ToneEchoLevelDecibels = tone + echo.WearerLossDecibels + echo.ObstacleLossDecibels,
            ThresholdDecibels = threshold,
            NoiseDecibels = sensor.Transducer.NoiseLevelDecibels,
            DeadZoneMetres = sensor.Prepared.DeadZoneMetres,
            WindowRangeMetres = sensor.Prepared.WindowRangeMetres,
            Cause = CauseOf(losses, received - required),
            Losses = ImmutableCollectionsMarshal.AsImmutableArray(losses),
        };
    }

    /// <summary>Whether <see cref="CauseOfOne"/> explains these parts: a single smooth one with a closed form of its own.</summary>
    internal static bool IsSimple(ImmutableArray<TargetPart> parts) =>
        parts.Length == 1 && parts[0].CountsAsDetection && parts[0].RoughnessRmsMetres == 0 && parts[0] is CylinderPart or PolygonPart or SpherePart;

    /// <summary>Returns the cause that <see cref="Explain"/> names, for a single simple part, without the budget.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part; see <see cref="IsSimple"/>.</param>
    /// <param name="partOffset">Its displacement. [m]</param>
    /// <param name="surroundings">What is in the way and what is heard before.</param>
    /// <param name="steady">What a turn of the sensor on the spot leaves as it is; computed when null.</param>
    internal static LimitingCause CauseOfOne(
        SensorAtPose sensor, TargetPart part, Vec3 partOffset, EchoSurroundings surroundings, ref SteadyFacts? steady)
    {
        BandEcho echo = PartEchoes.EvaluateBand(sensor, part, partOffset, out Vec3 glint);
        if (echo.LevelDecibels <= PartEcho.SilentDecibels)
        {
            return Explain(sensor, [part], partOffset, surroundings).Cause;
        }

        double range = echo.RangeMetres, level = echo.LevelDecibels;
        double r1 = Math.Max(sensor.TransmitterMetres.DistanceTo(glint), 1e-3);
        double r2 = Math.Max(sensor.ReceiverMetres.DistanceTo(glint), 1e-3);
        double transmit = Beam(sensor.TransmitAmplitude(glint));
        double receive = Beam(sensor.ReceiveAmplitude(glint));
        double spreading = -20 * Math.Log10(r1 * r2);
        double absorption = -sensor.Prepared.AbsorptionDecibelsPerMetre * (r1 + r2);
        double strength = level - (sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels + transmit + receive
            + spreading + absorption - part.ReflectionLossDecibels + 0);
        steady ??= new SteadyFacts(
            Occlusion.EchoLossDecibels(surroundings.Wearer, sensor, glint, surroundings.WearerGapMetres),
            PartEchoes.EvaluateBand(new SensorAtPose(sensor.Prepared.WithEvenBeams, sensor.WorldFromSensor), part, partOffset).LevelDecibels,
            Math.Max(PartEcho.SilentDecibels, BestAttitude.TargetStrengthDecibels(sensor, part, range)));
        double received = Math.Max(level + steady.Value.WearerLossDecibels + 0, PartEcho.SilentDecibels * 3);
        double required = sensor.Prepared.DetectionThresholdDecibels(range);
        Span<FactorLoss> losses = stackalloc FactorLoss[LossCount];
        Fill(losses, sensor, part, range, new EchoSums(level, strength, 0, received, required), steady.Value, 0, surroundings);
        return CauseOf(losses, received - required);
    }

    private static void Fill(
        Span<FactorLoss> losses, SensorAtPose sensor, TargetPart part, double range, in EchoSums sums, in SteadyFacts steady, double obstacleLoss,
        EchoSurroundings? surroundings)
    {
        double ideal = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels - (40 * Math.Log10(range))
            - (2 * sensor.Prepared.AbsorptionDecibelsPerMetre * range) + steady.BestStrengthDecibels - part.ReflectionLossDecibels + sums.Roughness;
        losses[0] = new(LimitingCause.DeadZone, range < sensor.Prepared.DeadZoneMetres ? double.PositiveInfinity : 0);
        losses[1] = new(LimitingCause.OutsideListeningWindow, range > sensor.Prepared.WindowRangeMetres ? double.PositiveInfinity : 0);
        losses[2] = new(LimitingCause.OutOfBeam, Math.Max(0, steady.EvenLevelDecibels - sums.Level));
        losses[3] = new(LimitingCause.Specular, Math.Max(0, steady.BestStrengthDecibels - sums.Strength));
        losses[4] = new(LimitingCause.OccludedByWearer, -steady.WearerLossDecibels);
        losses[5] = new(LimitingCause.OccludedByObstacle, -obstacleLoss);
        losses[6] = new(LimitingCause.TooWeak, Math.Max(0, sums.Required - ideal));
        losses[7] = new(LimitingCause.MaskedByFloor, surroundings?.FloorCrossingMetres < range ? double.PositiveInfinity : 0);
        losses[8] = new(LimitingCause.MaskedByOwnLimb, surroundings?.OwnLimbCrossingMetres < range ? double.PositiveInfinity : 0);
    }

    /// <summary>
    /// The definition: the one factor whose removal alone brings the margin to 0 dB or more; if none does, the largest loss. Equal
    /// losses: the first in the list.
    /// </summary>
    internal static LimitingCause CauseOf(ReadOnlySpan<FactorLoss> losses, double margin)
    {
        int hiding = 0;
        FactorLoss hider = default;
        FactorLoss largest = new(LimitingCause.TooWeak, 0);
        foreach (FactorLoss loss in losses)
        {
            bool isMask = loss.Cause is LimitingCause.MaskedByFloor or LimitingCause.MaskedByOwnLimb;
            if (double.IsPositiveInfinity(loss.LossDecibels))
            {
                // What is not heard anyway is not masked.
                if (!isMask || margin >= 0)
                {
                    hider = hiding == 0 ? loss : hider;
                    hiding++;
                }
            }
            else if (loss.LossDecibels > largest.LossDecibels)
            {
                largest = loss;
            }
        }

        if (hiding > 0)
        {
            return hider.Cause;
        }

        if (margin >= 0)
        {
            return LimitingCause.None;
        }

        // A factor suffices when its loss covers the shortfall; the largest loss is then among those that suffice.
        return largest.Cause;
    }

    // The strongest moment's mean against the level of verdicts; see FoliageLevels.
    private static double SwingOf(SensorAtPose sensor, TargetPart part, Vec3 offset) =>
        part is FoliagePart leaves && FoliageEcho.Evaluate(sensor, leaves, offset) is { IsSilent: false } levels ? levels.NineInTenDecibels - levels.MeanDecibels : 0;

    private static double Beam(double amplitude) => Math.Max(20 * Math.Log10(Math.Abs(amplitude)), FaintestBeamDecibels);

    private static TargetPart Smooth(TargetPart part) => part switch
    {
        CornerPart corner => corner with { RoughnessRmsMetres = 0, FloorRoughnessRmsMetres = 0 },
        PoleFootPart foot => foot with { RoughnessRmsMetres = 0, FloorRoughnessRmsMetres = 0 },
        _ => part with { RoughnessRmsMetres = 0 },
    };

    private static double EvenBeamLevel(SensorAtPose sensor, ImmutableArray<TargetPart> parts, Vec3 offset)
    {
        var even = new SensorAtPose(sensor.Prepared.WithEvenBeams, sensor.WorldFromSensor);
        ObstacleEcho echo = ObstacleEcho.Strongest(even, parts, offset);
        if (echo.PartIndex >= 0 && parts[echo.PartIndex] is FoliagePart)
        {
            // Foliage fills the beam: no beam takes in all of it, so that an even one would tell of turns that help nothing. What counts is the
            // same beam turned to where most of the echo comes from.
            Rotation turn = Rotation.Between(sensor.Boresight, (echo.Echo.GlintMetres - sensor.MidpointMetres).Normalized());
            echo = ObstacleEcho.Strongest(sensor.TurnedAboutMiddle(turn), parts, offset);
        }

        return echo.PartIndex < 0 ? PartEcho.SilentDecibels : echo.Echo.BandLevelDecibels;
    }

    private static double BestStrength(SensorAtPose sensor, ImmutableArray<TargetPart> parts, double range)
    {
        double best = PartEcho.SilentDecibels;
        foreach (TargetPart part in parts)
        {
            if (part.CountsAsDetection)
            {
                best = Math.Max(best, BestAttitude.TargetStrengthDecibels(sensor, part, range));
            }
        }

        return best;
    }

    private readonly record struct EchoSums(double Level, double Strength, double Roughness, double Received, double Required);
}

/// <summary>What explains an echo and does not change when the sensor turns where it stands. [dB]</summary>
/// <param name="WearerLossDecibels">What the wearer's body takes away.</param>
/// <param name="EvenLevelDecibels">The level that beams without direction would give; of foliage that which the beams turned to it would give.</param>
/// <param name="BestStrengthDecibels">The target strength square on.</param>
internal readonly record struct SteadyFacts(double WearerLossDecibels, double EvenLevelDecibels, double BestStrengthDecibels);
