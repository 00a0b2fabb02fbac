using System.Collections.Immutable;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes;

/// <summary>The mean power of the echo of many leaves by quadrature over their volume, and the level that nine pings in ten exceed.</summary>
/// <remarks>
/// <para>Waves from different leaves have random phases, so powers add up: the density of returned power over half the path ρ is
/// <c>N ∫ ⟨|f|²⟩ D_T² D_R² e^(−4αρ) e^(−2μ(ρ−ρ₁)) ρ^(−2) dΩ</c> over all directions in which the form begins at ρ₁ &lt; ρ and has not yet ended
/// (N leaves per volume, ⟨|f|²⟩ of <see cref="LeafScatter"/>, μ the extinction of <see cref="FoliagePart"/>, α the absorption; single
/// scattering with extinction, as for clouds of scatterers in sonar: Urick, Principles of Underwater Sound, ch. 8, from memory). Convolved
/// with the power of the burst in time it gives the mean power against time, and its strongest moment is the mean level. A point target
/// would be told at the same level and range as by the other closed forms.</para>
/// <para>Single pings swing about the mean: <see cref="LeafSwing"/> tells the distribution at one moment, for
/// <c>(N ∫ w dV)² / (N ∫ w² dV)</c> leaves, w the weight of a place by beams, spreading, extinction and burst. A receiver reports a ping when
/// any moment of the echo crosses its threshold, and moments farther apart than the burst is long are independent: a level x is missed
/// with the probability <c>Π F_i(x)</c> over them. Moments count from 0.25 m before the strongest to 0.25 m behind it, outside the dead zone
/// and inside the listening window, each against the threshold of its own time. One moment alone would be 10 to 15 dB lower and
/// call missed what is heard; the echo is taken as it is at the last of them, so that a mask or a late threshold is never flattered.</para>
/// <para>All leaves count alike in the number of them, which tells the low tail up to 2.5 dB too low; beams are taken where a ray enters
/// the form. Left out: waves from leaf to leaf, branches, the ground's mirror image, wind.</para>
/// </remarks>
public static class FoliageEcho
{
    /// <summary>Share of the pings that the level of a verdict misses.</summary>
    internal const double MissedShare = 0.1;

    private const double StretchMetres = 0.25;
    private const int MostMoments = 32;
    private const int FewestRays = 12;
    private const int MostRays = 20;
    private const double RaysPerReach = 8;
    private const int MostBins = 1024;
    private const double NearestMetres = 0.05;
    private const double LargestExponent = 150;
    private const double FaintestShare = 0.01;

