using System.Collections.Immutable;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes;

/// <summary>The backscatter of rough ground at one range.</summary>
/// <param name="RangeMetres">Slant range. [m]</param>
/// <param name="LevelDecibels">Level at the receiver. [dB re 20 µPa]</param>
public readonly record struct GroundRing(double RangeMetres, double LevelDecibels);

/// <summary>What level ground sends back: its mirror image straight below, and its roughness from every ring of equal range.</summary>
/// <remarks>
/// <para>Mirror: image source at 2h, amplitude times exp(−Γ²/2) (coherent part of a rough surface; Ogilvy 1991, from memory).</para>
/// <para>
/// Roughness: incoherent sum over the ring lit by one pulse, <c>I(r) = µ sin²ψ · r^(−4) · Δr · r · ∮ D_T² D_R² dφ · e^{−4αr}</c>, sin ψ = h/r
/// (Lambert's law; Urick, Principles of Underwater Sound, 3rd ed., ch. 8, from memory), Δr half the length of the pulse in air.
/// </para>
/// </remarks>
public sealed record GroundEcho
{
    private const int Azimuths = 48;
    private const double StepMetres = 0.05;
    private const double RimRadians = 1e-3;

    private GroundEcho(PartEcho mirror, ImmutableArray<GroundRing> rough, double? firstCrossingMetres, bool firstCrossingIsMirror)
    {
        Mirror = mirror;
        Rough = rough;
        FirstCrossingMetres = firstCrossingMetres;
        FirstCrossingIsMirror = firstCrossingIsMirror;
    }

    /// <summary>Gets the mirror echo from straight below.</summary>
    public PartEcho Mirror { get; }

    /// <summary>Gets the backscatter of the roughness against range, 50 mm apart.</summary>
    public ImmutableArray<GroundRing> Rough { get; }

    /// <summary>Gets the first range at which the ground itself is detected, or null when it is not. [m]</summary>
    public double? FirstCrossingMetres { get; }

    /// <summary>Gets whether that is the mirror echo.</summary>
    public bool FirstCrossingIsMirror { get; }

    /// <summary>Gets the largest margin of the ground over the detection threshold, and so how far the threshold would have to rise. [dB]</summary>
    public double LargestMarginDecibels { get; private init; }

    /// <summary>Gets the level where that margin is; −300 when the ground is silent. [dB re 20 µPa]</summary>
    public double StrongestLevelDecibels { get; private init; } = PartEcho.SilentDecibels;

    /// <summary>Gets the range at which that margin is; 0 when the ground is silent. [m]</summary>
    public double StrongestRangeMetres { get; private init; }

    /// <summary>Returns the echo of level ground for a sensor.</summary>
    /// <param name="sensor">The sensor; it must be above the ground to hear it.</param>
    /// <param name="ground">The surface.</param>
    /// <param name="groundHeightMetres">Height of the ground in the world. [m]</param>
    /// <param name="mirrorFreeFraction">Share of the way straight down that nothing stands in, 0 to 1: the wearer's feet and belly may hide the mirror image. [unitless]</param>
    public static GroundEcho Of(SensorAtPose sensor, Ground ground, double groundHeightMetres = 0, double mirrorFreeFraction = 1)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(ground);
        var plane = new PlanePart("ground", new Vec3(0, 0, groundHeightMetres), Vec3.UnitZ) { RoughnessRmsMetres = ground.RoughnessRmsMetres };
        PartEcho mirror = MirrorOf(sensor, plane, mirrorFreeFraction);
        ImmutableArray<GroundRing> rough = RoughRings(sensor, ground, groundHeightMetres);
        double dead = sensor.Prepared.DeadZoneMetres;
        double window = sensor.Prepared.WindowRangeMetres;
        double largest = PartEcho.SilentDecibels;
        (double Level, double Range) strongest = (PartEcho.SilentDecibels, 0);
        double? first = null;
        for (int i = 0; i < rough.Length; i++)
        {
            if (rough[i].RangeMetres < dead || rough[i].RangeMetres > window)
            {
                continue;
            }

            double margin = Margin(sensor, rough[i]);
            (largest, strongest) = margin > largest ? (margin, (rough[i].LevelDecibels, rough[i].RangeMetres)) : (largest, strongest);
            if (margin >= 0 && first is null)
            {
                double before = i > 0 && rough[i - 1].RangeMetres >= dead ? Margin(sensor, rough[i - 1]) : 0;
                double share = before < 0 ? margin / (margin - before) : 0;
                first = rough[i].RangeMetres - (share * StepMetres);
            }
        }

        bool isMirror = false;
        if (!mirror.IsSilent && mirror.RangeMetres >= dead && mirror.RangeMetres <= window)
        {
            double margin = mirror.BandLevelDecibels - sensor.Prepared.DetectionThresholdDecibels(mirror.RangeMetres);
            (largest, strongest) = margin > largest ? (margin, (mirror.BandLevelDecibels, mirror.RangeMetres)) : (largest, strongest);
            if (margin >= 0 && (first is null || mirror.RangeMetres <= first))
            {
                first = mirror.RangeMetres;
                isMirror = true;
            }
        }

