using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>The echo of an obstacle of several parts, by its strongest part over the threshold.</summary>
/// <param name="PartIndex">Which part, or −1 when none answers.</param>
/// <param name="Echo">Its echo, before occlusion.</param>
/// <param name="WearerLossDecibels">What the wearer's body takes away, 0 or negative. [dB]</param>
/// <param name="ObstacleLossDecibels">What other obstacles take away, 0 or negative. [dB]</param>
/// <param name="MarginDecibels">Level over threshold or noise, occlusion counted; −300 when nothing answers. [dB]</param>
/// <param name="PowerSumLevelDecibels">
/// Power sum of all parts in the listening window before occlusion, for notes only: verdicts use the strongest part, which never
/// flatters. [dB re 20 µPa]
/// </param>
public readonly record struct ObstacleEcho(
    int PartIndex, PartEcho Echo, double WearerLossDecibels, double ObstacleLossDecibels, double MarginDecibels, double PowerSumLevelDecibels)
{
    /// <summary>Returns the strongest part of an obstacle.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="parts">The parts.</param>
    /// <param name="partOffset">Displacement of all parts. [m]</param>
    /// <param name="surroundings">What is in the way; null for open air.</param>
    /// <remarks>
    /// Parts that do not count as detecting it are left out. A part inside the listening window is preferred to one outside it,
    /// however loud.
    /// </remarks>
    public static ObstacleEcho Strongest(
        SensorAtPose sensor, ImmutableArray<TargetPart> parts, Vec3 partOffset = default, EchoSurroundings? surroundings = null)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        var best = new ObstacleEcho(-1, new PartEcho(PartEcho.SilentDecibels, PartEcho.SilentDecibels, 0, partOffset, 0, 0, false), 0, 0, PartEcho.SilentDecibels, PartEcho.SilentDecibels);
        bool bestIsInside = false;
        double power = 0;
        for (int i = 0; i < parts.Length; i++)
        {
            if (!parts[i].CountsAsDetection)
            {
                continue;
            }

            PartEcho echo = PartEchoes.Evaluate(sensor, parts[i], partOffset);
            if (echo.IsSilent)
            {
                continue;
            }

            bool isInside = IsInWindow(sensor, echo.RangeMetres);
            if (isInside)
            {
                power += Math.Pow(10, echo.BandLevelDecibels / 10);
            }

            double margin = echo.BandLevelDecibels - sensor.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            if (best.PartIndex >= 0 && (isInside == bestIsInside ? margin <= best.MarginDecibels : bestIsInside))
            {
                continue;
            }

            var (wearer, others) = Losses(sensor, echo.GlintMetres, surroundings);
            margin += wearer + others;
            if (best.PartIndex < 0 || (isInside == bestIsInside ? margin > best.MarginDecibels : isInside))
            {
                best = new ObstacleEcho(i, echo, wearer, others, Math.Max(margin, PartEcho.SilentDecibels), PartEcho.SilentDecibels);
                bestIsInside = isInside;
            }
        }

        return best with { PowerSumLevelDecibels = power > 0 ? 10 * Math.Log10(power) : PartEcho.SilentDecibels };
    }

    /// <summary>
    /// Returns the largest margin of the parts that count and arrive inside the listening window, in open air; −300 when there is
    /// none. No allocation: for maps. [dB]
    /// </summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="parts">The parts.</param>
    /// <param name="partOffset">Displacement of all parts. [m]</param>
    public static double BandMarginDecibels(SensorAtPose sensor, ReadOnlySpan<TargetPart> parts, Vec3 partOffset)
    {
        double best = PartEcho.SilentDecibels;
        foreach (TargetPart part in parts)
        {
            if (part.CountsAsDetection)
            {
                BandEcho echo = PartEchoes.EvaluateBand(sensor, part, partOffset);
                if (IsInWindow(sensor, echo.RangeMetres))
                {
                    best = Math.Max(best, echo.LevelDecibels - sensor.Prepared.DetectionThresholdDecibels(echo.RangeMetres));
                }
            }
        }

        return best;
    }

    internal static bool IsInWindow(SensorAtPose sensor, double rangeMetres) =>
        rangeMetres >= sensor.Prepared.DeadZoneMetres && rangeMetres <= sensor.Prepared.WindowRangeMetres;

    internal static (double Wearer, double Others) Losses(SensorAtPose sensor, Vec3 glint, EchoSurroundings? surroundings) =>
        surroundings is null
            ? (0, 0)
            : (Occlusion.EchoLossDecibels(surroundings.Wearer, sensor, glint, surroundings.WearerGapMetres),
               Occlusion.EchoLossDecibels(surroundings.OtherObstacles, sensor, glint)
                   + LeafVeil.EchoLossDecibels(surroundings.Leaves, surroundings.LeavesOffsetMetres, sensor, glint));
}