    /// <summary>Returns the echo of foliage over the band of the burst.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The foliage.</param>
    /// <param name="partOffset">Displacement of the foliage from where it is defined. [m]</param>
    public static FoliageLevels Evaluate(SensorAtPose sensor, FoliagePart part, Vec3 partOffset = default)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(part);
        return Evaluate(sensor, part, partOffset, sensor.Prepared.Band, 1, [], MissedShare);
    }

    /// <summary>Returns the echo as that of a part: the level that nine pings in ten exceed, over the band and at the nominal frequency.</summary>
    internal static PartEcho AsPart(SensorAtPose sensor, FoliagePart part, Vec3 partOffset)
    {
        FoliageLevels band = Evaluate(sensor, part, partOffset, sensor.Prepared.Band, 1, [], MissedShare);
        if (band.IsSilent)
        {
            return new PartEcho(PartEcho.SilentDecibels, PartEcho.SilentDecibels, 0, part.Middle + partOffset, 0, 0, false);
        }

        FoliageLevels tone = Evaluate(sensor, part, partOffset, sensor.Prepared.Centre, 1, [], MissedShare);
        return new PartEcho(
            band.NineInTenDecibels, tone.NineInTenDecibels, band.RangeMetres, band.GlintMetres,
            sensor.TransmitAmplitude(band.GlintMetres), sensor.ReceiveAmplitude(band.GlintMetres), false);
    }

    /// <summary>Returns the echo of one ping: that of a share of all pings.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The foliage.</param>
    /// <param name="partOffset">Displacement of the foliage. [m]</param>
    /// <param name="share">The share of pings that return less, 0 to 1.</param>
    internal static BandEcho Ping(SensorAtPose sensor, FoliagePart part, Vec3 partOffset, double share)
    {
        FoliageLevels levels = Evaluate(sensor, part, partOffset, sensor.Prepared.Band, 1, [], Math.Clamp(share, 1e-3, 1 - 1e-3));
        return new BandEcho(levels.NineInTenDecibels, levels.RangeMetres);
    }

    /// <summary>Returns the mean power against range, as a receiver hears it while the burst goes through the leaves. [dB re 20 µPa]</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The foliage.</param>
    /// <param name="belowDecibels">How far below its strongest moment rings are told. [dB]</param>
    internal static ImmutableArray<GroundRing> Rings(SensorAtPose sensor, FoliagePart part, double belowDecibels = 60)
    {
        var trace = new double[MostBins + 64];
        FoliageLevels levels = Evaluate(sensor, part, default, sensor.Prepared.Band, 1, trace, MissedShare);
        if (levels.IsSilent)
        {
            return [];
        }

        // The trace begins where its first bin does: the range of its largest entry is known, the burst is late by its own peak.
        BurstPower burst = sensor.Prepared.BurstPower;
        int strongest = Array.IndexOf(trace, trace.Max());
        double constant = Constant(sensor, part);
        return
        [
            .. trace.Select((power, i) => (Range: levels.StrongestRangeMetres + ((i - strongest + burst.PeakStep) * burst.StepMetres), Level: constant + Decibels.FromPowerRatio(power)))
                .Where(r => r.Level > levels.MeanDecibels - belowDecibels && r.Range > 0)
                .Select(r => new GroundRing(r.Range, r.Level)),
        ];
    }

    /// <summary>The same as <see cref="Evaluate(SensorAtPose, FoliagePart, Vec3)"/> with finer steps, at given frequencies.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The foliage.</param>
    /// <param name="partOffset">Displacement of the foliage. [m]</param>
    /// <param name="block">The frequencies.</param>
    /// <param name="finer">How many times as many rays each way, 1 to 4.</param>
    /// <param name="trace">Takes the mean power at each step of half a path; may be empty.</param>
    /// <param name="missed">Share of the pings that stay below the second level.</param>
    internal static FoliageLevels Evaluate(
        SensorAtPose sensor, FoliagePart part, Vec3 partOffset, LaneBlock block, int finer, Span<double> trace, double missed)
    {
        var silent = new FoliageLevels(PartEcho.SilentDecibels, PartEcho.SilentDecibels, 0, 0, part.Middle + partOffset, 0);
        var view = new LeafView(sensor, part, partOffset, block);
        if (!view.Aim(part, sensor.Prepared.Band.Reach, out LeafWindow seen))
        {
            return silent;
        }

        int across = RaysOver(seen.HighA - seen.LowA, sensor.Prepared.Band.Reach) * finer, up = RaysOver(seen.HighB - seen.LowB, sensor.Prepared.Band.Reach) * finer;
        Span<LeafRay> buffer = finer == 1 ? stackalloc LeafRay[MostRays * MostRays] : new LeafRay[across * up];
        LeafScatter leaf = block.LeafOf(part.LeafRadiusMetres);
        int count = Cast(view, part, block, leaf, seen, across, up, buffer);
        ReadOnlySpan<LeafRay> rays = buffer[..count];
        double start = double.PositiveInfinity, end = 0;
        foreach (ref readonly LeafRay ray in rays)
        {
            (start, end) = (Math.Min(start, ray.Enter), Math.Max(end, ray.Leave));
        }

        if (count == 0)
        {
            return silent;
        }

        // What is left of a wave after that much decay is nothing.
        double step = sensor.Prepared.BurstPower.StepMetres, decay = (2 * part.ExtinctionPerMetre) + (4 * block.AbsorptionNepersPerMetre[LaneBlock.Lanes / 2]);
        end = Math.Min(end, start + (LargestExponent / decay));
        int bins = Math.Min((int)((end - start) / step) + 3, MostBins);
        Span<double> power = stackalloc double[bins], square = stackalloc double[bins];
        Fill(rays, start, step, decay, power, square);

        BurstPower burst = sensor.Prepared.BurstPower;
        Span<double> heard = stackalloc double[bins + burst.Shares.Length - 1];
        int strongest = Hear(power, burst.Shares, heard);
        double density = part.LeavesPerCubicMetre, constant = Constant(sensor, part) + Decibels.FromPowerRatio(density);
        double level = constant + Decibels.FromPowerRatio(heard[strongest]);
        if (!(level > PartEcho.SilentDecibels))
        {
            return silent;
        }

        for (int i = 0; i < trace.Length; i++)
        {
            trace[i] = i < heard.Length ? heard[i] * density : 0;
        }

        // Moments that do not hear the same leaves, from the strongest one either way; ranges as of a point target.
        double first = start - (burst.PeakStep * step), at = Math.Max(first + (strongest * step), start);
        double dead = sensor.Prepared.DeadZoneMetres, window = Math.Min(sensor.Prepared.WindowRangeMetres, at + StretchMetres);
        Span<Moment> moments = stackalloc Moment[MostMoments];
        int number = 0;
        double last = at;
        for (int i = strongest - ((int)(StretchMetres / step) / burst.ApartSteps * burst.ApartSteps); i < heard.Length && number < MostMoments; i += burst.ApartSteps)
        {
            double range = first + (i * step);
            if (i >= 0 && heard[i] > FaintestShare * heard[strongest] && range >= dead && range <= window)
            {
                moments[number++] = new Moment(
                    constant + Decibels.FromPowerRatio(heard[i]) - sensor.Prepared.DetectionThresholdDecibels(range), Leaves(square, heard[i], burst.Shares, i, density));
                last = Math.Max(range, start);
            }
        }

        double leaves = Leaves(square, heard[strongest], burst.Shares, strongest, density);
        if (number == 0)
        {
            // All of it in the dead zone or past the window: told as it is at its strongest moment.
            moments[number++] = new Moment(level - sensor.Prepared.DetectionThresholdDecibels(at), leaves);
        }

        double exceeded = leaf.Swing.ExceededDecibels(moments[..number], missed) + sensor.Prepared.DetectionThresholdDecibels(last);
        return new FoliageLevels(
            level, Math.Max(exceeded, PartEcho.SilentDecibels), last, at, view.Glint(rays, at, 2 * burst.PeakStep * step, decay) + partOffset, leaves);
    }

    /// <summary>Returns how many leaves that count alike swing as those that answer at a moment.</summary>
    private static double Leaves(ReadOnlySpan<double> square, double heard, double[] burst, int moment, double density)
    {
        double squares = 0;
        for (int i = Math.Max(0, moment - burst.Length + 1); i <= moment && i < square.Length; i++)
        {
            squares += square[i] * burst[moment - i] * burst[moment - i];
        }

        return density * heard * heard / squares;
    }

    private static double Constant(SensorAtPose sensor, FoliagePart part) =>
        sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels - part.ReflectionLossDecibels;

    private static int RaysOver(double span, double reach) => Math.Clamp((int)Math.Ceiling(span / reach * RaysPerReach), FewestRays, MostRays);

    private static int Cast(in LeafView view, FoliagePart part, LaneBlock block, LeafScatter leaf, in LeafWindow window, int across, int up, Span<LeafRay> rays)
    {
        double stepA = (window.HighA - window.LowA) / across, stepB = (window.HighB - window.LowB) / up;
        int count = 0;
        for (int j = 0; j < up; j++)
        {
            double v = Math.Tan(window.LowB + ((j + 0.5) * stepB)), areaB = stepB * (1 + (v * v));
            for (int i = 0; i < across; i++)
            {
                double u = Math.Tan(window.LowA + ((i + 0.5) * stepA)), square = 1 + (u * u) + (v * v), inverse = 1 / Math.Sqrt(square);
                var direction = new Vec3(inverse, u * inverse, v * inverse);
                if (!view.Crosses(part, direction, out double near, out double far) || !(far > NearestMetres))
                {
                    continue;
                }

                near = Math.Max(near, NearestMetres);
                double solid = stepA * (1 + (u * u)) * areaB * inverse / square;
                double weight = view.Weight(block, leaf, direction, near, out double enter);
                if (weight > 0)
                {
                    rays[count++] = new LeafRay(direction, enter, enter + far - near, weight, solid);
                }
            }
        }

        return count;
    }

    // Each ray begins to return at its entry and ends where it leaves: running sums tell what returns in between, however deep.
    private static void Fill(ReadOnlySpan<LeafRay> rays, double start, double step, double decay, Span<double> power, Span<double> square)
    {
        power.Clear();
        square.Clear();
        int last = power.Length - 1;
        foreach (ref readonly LeafRay ray in rays)
        {
            double grown = Math.Exp(Math.Min(decay * (ray.Enter - start), 2 * LargestExponent)), one = ray.Solid * ray.Weight * grown;
            double two = one * ray.Weight * grown;
            Switch(power, square, (ray.Enter - start) / step, one, two, last);
            Switch(power, square, (ray.Leave - start) / step, -one, -two, last);
        }

        double inside = 0, insideSquare = 0, fall = 1, perStep = Math.Exp(-decay * step);
        for (int i = 0; i <= last; i++)
        {
            double range = Math.Max(start + (i * step), NearestMetres), inverse = 1 / (range * range);
            inside += power[i];
            insideSquare += square[i];
            power[i] = Math.Max(0, inside) * fall * inverse * step;
            square[i] = Math.Max(0, insideSquare) * fall * fall * inverse * inverse * inverse * step;
            fall *= perStep;
        }

        // A bin reaches half a step to either side of its middle; the one in which a ray begins holds its share.
        static void Switch(Span<double> power, Span<double> square, double at, double one, double two, int last)
        {
            int bin = (int)(at + 0.5);
            if (bin >= last)
            {
                return;
            }

            double share = bin + 0.5 - at;
            power[bin] += one * share;
            power[bin + 1] += one * (1 - share);
            square[bin] += two * share;
            square[bin + 1] += two * (1 - share);
        }
    }

    private static int Hear(ReadOnlySpan<double> power, double[] burst, Span<double> heard)
    {
        // Each bin adds the burst's power from its own moment on; vectors do the inner sum.
        heard.Clear();
        for (int m = 0; m < burst.Length; m++)
        {
            TensorSum(power, burst[m], heard[m..]);
        }

        int best = 0;
        for (int i = 1; i < heard.Length; i++)
        {
            best = heard[i] > heard[best] ? i : best;
        }

        return best;

        static void TensorSum(ReadOnlySpan<double> power, double share, Span<double> to)
        {
            int i = 0;
            Vector512<double> factor = Vector512.Create(share);
            for (; i + Vector512<double>.Count <= power.Length; i += Vector512<double>.Count)
            {
                Vector512.FusedMultiplyAdd(factor, Vector512.Create(power[i..]), Vector512.Create((ReadOnlySpan<double>)to[i..])).CopyTo(to[i..]);
            }

            for (; i < power.Length; i++)
            {
                to[i] = Math.FusedMultiplyAdd(share, power[i], to[i]);
            }
        }
    }
}