        return new GroundEcho(mirror, rough, first, isMirror)
        {
            LargestMarginDecibels = largest,
            StrongestLevelDecibels = strongest.Level,
            StrongestRangeMetres = strongest.Range,
        };
    }

    // The beam models end at the face's own plane, 90° off the boresight, and no published chart goes on behind it. Straight below
    // lies just there for a level sensor, so an abrupt end would switch the floor on and off with the sway. A case or a coat round
    // the transducer lets the sound bend backwards, less the farther: the amplitude at the rim is carried on and faded, each way, by
    // 1 + cos θ, which is 1 at 90° and 0 at 180° (shape of the obliquity factor of Kirchhoff's theory; the use here is an assumption).
    private static PartEcho MirrorOf(SensorAtPose sensor, PlanePart plane, double freeFraction)
    {
        double up = sensor.Boresight.Z;
        double fade = 1 - Math.Max(0, up);
        double kept = Decibels.FromAmplitudeRatio(fade * fade * freeFraction * freeFraction);
        if (!(kept > PartEcho.SilentDecibels))
        {
            return PartEchoes.Evaluate(sensor, plane) with { BandLevelDecibels = PartEcho.SilentDecibels, CentreLevelDecibels = PartEcho.SilentDecibels };
        }

        PartEcho echo = PartEchoes.Evaluate(up > -RimRadians ? JustBelowLevel(sensor) : sensor, plane);
        return echo.IsSilent ? echo : echo with
        {
            BandLevelDecibels = Math.Max(PartEcho.SilentDecibels, echo.BandLevelDecibels + kept),
            CentreLevelDecibels = Math.Max(PartEcho.SilentDecibels, echo.CentreLevelDecibels + kept),
        };
    }

    // The same sensor about its own middle, its boresight brought down to where straight below is still just in front of the face.
    private static SensorAtPose JustBelowLevel(SensorAtPose sensor)
    {
        Vec3 boresight = sensor.Boresight;
        var azimuth = Angle.FromRadians(Math.Atan2(boresight.Y, boresight.X));
        var lower = Angle.FromRadians(Math.Asin(Math.Clamp(boresight.Z, -1, 1)) + RimRadians);
        Rotation turn = Rotation.AboutZ(azimuth) * Rotation.AboutY(lower) * Rotation.AboutZ(-azimuth);
        return sensor.TurnedAboutMiddle(turn);
    }

    private static double Margin(SensorAtPose sensor, GroundRing ring) =>
        ring.LevelDecibels - sensor.Prepared.DetectionThresholdDecibels(ring.RangeMetres);

    private static ImmutableArray<GroundRing> RoughRings(SensorAtPose sensor, Ground ground, double groundHeight)
    {
        Vec3 middle = sensor.MidpointMetres;
        double height = middle.Z - groundHeight;
        double window = sensor.Prepared.WindowRangeMetres;
        if (!(height > 1e-3) || height >= window)
        {
            return [];
        }

        LaneBlock block = sensor.Prepared.Band;
        double pulse = 0.5 * sensor.Prepared.Spectrum.PulseLengthSeconds * sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        double lambert = Decibels.ToPowerRatio(ground.LambertDecibels);
        double constant = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels;
        int count = (int)((window - height) / StepMetres);
        var rings = ImmutableArray.CreateBuilder<GroundRing>(count);

        // Azimuths counted from the boresight, in mirrored pairs: turning or mirroring the world turns or mirrors the samples.
        double facing = Math.Atan2(sensor.Boresight.Y, sensor.Boresight.X);
        Span<double> cosines = stackalloc double[Azimuths];
        Span<double> sines = stackalloc double[Azimuths];
        for (int j = 0; j < Azimuths; j++)
        {
            (sines[j], cosines[j]) = Math.SinCos(facing + ((j + 0.5) * 2 * Math.PI / Azimuths));
        }

        Vec3 toTransmitter = sensor.TransmitterMetres - middle;
        for (int i = 1; i <= count; i++)
        {
            double r = height + (i * StepMetres);
            double level = Math.Sqrt((r * r) - (height * height));
            Vector512<double> ring = Vector512<double>.Zero;
            for (int j = 0; j < Azimuths; j++)
            {
                var down = new Vec3(level * cosines[j], level * sines[j], -height);
                Vec3 outward = down - toTransmitter;
                Vec3 back = down + toTransmitter;
                Vector512<double> beams = block.Transmit.At(outward, 1 / outward.Length, sensor.Axes) * block.Receive.At(back, 1 / back.Length, sensor.Axes);
                ring = Vector512.FusedMultiplyAdd(beams, beams, ring);
            }

            ring *= Vector512.Exp(block.AbsorptionNepersPerMetre * (-4 * r));
            double lit = Math.Min(pulse, r - height);
            double mean = Vector512.Sum(ring * block.PowerWeights) * (2 * Math.PI / Azimuths);
            double power = lambert * (height / r) * (height / r) * lit * mean / (r * r * r);
            rings.Add(new GroundRing(r, power > 0 ? Math.Max(constant + (10 * Math.Log10(power)), PartEcho.SilentDecibels) : PartEcho.SilentDecibels));
        }

        return rings.ToImmutable();
    }
}
